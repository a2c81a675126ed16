"""How far each piece of an order is, read through the order's own lines."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import F, Max, Q
from django.utils.timezone import localdate

from planner import cured_on
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
    planned = _planned(order)
    found: dict[int, list[PieceState]] = defaultdict(list)
    for (line, _), steps in sorted(_steps_by_piece(order).items()):
        found[line].append(_state(steps, planned))
    return dict(found)


def food_safe_from(order: Order) -> dict[int, date]:
    """By line, the day from which all its pieces may meet food: their finish's cure after the last coat, as it was put
    on or is planned. A line whose last coat has no day yet is not in it."""
    oiled = Q(pieces__steps__stage__startswith="oil", pieces__spoilt_at=None, pieces__steps__dropped_at=None)
    in_force = Q(pieces__steps__planned__plan__is_in_force=True)
    lines = Line.objects.filter(order=order, design__finish__isnull=False).annotate(
        done=Max("pieces__steps__tick__at", filter=oiled),
        planned=Max("pieces__steps__planned__ends_at", filter=oiled & in_force),
        cure_days=F("design__finish__cure_days"),
    )
    last = {line.pk: max((at for at in (line.done, line.planned) if at), default=None) for line in lines}
    return {line.pk: cured_on(localdate(last[line.pk]), line.cure_days) for line in lines if last[line.pk]}


def _planned(order: Order) -> dict[int, dict[str, Any]]:
    """By step, in the order of the plan in force."""
    in_force = Line.objects.filter(order=order, pieces__steps__planned__plan__is_in_force=True)
    rows = in_force.order_by("pieces__steps__planned__pk").values(
        step=F("pieces__steps"), starts_at=F("pieces__steps__planned__starts_at"), why=F("pieces__steps__planned__why")
    )
    return {row["step"]: row for row in rows}


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


def _state(steps: Sequence[dict[str, Any]], planned: dict[int, dict[str, Any]]) -> PieceState:
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
    return PieceState(number, _next(left, planned))


def _is_wanted(step: dict[str, Any]) -> bool:
    """A step that a plan wants, or somebody began, and nobody has ticked."""
    is_dropped = step["pieces__steps__dropped_at"] and not step["pieces__steps__begun_at"]
    return step["pieces__steps"] is not None and not is_dropped and not step["pieces__steps__tick__at"]


def _next(left: Sequence[dict[str, Any]], planned: dict[int, dict[str, Any]]) -> str:
    """The next step with its time; where none is placed the first, with what keeps it out of the plan."""
    by_step = {step["pieces__steps"]: step for step in left}
    rows = [row for row in planned.values() if row["step"] in by_step]
    placed = [row for row in rows if row["starts_at"]]
    if placed:
        first = min(placed, key=lambda row: row["starts_at"])
        start = first["starts_at"]
        return f"next, {day_name(start)} {clock(start)}: {by_step[first['step']]['pieces__steps__what']}"
    if rows:
        return f"{by_step[rows[0]['step']]['pieces__steps__what']}: {rows[0]['why'] or 'no start is planned'}"
    return f"{left[0]['pieces__steps__what']}: no start is planned"
