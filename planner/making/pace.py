"""How fast the workshop goes: the longest stretch of work it usually has, and elapsed time for minutes of work."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import ceil

from planner.making.pieces import Floor
from planner.parts import Interval, Station, joined

WEEK = 7 * 24 * 60
WEEKS_AHEAD = 4
NO_LIMIT = WEEK
ONE_IN = 5
"""A stretch is usual if at least one in five is as long: a long Saturday a week doesn't make a long load sensible."""


@dataclass(frozen=True, eq=False)
class Pace:
    """The floor at one instant, with what its hours mean for batches."""

    floor: Floor
    now: int
    _usual: dict[tuple[str, str | None], int] = field(default_factory=dict)

    @cached_property
    def elapsed_a_minute(self) -> float:
        """Elapsed minutes in which the workshop gets one minute of its opening."""
        week = (self.now, self.now + WEEK)
        opened = sum(closes - opens for opens, closes in _overlaps(self._opened, (week,)))
        return WEEK / opened if opened else 1.0

    def elapsed(self, minutes: float) -> int:
        """About how long so many minutes of work take by the calendar."""
        return ceil(minutes * self.elapsed_a_minute)

    def usual_stretch(self, skill: str, role: str | None = None) -> int:
        """The longest stretch in which somebody with the skill usually works and a station of the role is open."""
        key = (skill, role)
        if key not in self._usual:
            self._usual[key] = self._longest_usual(skill, role)
        return self._usual[key]

    def station(self, role: str) -> Station | None:
        """The roomiest station of a role; None where there is none."""
        stations = [station for station in self.floor.stations if station.id in self.floor.roles.get(role, ())]
        return max(stations, key=lambda station: station.capacity, default=None)

    @property
    def _opened(self) -> tuple[Interval, ...]:
        return joined(interval for person in self.floor.people for interval in person.hours)

    def _longest_usual(self, skill: str, role: str | None) -> int:
        ahead = ((self.now, self.now + WEEKS_AHEAD * WEEK),)
        station = self.station(role) if role else None
        opened = ahead if station is None or station.hours is None else _overlaps(station.hours, ahead)
        able = [person for person in self.floor.people if skill in person.skills]
        return max((_usual(_overlaps(joined(person.hours), opened)) for person in able), default=0) or NO_LIMIT


def _usual(intervals: Sequence[Interval]) -> int:
    lengths = sorted((closes - opens for opens, closes in intervals), reverse=True)
    return lengths[len(lengths) // ONE_IN] if lengths else 0


def _overlaps(some: Iterable[Interval], others: Sequence[Interval]) -> tuple[Interval, ...]:
    pairs = ((max(a, c), min(b, d)) for a, b in some for c, d in others)
    return tuple(pair for pair in pairs if pair[0] < pair[1])
