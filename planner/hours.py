"""When somebody works: weekly hours by the clock on the wall, as elapsed minutes."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from datetime import UTC, date, datetime, time, timedelta
from math import ceil
from zoneinfo import ZoneInfo

from planner.parts import Interval, joined

Weekly = tuple[int, time, time]
"""Weekday (Monday is 0), opens, closes. A stretch that closes at or before its opening closes on the next day."""

_MINUTE = timedelta(minutes=1)


def open_intervals(
    weekly: Iterable[Weekly], off: Collection[date], zone: ZoneInfo, origin: datetime, first_day: date, days: int
) -> tuple[Interval, ...]:
    """The hours of `days` days from `first_day` on, as sorted, disjoint minutes since `origin`; none on days `off`.

    Days are counted first and only then is the clock on the wall read, so that 8:00 stays 8:00 over a clock change.
    A time that the clock skips is read with the offset before the gap, one that it shows twice is the first of the two
    (RFC 5545, 3.3.5). `origin` is aware. A closing time of 23:59 and some seconds means midnight.
    """
    hours = sorted(weekly)
    working = (first_day + timedelta(days=n) for n in range(days))
    stretches = (
        (_minute(day, opens, zone, origin), _closing(day, opens, closes, zone, origin))
        for day in working
        if day not in off
        for weekday, opens, closes in hours
        if weekday == day.weekday()
    )
    return joined(_that_last(stretches))


def _closing(day: date, opens: time, closes: time, zone: ZoneInfo, origin: datetime) -> int:
    return _minute(day if closes > opens else day + timedelta(days=1), closes, zone, origin)


def _minute(day: date, wall: time, zone: ZoneInfo, origin: datetime) -> int:
    """The first whole minute not before that time on the wall."""
    at = datetime.combine(day, wall, tzinfo=zone)
    return ceil((at.astimezone(UTC) - origin.astimezone(UTC)) / _MINUTE)


def _that_last(stretches: Iterable[Interval]) -> Iterator[Interval]:
    """Without those that a clock change swallows whole."""
    return ((opens, closes) for opens, closes in stretches if opens < closes)
