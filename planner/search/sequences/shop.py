"""A job shop in flat arrays: which step follows which on its machine, and when each can start at the earliest.

Machine orders are kept as neighbours; heads are earliest starts, tails what must still follow a step's end.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from planner.search.compiled import compiled, inside
from planner.search.sequences.chance import first_word

Ints = NDArray[np.int64]

NONE = -1  # no step
ITERATION, STALE, TENURE, MARK = range(1, 5)  # places in `Schedule.numbers`, behind that of chance
HERE, BEST = range(2)  # places in `Schedule.spans`


class Shop(NamedTuple):
    """Steps 0 to n-1; minutes count from now. before_at[j] to before_at[j + 1] are the links before step j."""

    minutes: Ints
    ready: Ints
    place: Ints  # a number of its own for each step of a machine
    before_at: Ints
    before: Ints
    before_wait: Ints
    after_at: Ints
    after: Ints
    after_wait: Ints


class Schedule(NamedTuple):
    """Machine orders with what follows from them, and where a search through them stands."""

    left: Ints  # the step before on the machine, or NONE
    right: Ints  # the one behind
    order: Ints  # every step behind all it waits for
    at: Ints  # where in that a step stands
    mark: Ints
    head: Ints
    tail: Ints
    own_head: Ints  # without the machine's order
    own_tail: Ints
    waits: Ints
    path: Ints
    best: Ints  # the heads of the best schedule since the search was begun anew
    tabu: NDArray[np.int32]  # until which iteration step i may not come before the step with place j
    numbers: Ints
    spans: Ints


def schedule_of(shop: Shop, machines: int, places: int, seed: int) -> Schedule:
    """Room for a schedule; `settle` gives it its machine orders."""
    n = len(shop.minutes)
    left, right, order, at, mark, head, tail, own_head, own_tail, waits, path, best = np.full((12, n), NONE, np.int64)
    tabu = np.zeros((n, places), np.int32)
    numbers = np.array([first_word(seed), 0, 0, 6 + places // machines, 0], np.int64)
    spans = np.full(2, np.iinfo(np.int64).max, np.int64)
    return Schedule(
        left, right, order, at, mark, head, tail, own_head, own_tail, waits, path, best, tabu, numbers, spans
    )


def settle(shop: Shop, schedule: Schedule, machine: Ints, starts: Ints) -> None:
    """Put the steps of each machine in the order of some starts, and begin a search from there."""
    schedule.left[:] = schedule.right[:] = NONE
    last: dict[int, int] = {}
    for step in np.lexsort((np.arange(len(starts)), starts)).tolist():
        name = int(machine[step])
        if name in last:
            schedule.left[step], schedule.right[last[name]] = last[name], step
        last[name] = step
    schedule.tabu[:] = 0
    schedule.numbers[ITERATION] = schedule.numbers[STALE] = 0
    schedule.spans[HERE] = time_all(shop, schedule)
    schedule.spans[BEST] = schedule.spans[HERE]
    schedule.best[:] = schedule.head


@inside
def head_of(shop: Shop, schedule: Schedule, step: int) -> None:
    """When a step can start at the earliest, once all before it are known."""
    head = shop.ready[step]
    for k in range(shop.before_at[step], shop.before_at[step + 1]):
        other = shop.before[k]
        head = max(head, schedule.head[other] + shop.minutes[other] + shop.before_wait[k])
    schedule.own_head[step] = head
    left = schedule.left[step]
    schedule.head[step] = max(head, schedule.head[left] + shop.minutes[left]) if left >= 0 else head


@inside
def tail_of(shop: Shop, schedule: Schedule, step: int) -> None:
    """What must still follow a step's end, once all behind it are known."""
    tail = 0
    for k in range(shop.after_at[step], shop.after_at[step + 1]):
        other = shop.after[k]
        tail = max(tail, schedule.tail[other] + shop.minutes[other] + shop.after_wait[k])
    schedule.own_tail[step] = tail
    right = schedule.right[step]
    schedule.tail[step] = max(tail, schedule.tail[right] + shop.minutes[right]) if right >= 0 else tail


@compiled
def time_all(shop: Shop, schedule: Schedule) -> int:
    """Put all steps in order, and work heads and tails out; when the last step ends, from now."""
    n = len(shop.minutes)
    done, found = 0, 0
    for step in range(n):
        waits = shop.before_at[step + 1] - shop.before_at[step] + (schedule.left[step] >= 0)
        schedule.waits[step] = waits
        if waits == 0:
            schedule.order[found] = step
            found += 1
    while done < found:
        step = schedule.order[done]
        done += 1
        for k in range(shop.after_at[step], shop.after_at[step + 1]):
            found = released(schedule, shop.after[k], found)
        if schedule.right[step] >= 0:
            found = released(schedule, schedule.right[step], found)
    return time_some(shop, schedule, 0, n - 1)


@inside
def released(schedule: Schedule, step: int, found: int) -> int:
    """One step less to wait for; how many are in order then."""
    schedule.waits[step] -= 1
    if schedule.waits[step] == 0:
        schedule.order[found] = step
        return found + 1
    return found


@inside
def time_some(shop: Shop, schedule: Schedule, first: int, last: int) -> int:
    """The same where the order has changed between two places only."""
    n = len(shop.minutes)
    for place in range(first, n):
        schedule.at[schedule.order[place]] = place
        head_of(shop, schedule, schedule.order[place])
    for place in range(last, -1, -1):
        tail_of(shop, schedule, schedule.order[place])
    span = 0
    for step in range(n):
        span = max(span, schedule.head[step] + shop.minutes[step])
    return span


@inside
def time_moved(shop: Shop, schedule: Schedule, step: int, to: int, behind: int) -> int:
    """The same after a step has been moved behind another on its machine, or before it."""
    schedule.numbers[MARK] += 1
    schedule.mark[step] = schedule.numbers[MARK]
    from_place, to_place = schedule.at[step], schedule.at[to]
    if behind:
        reorder(schedule, (schedule.left, shop.before_at, shop.before), (from_place, to_place, 1))
        return time_some(shop, schedule, from_place, to_place)
    reorder(schedule, (schedule.right, shop.after_at, shop.after), (from_place, to_place, -1))
    return time_some(shop, schedule, to_place, from_place)


@inside
def reorder(schedule: Schedule, waits_for: tuple[Ints, Ints, Ints], stretch: tuple[int, int, int]) -> None:
    """Of the steps from one place to another, those that wait for the marked one go past the others.

    Backwards, with what follows them in place of what they wait for, those that the marked one waits for do.
    """
    neighbour, link_at, link = waits_for
    first, last, way = stretch
    mark, write, kept = schedule.numbers[MARK], first, 0
    for place in range(first, last + way, way):
        step = schedule.order[place]
        near = neighbour[step]
        if near >= 0 and schedule.mark[near] == mark:
            schedule.mark[step] = mark
        for k in range(link_at[step], link_at[step + 1]):
            if schedule.mark[link[k]] == mark:
                schedule.mark[step] = mark
        if schedule.mark[step] == mark:
            schedule.path[kept] = step
            kept += 1
        else:
            schedule.order[write] = step
            write += way
    for k in range(kept):
        schedule.order[write + way * k] = schedule.path[k]
