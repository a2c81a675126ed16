"""Iterated local search over the sequence of one station: descend, shake, descend again, keep what is not worse.

Blocks are moved and steps swapped as by Subramanian and Farias (2017, single machine, set-ups, weighted tardiness).
All that chance decides comes from a whole number that is handed on, so a search can be cut into slices of work.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from planner.search.compiled import compiled, inside
from planner.search.sequences.chance import drawn, first_word
from planner.search.sequences.exchange import NEVER, best_of_row, exchange, shifts
from planner.search.sequences.turns import Ints, Line, Reals, Work, fill

LEARNT_FROM = 300  # changes after which it is known how much more changeover is worth trying
USUAL = 0.9  # of them bring no more changeover than is tried from then on
FAR = 1 << 40
WORTH = 1e-7  # of cost that a change must save
ROW, CALM, STALE, MOST, SEEN = range(1, 6)  # places in `Trail.numbers`, behind that of chance
HOME, BEST = range(2)  # places in `Trail.costs`


class Trail(NamedTuple):
    """Where a search stands: the sequence it comes back to, the best one met, and what it counts."""

    home: Ints
    best: Ints
    numbers: Ints
    costs: Reals
    seen: Ints  # minutes of changeover more by the first changes worth making, sorted


def trail_of(line: Line, seed: int) -> Trail:
    """The beginning of a search from a line."""
    numbers = np.array([first_word(seed), 1, 0, 0, FAR, 0], np.int64)
    costs = np.array([line.cost[0], line.cost[0]])
    return Trail(line.seq.copy(), line.seq.copy(), numbers, costs, np.zeros(LEARNT_FROM, np.int64))


@compiled
def search(work: Work, line: Line, trail: Trail, budget: int, patience: int) -> int:
    """Search for `budget` changes tried; what is left of it, positive where nothing better can be."""
    n = len(line.seq) - 2
    while budget > 0 and trail.costs[BEST] > WORTH:
        budget = descend(work, line, trail, budget)
        if trail.numbers[CALM] < n:
            break
        settle(line, trail)
        if trail.numbers[STALE] > patience:
            scatter(line, trail)
        else:
            shake(line, trail)
        fill(work, line)
    return budget


@inside
def descend(work: Work, line: Line, trail: Trail, budget: int) -> int:
    """Make changes that save something, row after row, until a whole round brings none or the budget is used up."""
    n = len(line.seq) - 2
    while trail.numbers[CALM] < n and budget > 0:
        first = trail.numbers[ROW]
        best, cut, tried = best_of_row(work, line, first, line.cost[0] - WORTH, trail.numbers[MOST])
        budget -= tried
        if best < NEVER:
            if trail.numbers[SEEN] < LEARNT_FROM and not work.may_wait:
                learn(trail, shifts(line.seq, line.ends, work.pace, cut)[3])
            exchange(line.seq, cut)
            fill(work, line)
            trail.numbers[CALM] = 0
        else:
            trail.numbers[CALM] += 1
            trail.numbers[ROW] = first % n + 1
    return budget


@inside
def learn(trail: Trail, more: int) -> None:
    """Note the changeover of a change worth making; after some of them, know what is usual."""
    seen = trail.numbers[SEEN]
    trail.numbers[SEEN] += 1
    at = seen
    while at > 0 and trail.seen[at - 1] > more:
        trail.seen[at] = trail.seen[at - 1]
        at -= 1
    trail.seen[at] = more
    if seen + 1 == LEARNT_FROM:
        trail.numbers[MOST] = max(0, trail.seen[int(USUAL * LEARNT_FROM)])


@inside
def copy(source: Ints, target: Ints) -> None:
    """Number by number, as that compiles faster than a slice."""
    for i in range(len(source)):
        target[i] = source[i]


@inside
def settle(line: Line, trail: Trail) -> None:
    """Keep a sequence that is not worse than the one before; else go back to that one."""
    here = line.cost[0]
    trail.numbers[STALE] = 0 if here < trail.costs[HOME] - WORTH else trail.numbers[STALE] + 1
    if here <= trail.costs[HOME] + WORTH:
        copy(line.seq, trail.home)
        trail.costs[HOME] = here
    else:
        copy(trail.home, line.seq)
    if here < trail.costs[BEST] - WORTH:
        copy(line.seq, trail.best)
        trail.costs[BEST] = here


@inside
def shake(line: Line, trail: Trail) -> None:
    """Exchange two stretches at random."""
    n = len(line.seq) - 2
    numbers = trail.numbers
    longest = 2 + drawn(numbers, max(1, min(n // 4, 20)))
    la, lm, lb = drawn(numbers, longest) + 1, drawn(numbers, longest), drawn(numbers, longest) + 1
    if la + lm + lb <= n:
        a = drawn(numbers, n - la - lm - lb + 1) + 1
        exchange(line.seq, (a, a + la - 1, a + la + lm, a + la + lm + lb - 1))
    numbers[CALM] = 0
    numbers[ROW] = drawn(numbers, n) + 1


@inside
def scatter(line: Line, trail: Trail) -> None:
    """Begin anew from a sequence at random."""
    n = len(line.seq) - 2
    for i in range(n, 1, -1):
        j = drawn(trail.numbers, i) + 1
        line.seq[i], line.seq[j] = line.seq[j], line.seq[i]
    trail.costs[HOME] = NEVER
    trail.numbers[STALE] = 0
    trail.numbers[CALM] = 0
