"""What would become of every row: a dry run writes nothing and says it all."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from zoneinfo import ZoneInfo

from shop.orders.importing.columns import Matching, check
from shop.orders.importing.orders import differences, draft_of
from shop.orders.importing.rows import Row, RowReader, Trouble
from shop.orders.importing.sheet import Sheet
from shop.orders.models import Order
from shop.orders.services import Draft
from shop.words import counted


class Fate(StrEnum):
    """What becomes of a row."""

    NEW = "new"
    SAME_ORDER = "same order"
    HERE = "already here"
    OTHER_CONTENTS = "already here with other contents"
    BAD = "bad"
    HELD_BACK = "held back"


@dataclass(frozen=True)
class Told:
    """A row, its fate, and what there is to say of it."""

    row: Row
    fate: Fate
    says: str = ""

    def __str__(self) -> str:
        head = f"row {self.row.number}, {self.row.reference or 'no reference'}: {self.fate}"
        return f"{head}; {self.says}" if self.says else head


@dataclass(frozen=True)
class DryRun:
    """The fate of every row, and the orders that would be written down."""

    rows: list[Told]
    drafts: list[Draft]

    @property
    def troubles(self) -> list[Trouble]:
        return [trouble for told in self.rows for trouble in told.row.troubles]

    def count(self, *fates: Fate) -> int:
        return sum(told.fate in fates for told in self.rows)

    @property
    def bad_rows(self) -> int:
        return self.count(Fate.BAD)

    @property
    def summary(self) -> str:
        """One line: how many orders are new, and how many rows of each other fate."""
        counts = Counter(told.fate for told in self.rows)
        rows = counts[Fate.NEW] + counts[Fate.SAME_ORDER]
        parts = [f"{counted(len(self.drafts), 'new order')} in {counted(rows, 'row')}"]
        others = (Fate.HERE, Fate.OTHER_CONTENTS, Fate.BAD, Fate.HELD_BACK)
        parts += [f"{counted(counts[fate], 'row')} {fate}" for fate in others if counts[fate]]
        return ", ".join(parts)


def dry_run(sheet: Sheet, matching: Matching, *, at: datetime, zone: ZoneInfo) -> DryRun:
    """Say every row's fate. `at` is when an order without a `placed` counts as placed."""
    check(matching, sheet.header)
    reader = RowReader(sheet.header, matching, zone)
    orders = _by_reference([reader.read(number, cells) for number, cells in sheet.rows])
    there = _already_here(list(orders))
    told: list[Told] = []
    drafts: list[Draft] = []
    for reference, rows in orders.items():
        draft = draft_of(rows, at=at) if reference else None
        told += _fates(rows, draft, there.get(reference))
        if draft and reference not in there:
            drafts.append(draft)
    return DryRun(sorted(told, key=lambda each: each.row.number), drafts)


def _by_reference(rows: Sequence[Row]) -> dict[str, list[Row]]:
    orders: dict[str, list[Row]] = {}
    for row in rows:
        orders.setdefault(row.reference, []).append(row)
    return orders


def _already_here(references: Sequence[str]) -> Mapping[str, Order]:
    found = Order.objects.filter(reference__in=references).with_names()
    return {order.reference: order for order in found}


def _fates(rows: Sequence[Row], draft: Draft | None, there: Order | None) -> list[Told]:
    if draft is None:
        return _bad_order(rows)
    if there:
        differ = differences(there, draft, rows)
        fate = Fate.OTHER_CONTENTS if differ else Fate.HERE
        return [Told(row, fate, f"{', '.join(differ)}; not changed" if differ else "") for row in rows]
    first, *rest = rows
    return [Told(first, Fate.NEW, _remarks(first)), *(_joining(row, first) for row in rest)]


def _joining(row: Row, first: Row) -> Told:
    return Told(row, Fate.SAME_ORDER, "; ".join(filter(None, [f"with row {first.number}", _remarks(row)])))


def _bad_order(rows: Sequence[Row]) -> list[Told]:
    bad = ", ".join(str(row.number) for row in rows if row.troubles)
    return [
        Told(row, Fate.BAD, "; ".join(map(str, row.troubles)))
        if row.troubles
        else Told(row, Fate.HELD_BACK, f"row {bad} of the same order is bad")
        for row in rows
    ]


def _remarks(row: Row) -> str:
    return "; ".join(row.remarks)
