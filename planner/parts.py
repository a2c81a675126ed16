"""The parts of a problem: steps, people, stations, links, holds and orders, as values that cannot be wrong.

All times are whole elapsed minutes since the problem's origin; all intervals are half-open.
Each value checks itself once when it is built; code below never checks again.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, fields
from enum import StrEnum
from functools import cached_property
from typing import Any

from planner.errors import ProblemError

Interval = tuple[int, int]
Wait = tuple[int, int | None]


class Need(StrEnum):
    """Who a segment ties down: a pair of hands, anybody within earshot, or nobody."""

    HANDS = "hands"
    WATCH = "watch"
    ALONE = "alone"


def joined(intervals: Iterable[Interval]) -> tuple[Interval, ...]:
    """Intervals in order, with those that touch or overlap made one."""
    whole: list[Interval] = []
    for opens, closes in sorted(intervals):
        if whole and opens <= whole[-1][1]:
            whole[-1] = (whole[-1][0], max(closes, whole[-1][1]))
        else:
            whole.append((opens, closes))
    return tuple(whole)


@dataclass(frozen=True, slots=True)
class Segment:
    """A stretch of a step, worked right after the one before it."""

    minutes: int
    need: Need

    def __post_init__(self) -> None:
        if self.minutes < 1:
            raise ProblemError(f"a segment takes at least 1 minute, not {self.minutes}")


@dataclass(frozen=True)
class Person:
    """Somebody with skills, and the hours in which they work."""

    id: str
    skills: frozenset[str]
    hours: tuple[Interval, ...]

    def __post_init__(self) -> None:
        _check_intervals(self.hours, f"people {self.id}: hours")

    @cached_property
    def openings(self) -> tuple[Interval, ...]:
        """The hours with those that touch made one."""
        return joined(self.hours)


@dataclass(frozen=True)
class Station:
    """A place with room for `capacity` loads at once; one with room for a single load may have states (a bit)."""

    id: str
    capacity: int = 1
    hours: tuple[Interval, ...] | None = None
    start_state: str | None = None
    changeovers: Mapping[tuple[str, str], int] = field(default_factory=dict, hash=False)
    changeover_default: int = 0

    def __post_init__(self) -> None:
        where = f"stations {self.id}"
        if self.capacity < 1:
            raise ProblemError(f"{where}: capacity is at least 1, not {self.capacity}")
        if self.hours is not None:
            _check_intervals(self.hours, f"{where}: hours")
        if self.capacity > 1 and (self.start_state is not None or self.changeovers or self.changeover_default):
            raise ProblemError(f"{where}: only a station of capacity 1 can have states and changeovers")
        if self.changeover_default < 0 or any(minutes < 0 for minutes in self.changeovers.values()):
            raise ProblemError(f"{where}: a changeover takes 0 minutes or more")

    @cached_property
    def openings(self) -> tuple[Interval, ...] | None:
        """The hours with those that touch made one; None for always."""
        return None if self.hours is None else joined(self.hours)

    @property
    def has_states(self) -> bool:
        """Whether anything can be set up on it."""
        return self.start_state is not None or bool(self.changeovers) or self.changeover_default > 0

    def changeover_minutes(self, before: str | None, after: str | None) -> int:
        """Minutes to set the station up for `after` when it stands at `before`; none where either is open."""
        if before is None or after is None or before == after:
            return 0
        return self.changeovers.get((before, after), self.changeover_default)


@dataclass(frozen=True, slots=True)
class StationNeed:
    """One station out of `any_of`, occupied by `load` for the whole step."""

    any_of: tuple[str, ...]
    load: int = 1

    def __post_init__(self) -> None:
        if not self.any_of:
            raise ProblemError("any_of names at least one station")
        if self.load < 1:
            raise ProblemError(f"load is at least 1, not {self.load}")


@dataclass(frozen=True, slots=True)
class Begun:
    """Where and when a step really began: it stays exactly there."""

    start: int
    person: str | None
    stations: tuple[str, ...]


@dataclass(frozen=True)
class Step:
    """One job at one place: its segments, whose hands, which stations."""

    id: str
    segments: tuple[Segment, ...]
    skill: str | None = None
    stations: tuple[StationNeed, ...] = ()
    state_in: str | None = None
    state_out: str | None = None
    release: int | None = None
    begun: Begun | None = None
    about: Mapping[str, Any] = field(default_factory=dict, compare=False)

    def __post_init__(self) -> None:
        if not self.segments:
            raise ProblemError(f"steps {self.id}: segments has at least one entry")
        if self.skill is None and any(segment.need is Need.HANDS for segment in self.segments):
            raise ProblemError(f"steps {self.id}: a step with hands segments names a skill")
        if self.begun and len(self.begun.stations) != len(self.stations):
            raise ProblemError(f"steps {self.id}: begun names one station for each of the step's stations")

    @cached_property
    def minutes(self) -> int:
        """From the first segment's start to the last one's end."""
        return sum(segment.minutes for segment in self.segments)

    @property
    def leaves_state(self) -> str | None:
        """What is set up on its station when it ends; None leaves the station as it was."""
        return self.state_in if self.state_out is None else self.state_out


@dataclass(frozen=True, slots=True)
class Link:
    """A wait between two steps: start(after) - end(before) lies in one of the allowed waits.

    `margin` is for people: so many minutes after `max_wait` the window really shuts.
    """

    before: str
    after: str
    min_wait: int = 0
    max_wait: int | None = None
    also: tuple[Wait, ...] = ()
    margin: int = field(default=0, compare=False)

    def __post_init__(self) -> None:
        for least, most in self.waits:
            if least < 0 or (most is not None and most < least):
                raise ProblemError(f"links {self.before} -> {self.after}: a wait from {least} to {most} is no window")

    @property
    def waits(self) -> tuple[Wait, ...]:
        """All allowed waits, earliest first."""
        return tuple(sorted(((self.min_wait, self.max_wait), *self.also), key=lambda wait: wait[0]))


@dataclass(frozen=True, slots=True)
class Hold:
    """`load` of a station kept occupied from the start of `first` until the end of `last`."""

    station: str
    load: int
    first: str
    last: str

    def __post_init__(self) -> None:
        if self.load < 1:
            raise ProblemError(f"holds {self.first} -> {self.last}: load is at least 1, not {self.load}")


@dataclass(frozen=True)
class Order:
    """Steps that must all have ended by `due`; `hard` where lateness makes it worthless."""

    id: str
    steps: tuple[str, ...]
    due: int
    weight: float = 1.0
    hard: bool = False

    def __post_init__(self) -> None:
        if not self.steps:
            raise ProblemError(f"orders {self.id}: steps names at least one step")
        if not self.weight >= 0 or self.weight == float("inf"):
            raise ProblemError(f"orders {self.id}: weight is 0 or more, not {self.weight}")


@dataclass(frozen=True, slots=True)
class Prices:
    """What each bad thing costs; hours where hours are named."""

    missed_hard: float = 0.0
    late_hour: float = 0.0
    missed_window_hour: float = 0.0
    changeover_minute: float = 0.0
    finish_hour: float = 0.0
    makespan_hour: float = 0.0
    unplaced: float = 100_000.0

    def __post_init__(self) -> None:
        for price in fields(self):
            if not 0 <= getattr(self, price.name) < float("inf"):
                raise ProblemError(f"cost: {price.name} is 0 or more, not {getattr(self, price.name)}")


def _check_intervals(intervals: tuple[Interval, ...], where: str) -> None:
    last_close = None
    for opens, closes in intervals:
        if closes == opens:
            raise ProblemError(f"{where}: [{opens}, {closes}] has no length")
        if closes < opens:
            raise ProblemError(f"{where}: [{opens}, {closes}] closes before it opens")
        if last_close is not None and opens < last_close:
            raise ProblemError(f"{where}: [{opens}, {closes}] overlaps or precedes the interval before it")
        last_close = closes
