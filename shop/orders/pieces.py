"""How far each piece of an order is, read through the order's own lines."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from shop.orders.models import Line, Order
from shop.words import clock, day_name

PACKED = "pack"


@dataclass(frozen=True)
class PieceState:
    """A piece and what a person says of it."""

    number: int
    says: str
    is_ready: bool = False


def pieces_of(order: Order) -> dict[int, list[PieceState]]:
    """By line. Two queries, however many pieces."""
    starts = dict(
        Line.objects.filter(order=order, pieces__steps__planned__plan__is_in_force=True).values_list(
            "pieces__steps", "pieces__steps__planned__starts_at"
        )
    )
    found: dict[int, list[PieceState]] = defaultdict(list)
    for (line, _), steps in sorted(_steps_by_piece(order).items()):
        found[line].append(_state(steps, starts))
    return dict(found)


def _steps_by_piece(order: Order) -> dict[tuple[int, int], list[dict[str, Any]]]:
    """A piece without a step yet stands there with one row of nothing."""
    rows = Line.objects.filter(order=order, pieces__isnull=False).values(
        "pk",
        "pieces",
        "pieces__number",
        "pieces__spoilt_at",
        "pieces__spoilt_why",
        "pieces__steps",
        "pieces__steps__kind",
        "pieces__steps__what",
        "pieces__steps__dropped_at",
        "pieces__steps__begun_at",
        "pieces__steps__tick__at",
    )
    pieces: dict[tuple[int, int], list[dict[str, Any]]] = defaultdict(list)
    for row in rows:
        pieces[row["pk"], row["pieces"]].append(row)
    return pieces


def _state(steps: Sequence[dict[str, Any]], starts: dict[int, datetime | None]) -> PieceState:
    number, spoilt = steps[0]["pieces__number"], steps[0]["pieces__spoilt_at"]
    if spoilt:
        return PieceState(number, f"spoilt, made again: {steps[0]['pieces__spoilt_why']}")
    if any(step["pieces__steps__kind"] == PACKED and step["pieces__steps__tick__at"] for step in steps):
        return PieceState(number, "packed", is_ready=True)
    left = [step for step in steps if _is_wanted(step)]
    if going := [step for step in left if step["pieces__steps__begun_at"]]:
        return PieceState(number, f"under way: {going[0]['pieces__steps__what']}")
    if not left:
        return PieceState(number, "waits for the next plan")
    return PieceState(number, _next(left, starts))


def _is_wanted(step: dict[str, Any]) -> bool:
    """A step that a plan wants, or somebody began, and nobody has ticked."""
    is_dropped = step["pieces__steps__dropped_at"] and not step["pieces__steps__begun_at"]
    return step["pieces__steps"] is not None and not is_dropped and not step["pieces__steps__tick__at"]


def _next(left: Sequence[dict[str, Any]], starts: dict[int, datetime | None]) -> str:
    placed = [(start, step) for step in left if (start := starts.get(step["pieces__steps"]))]
    if not placed:
        return f"{left[0]['pieces__steps__what']}: no start is planned"
    start, step = min(placed, key=lambda each: each[0])
    return f"next, {day_name(start)} {clock(start)}: {step['pieces__steps__what']}"
