"""What a sequence would cost with two of its stretches exchanged, found out with as little work as can be.

Two stretches, [a..p] and [q..b]: next to each other that moves a block, single steps apart from each other swap. So
runs of steps are each shifted by some minutes. What a run then costs is bounded at once by its slopes; only where that
does not rule the change out are the runs walked, the short ones first.
"""

from __future__ import annotations

import numpy as np

from planner.search.compiled import inside
from planner.search.sequences.turns import (
    JUMP,
    PACE,
    SLOPE,
    SUM,
    Ints,
    Line,
    Paces,
    Reals,
    Work,
    count_left,
    owed_at,
    owed_by,
)

Cut = tuple[int, int, int, int]  # a, p, q, b
Shifts = tuple[int, int, int, int]  # minutes by which [a..p], [q..b], what is between and what is behind are shifted
Rates = tuple[float, float, float]  # a minute of changeover, a minute until the last end, and when that counts from

NEVER = np.inf  # the cost of a change that is not worth working out
LONGEST = 13  # steps in a block that is moved


@inside
def exchange(seq: Ints, cut: Cut) -> None:
    """Exchange [a..p] and [q..b] in the sequence: turn all of it round, then each part."""
    a, p, q, b = cut
    turn_round(seq, a, b)
    turn_round(seq, a, a + b - q)
    turn_round(seq, a + b - q + 1, b - p + a - 1)
    turn_round(seq, b - p + a, b)


@inside
def turn_round(seq: Ints, first: int, last: int) -> None:
    """Turn a stretch of the sequence round."""
    while first < last:
        seq[first], seq[last] = seq[last], seq[first]
        first += 1
        last -= 1


@inside
def least_more(sums: Reals, first: int, last: int, later: int) -> float:
    """A bound on what a run of steps costs more when it is shifted by so many minutes."""
    more: float = later * (sums[SLOPE, first] - sums[SLOPE, last + 1])
    return more if later >= 0 else more - (sums[JUMP, first] - sums[JUMP, last + 1])


@inside
def shifts(seq: Ints, ends: Ints, pace: Paces, cut: Cut) -> Shifts:
    """By how many minutes the runs are shifted, if no step waits; the last is the changeover more in all."""
    a, p, q, b = cut
    later_q = ends[a - 1] + pace[seq[a - 1], seq[q]] - ends[q]
    before, end, later_m = seq[b], ends[b] + later_q, 0
    if p + 1 < q:
        later_m = end + pace[before, seq[p + 1]] - ends[p + 1]
        before, end = seq[q - 1], ends[q - 1] + later_m
    later_a = end + pace[before, seq[a]] - ends[a]
    later = ends[p] + later_a - ends[b] + pace[seq[p], seq[b + 1]] - pace[seq[b], seq[b + 1]]
    return later_a, later_q, later_m, later


@inside
def least_exchanged(ends: Ints, sums: Reals, rates: Rates, cut: Cut, later: Shifts) -> float:
    """A bound on what an exchange costs more, if no step waits."""
    a, p, q, b = cut
    later_a, later_q, later_m, behind = later
    change_rate, span_rate, span_floor = rates
    n = len(ends) - 2
    more = least_more(sums, q, b, later_q) + least_more(sums, a, p, later_a) + change_rate * behind
    if later_m:
        more += least_more(sums, p + 1, q - 1, later_m)
    if behind:
        more += least_more(sums, b + 1, n, behind)
        more += span_rate * (max(float(ends[n] + behind), span_floor) - max(float(ends[n]), span_floor))
    return more


@inside
def shifted(
    line: tuple[Ints, Ints, Reals], entry_at: Ints, owed: Reals, run: tuple[int, int, int], cost: float, limit: float
) -> float:
    """A cost with the bound on a run replaced by what it costs, step by step; `NEVER` from `limit` on."""
    seq, ends, sums = line
    first, last, later = run
    for i in range(first, last + 1):
        if cost >= limit:
            return NEVER
        for k in range(entry_at[seq[i]], entry_at[seq[i] + 1]):
            cost += owed_by(owed, k, float(ends[i] + later))
        cost -= sums[SUM, i] - sums[SUM, i - 1] + least_more(sums, i, i, later)
    return cost if cost < limit else NEVER


@inside
def exchanged(
    line: tuple[Ints, Ints, Reals], entry_at: Ints, owed: Reals, cut: Cut, later: Shifts, cost: float, limit: float
) -> float:
    """The cost with [a..p] and [q..b] exchanged, given its bound; `NEVER` where it is `limit` or more."""
    a, p, q, b = cut
    later_a, later_q, later_m, behind = later
    one, other = (a, p, later_a), (q, b, later_q)
    if p - a > b - q:
        one, other = other, one
    cost = shifted(line, entry_at, owed, one, cost, limit)
    if cost < limit:
        cost = shifted(line, entry_at, owed, other, cost, limit)
    if cost < limit and later_m:
        cost = shifted(line, entry_at, owed, (p + 1, q - 1, later_m), cost, limit)
    if cost < limit and behind:
        cost = shifted(line, entry_at, owed, (b + 1, len(line[0]) - 2, behind), cost, limit)
    return cost


@inside
def exchanged_in_order(work: Work, line: Line, cut: Cut, limit: float) -> float:
    """The same where ends depend on waits, or orders on several steps: from the change to the end."""
    a, p, q, b = cut
    count_left(work, line, a)
    end, before = line.ends[a - 1], line.seq[a - 1]
    cost = line.sums[SUM, a - 1] + work.change_rate * line.sums[PACE, a - 1]
    for first, last in ((q, b), (p + 1, q - 1), (a, p), (b + 1, len(line.seq) - 2)):
        for i in range(first, last + 1):
            step = line.seq[i]
            pace = work.pace[before, step]
            end = max(end, work.ready[step]) + pace
            cost += owed_at(work, line.left, step, end) + work.change_rate * pace
            if cost >= limit:
                return NEVER
            before = step
    cost += work.span_rate * max(float(end), work.span_floor)
    return cost if cost < limit else NEVER


@inside
def best_of_row(work: Work, line: Line, a: int, limit: float, most: int) -> tuple[float, Cut, int]:
    """The best exchange whose first stretch begins at `a`, with at most so much more changeover, and how many tried."""
    seq, ends, sums, pace = line.seq, line.ends, line.sums, work.pace
    rates = (work.change_rate, work.span_rate, work.span_floor)
    entry_at, owed, here = work.entry_at, work.owed, line.cost[0]
    in_order = work.may_wait or work.groups > 0
    best, cut, tried = NEVER, (a, a, a, a), len(seq)
    lead = line.lead
    fill_lead(line, pace, a)
    for b in range(a + 1, len(seq) - 1):
        gain = pace[seq[b], seq[a]] - pace[seq[a - 1], seq[a]] - pace[seq[b], seq[b + 1]]
        p = a - 1
        while p < b:
            p = b - LONGEST if p - a + 1 == LONGEST and b - p - 1 > LONGEST else p + 1
            if p < b and gain + lead[p] + pace[seq[p], seq[b + 1]] > most:
                continue
            move = (a, p, p + 1, b) if p < b else (a, a, b, b)
            tried += 1
            later = shifts(seq, ends, pace, move)
            bound = here
            if not work.may_wait:
                bound += least_exchanged(ends, sums, rates, move, later)
                if bound >= limit or later[3] > most:
                    continue
            if in_order:
                cost = exchanged_in_order(work, line, move, limit)
            else:
                cost = exchanged((seq, ends, sums), entry_at, owed, move, later, bound, limit)
            if cost < limit:
                best, limit, cut = cost, cost, move
    return best, cut, tried


@inside
def fill_lead(line: Line, pace: Paces, a: int) -> None:
    """For each p: minutes more where the step behind p follows what stands before a, not p."""
    seq = line.seq
    for p in range(a, len(seq) - 2):
        line.lead[p] = pace[seq[a - 1], seq[p + 1]] - pace[seq[p], seq[p + 1]]
