"""The day laid out as a table of hours: instants down the margin, each column cut where something begins or ends."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Any

MINUTE = timedelta(minutes=1)
HEIGHTS = (5, 10, 20, 40, 60, 120)
"""A row is as tall as its minutes, in these steps, so that an hour with nothing in it is not a page long."""


@dataclass(frozen=True)
class Span:
    """Something that takes up a column from one instant to another."""

    starts_at: datetime
    ends_at: datetime
    what: Any


@dataclass(frozen=True)
class Cell:
    """A field of the table, so many rows tall; `what` is None where nothing stands."""

    column: Any
    rows: int
    what: Any = None


@dataclass
class Row:
    """From one instant to the next."""

    starts_at: datetime
    minutes: int
    is_hour: bool = False
    is_now: bool = False
    cells: list[Cell] = field(default_factory=list)

    @property
    def height(self) -> int:
        """The least of HEIGHTS that holds its minutes."""
        return next((height for height in HEIGHTS if self.minutes <= height), HEIGHTS[-1])


def lay_out(
    columns: Sequence[tuple[Any, Iterable[Span]]], hours: Iterable[datetime], now: datetime | None
) -> list[Row]:
    """Rows of cells for these columns. The spans of one must not overlap: see `one_after_another`.

    `hours` are the full hours of the margin, first to last the bounds of the table; what lies outside is cut off.
    """
    hours = list(hours)
    first, last = hours[0], hours[-1]
    clipped = [(column, list(_clipped(spans, first, last))) for column, spans in columns]
    instants = {at for _, spans in clipped for span in spans for at in (span.starts_at, span.ends_at)} | set(hours)
    if now and first <= now < last:
        instants.add(now)
    rows = [
        Row(start, round((end - start) / MINUTE), is_hour=start in hours, is_now=start == now)
        for start, end in pairwise(sorted(instants))
    ]
    for column, spans in clipped:
        _fill(rows, column, spans)
    return rows


def one_after_another(spans: Iterable[Span]) -> list[Span]:
    """The spans of one column moved down just so far that none overlaps another.

    Two pairs of times overlap where work slipped and no new plan is in force yet; the words keep the planned time.
    """
    placed: list[Span] = []
    for span in sorted(spans, key=lambda span: span.starts_at):
        start = max(span.starts_at, placed[-1].ends_at) if placed else span.starts_at
        placed.append(Span(start, max(span.ends_at, start + MINUTE), span.what))
    return placed


def _clipped(spans: Iterable[Span], first: datetime, last: datetime) -> Iterable[Span]:
    for span in spans:
        if span.starts_at < last and span.ends_at > first:
            yield Span(max(span.starts_at, first), min(span.ends_at, last), span.what)


def _fill(rows: list[Row], column: Any, spans: Sequence[Span]) -> None:
    """Put a column's cells into the rows they begin in, with one empty cell for each gap between."""
    instants = [row.starts_at for row in rows]
    place = 0
    for span in spans:
        start, end = bisect_left(instants, span.starts_at), bisect_left(instants, span.ends_at)
        if start > place:
            rows[place].cells.append(Cell(column, start - place))
        rows[start].cells.append(Cell(column, end - start, span.what))
        place = end
    if place < len(rows):
        rows[place].cells.append(Cell(column, len(rows) - place))
