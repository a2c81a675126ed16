"""How late one promise must be because its own steps share people and places.

The first of all heads, the sum of the work, the least of all tails: the bound of Carlier (1982), "The one-machine
sequencing problem", with the minutes of a calendar, and of several who share the work, in place of one machine's.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.search.bound.buying import Ints, Numbers


@dataclass(frozen=True, slots=True)
class Work:
    """Minutes of one of the givers (rows of the supply), not before `head`, and `tail` minutes before the end."""

    givers: frozenset[int]
    minutes: float
    head: int
    tail: int


def crowded_end(works: list[Work], supply: Numbers, bounds: Ints) -> int:
    """The promise ends no earlier: any givers that all of some works need have to find the minutes for all of them."""
    ends = [_end_of([work for work in works if work.givers <= pool], pool, supply, bounds) for pool in _pools(works)]
    return max(ends, default=0)


def _pools(works: list[Work]) -> set[frozenset[int]]:
    return {work.givers for work in works}


def _end_of(works: list[Work], pool: frozenset[int], supply: Numbers, bounds: Ints) -> int:
    head, tail = min(work.head for work in works), min(work.tail for work in works)
    given = np.concatenate([[0.0], np.cumsum(supply[sorted(pool)].sum(axis=0)[:-1])])
    before = given[np.searchsorted(bounds, head, side="right") - 1]  # all of the head's stretch may come after it
    until = before + sum(work.minutes for work in works) - 1e-6
    if until <= before:  # less work than can be told from none
        return head + tail
    if until > given[-1]:
        return int(bounds[-1]) + tail
    place = int(np.searchsorted(given, until))
    return int(bounds[place - 1] + np.ceil((until - given[place - 1]) / len(pool))) + tail
