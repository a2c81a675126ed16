"""The rows of one reference to one order, and whether an order that is here already says the same."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from shop.orders.importing.rows import OF_THE_ORDER, Row
from shop.orders.models import Line, Order
from shop.orders.services import Draft


def draft_of(rows: Sequence[Row], *, at: datetime) -> Draft | None:
    """The order that these rows state, or none where a row is bad, be it only for what another row says."""
    facts = _agreed(rows)
    _ask_for_what_is_missing(facts, rows[0])
    if any(row.troubles for row in rows):
        return None
    fair = facts.get("fair")
    for_a_fair = facts["channel"] == Order.Channel.FAIR
    order = Order(
        reference=rows[0].reference,
        placed_at=facts.get("placed", at),
        channel=facts["channel"],
        fair=fair,
        due_at=facts.get("due") or fair.opens_at,
        is_hard=facts.get("hard", for_a_fair),
        note=_notes(rows),
    )
    if order.due_at < at:
        rows[0].remarks.append("due in the past")
    return Draft(order, [row.line for row in rows], facts.get("customer", ""))


def differences(there: Order, draft: Draft, rows: Sequence[Row]) -> list[str]:
    """What the file states otherwise than the order here; a cell left empty states nothing."""
    given = {column for row in rows for column in row.found}
    new = draft.order
    pairs: dict[str, tuple[Any, Any]] = {
        "placed": (there.placed_at, new.placed_at),
        "channel": (there.channel, new.channel),
        "fair": (there.fair_id, new.fair_id),
        "customer": (str(there.customer or "").casefold(), draft.customer.casefold()),
        "due": (there.due_at, new.due_at),
        "hard": (there.is_hard, new.is_hard),
        "note": (there.note, new.note),
    }
    differ = [f"another {column}" for column, (old, said) in pairs.items() if column in given and old != said]
    stated = {column for column in ("text", "price") if all(column in row.found for row in rows)}
    if _contents(there.lines.all(), stated) != _contents(draft.lines, stated):
        differ.append("other lines")
    return differ


def _agreed(rows: Sequence[Row]) -> dict[str, Any]:
    """The facts of the order; a row that contradicts an earlier one is bad."""
    facts: dict[str, Any] = {}
    said_in: dict[str, Row] = {}
    for row in rows:
        for column in OF_THE_ORDER:
            if column not in row.found:
                continue
            first = said_in.setdefault(column, row)
            if facts.setdefault(column, row.found[column]) != row.found[column]:
                row.blame(column, f'row {first.number} of the same order says "{first.cells[column]}"')
    return facts


def _ask_for_what_is_missing(facts: dict[str, Any], first: Row) -> None:
    """Only of cells that are empty: one that couldn't be read has been blamed already."""
    if not first.cells.get("channel") and "channel" not in facts:
        first.blame("channel", f"this can't be empty; it is {', '.join(Order.Channel.values)}")
    needs_fair = facts.get("channel") == Order.Channel.FAIR
    if needs_fair and "fair" not in facts and not first.cells.get("fair"):
        first.blame("fair", "an order for a fair names its fair")
    if not needs_fair and "channel" in facts and "due" not in facts and not first.cells.get("due"):
        first.blame("due", "when is it due? write it like 2026-12-05")


def _notes(rows: Sequence[Row]) -> str:
    """Each note once, in the order of the rows."""
    return "\n".join(dict.fromkeys(row.found["note"] for row in rows if "note" in row.found))


def _contents(lines: Sequence[Line], stated: set[str]) -> list[tuple[str, ...]]:
    """The lines as they may be compared, in whatever order they stand."""
    return sorted(
        (
            str(line.design_id),
            str(line.species_id),
            str(line.quantity),
            line.text if "text" in stated else "",
            f"{line.price:.2f}" if "price" in stated else "",
        )
        for line in lines
    )
