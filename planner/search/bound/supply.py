"""The minutes that people and stations have to give, stretch of time by stretch of time."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from planner.problem import Station
from planner.search.bound.buying import Numbers
from planner.search.bound.domains import Domains
from planner.search.bound.finishes import Minutes, flags
from planner.search.facts import Facts

SHORTEST, LONGEST = 30, 240  # minutes of a stretch
GROWTH = 10  # a stretch that begins in an hour lasts six minutes longer than one that begins now

PERSON, STATION = "person", "station"
Giver = tuple[str, str]


def person(name: str) -> Giver:
    return (PERSON, name)


def station(name: str) -> Giver:
    return (STATION, name)


def stretches(facts: Facts, far: int, most: int) -> Minutes:
    """The first minutes of about `most` stretches up to `far`; where there are so few, hours begin and end with one."""
    hours = {edge - facts.now for each in facts.problem.people for opening in each.openings for edge in opening}
    edges = sorted({0, far, *(edge for edge in hours if 0 < edge < far)})
    bounds = [bound for opens, closes in pairwise(edges) for bound in _cut(opens, closes)]
    return np.array([*bounds[:: 1 + len(bounds) // most], far], np.int64)


def _cut(opens: int, closes: int) -> Iterator[int]:
    """The further away, the longer."""
    while opens < closes:
        yield opens
        opens += min(LONGEST, SHORTEST + opens // GROWTH)


class Supply:
    """`minutes[row[giver], stretch]` for each person and station; what the last stretch has is not counted."""

    def __init__(self, domains: Domains, bounds: Minutes) -> None:
        self.domains, self.bounds = domains, bounds
        found = dict(self._all())
        self.row = {giver: row for row, giver in enumerate(found)}
        self.minutes = np.array([np.append(minutes, 0.0) for minutes in found.values()]).reshape(-1, len(bounds))

    def _all(self) -> Iterator[tuple[Giver, Numbers]]:
        for each in self.domains.facts.problem.people:
            yield person(each.id), self._per_stretch(self.domains.books.free[each.id])
        for place in self.domains.facts.problem.stations:
            yield station(place.id), self._of(place)

    def _of(self, place: Station) -> Numbers:
        """Open minutes; begun work counts only where it leaves no room at all."""
        room = self.domains.books.rooms[place.id]
        return self._per_stretch(room.free(self.domains.facts.now, int(self.bounds[-1]), 1))

    def _per_stretch(self, bits: int) -> Numbers:
        sums = np.concatenate([[0], np.cumsum(flags(bits, int(self.bounds[-1])), dtype=np.int64)])
        return np.diff(sums[self.bounds]).astype(float)

    def capacity_of(self, giver: Giver) -> int:
        """How much load fits in at once; everybody has one pair of hands."""
        kind, name = giver
        return 1 if kind == PERSON else self.domains.facts.problem.station[name].capacity
