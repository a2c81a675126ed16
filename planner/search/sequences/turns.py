"""Steps that take one station in turn, as flat arrays: what a sequence costs.

What is called in inner loops takes arrays, not the tuples they come in: passing a tuple costs more than all the sums.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from planner.search.compiled import compiled, inside

Ints = NDArray[np.int64]
Paces = NDArray[np.int32]
Reals = NDArray[np.float64]

DUE, FLOOR, LATE, MISSED, FINISH = range(5)  # columns of `Work.owed`
SUM, PACE, SLOPE, JUMP = range(4)  # rows of `Line.sums`


class Work(NamedTuple):
    """Steps 0 to n-1; minutes count from now. Entries are what hangs on a step's end: an order, or its part in one."""

    pace: Paces  # pace[i, j]: minutes from the end of step i to that of j; n is what was before all, and nothing behind
    ready: Ints
    may_wait: bool  # whether some step is ready only after the station is free
    free: int  # when the station is free
    entry_at: Ints  # the entries of step j are entry_at[j] to entry_at[j + 1]
    owed: Reals  # a row an entry: due, the end it can't be before, a late minute, being late, a minute until its end
    group: Ints  # of each entry: the number of its order of several steps; -1 where the step is all there is
    groups: int
    change_rate: float  # a minute of changeover
    span_rate: float  # a minute until the last end
    span_floor: float  # before which that does not count


class Line(NamedTuple):
    """A sequence on places 1 to n, between two places for nothing, with sums up to each place, or from it on."""

    seq: Ints
    ends: Ints
    sums: Reals  # rows: owed, minutes; from here on, what a minute more costs at least, what being in time would save
    lead: Ints  # of the row that is looked at
    left: Ints  # of each group, steps not yet met on a walk
    cost: Reals  # one number: all in all, with the minutes of the steps priced like changeovers


def line_of(work: Work, steps: Ints) -> Line:
    """A sequence with room for its sums, filled."""
    n = len(steps)
    seq = np.concatenate(([n], steps, [n])).astype(np.int64)
    ends, sums, lead = np.zeros(n + 2, np.int64), np.zeros((4, n + 2)), np.zeros(n + 2, np.int64)
    line = Line(seq, ends, sums, lead, np.zeros(work.groups, np.int64), np.zeros(1))
    fill(work, line)
    return line


@inside
def owed_by(owed: Reals, entry: int, end: float) -> float:
    """What an order costs when its last step ends then."""
    finish = max(end, owed[entry, FLOOR])
    cost: float = owed[entry, FINISH] * finish
    if finish > owed[entry, DUE]:
        cost += owed[entry, LATE] * (finish - owed[entry, DUE]) + owed[entry, MISSED]
    return cost


@inside
def owed_at(work: Work, left: Ints, step: int, end: int) -> float:
    """What hangs on a step's end; an order of several steps counts at the last of them."""
    cost = 0.0
    for k in range(work.entry_at[step], work.entry_at[step + 1]):
        if work.group[k] >= 0:
            left[work.group[k]] -= 1
            if left[work.group[k]] > 0:
                continue
        cost += owed_by(work.owed, k, float(end))
    return cost


@inside
def count_left(work: Work, line: Line, first: int) -> None:
    """How many steps of each group stand at `first` or later."""
    for group in range(len(line.left)):
        line.left[group] = 0
    for i in range(first, len(line.seq) - 1):
        step = line.seq[i]
        for k in range(work.entry_at[step], work.entry_at[step + 1]):
            if work.group[k] >= 0:
                line.left[work.group[k]] += 1


@compiled
def fill(work: Work, line: Line) -> None:
    """Work all sums out."""
    n = len(line.seq) - 2
    count_left(work, line, 1)
    line.ends[0] = work.free
    for i in range(1, n + 1):
        step = line.seq[i]
        pace = work.pace[line.seq[i - 1], step]
        line.ends[i] = max(line.ends[i - 1], work.ready[step]) + pace
        line.sums[PACE, i] = line.sums[PACE, i - 1] + pace
        line.sums[SUM, i] = line.sums[SUM, i - 1] + owed_at(work, line.left, step, line.ends[i])
    span = work.span_rate * max(float(line.ends[n]), work.span_floor)
    line.cost[0] = line.sums[SUM, n] + work.change_rate * line.sums[PACE, n] + span
    fill_from_behind(work, line)


@inside
def fill_from_behind(work: Work, line: Line) -> None:
    """Slopes and jumps; of a group the step that comes last bears the order's cost."""
    count_left(work, line, 1)
    for i in range(len(line.seq) - 2, 0, -1):
        step, end = line.seq[i], float(line.ends[i])
        slope = jump = 0.0
        for k in range(work.entry_at[step], work.entry_at[step + 1]):
            group = work.group[k]
            if group >= 0:
                bears = line.left[group] > 0
                line.left[group] = 0
                if not bears:
                    continue
            late = max(end, work.owed[k, FLOOR]) > work.owed[k, DUE]
            if end > work.owed[k, FLOOR]:
                slope += work.owed[k, FINISH] + (work.owed[k, LATE] if late else 0.0)
            jump += work.owed[k, MISSED] if late else 0.0
        line.sums[SLOPE, i] = line.sums[SLOPE, i + 1] + slope
        line.sums[JUMP, i] = line.sums[JUMP, i + 1] + jump
