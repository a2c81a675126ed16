"""Tabu search on the machine orders of a job shop.

Moves are those of Balas and Vazacopoulos (1998), with the additions of Zhang and others (2007): a step of a critical
block goes to one of the block's ends, or one of the ends goes inside. What a move brings is estimated from the heads
and tails of the steps it passes (Taillard 1994, Balas and Vazacopoulos 1998).
"""

from __future__ import annotations

from planner.search.compiled import compiled, inside
from planner.search.sequences.chance import drawn
from planner.search.sequences.shop import (
    BEST,
    HERE,
    ITERATION,
    NONE,
    STALE,
    TENURE,
    Ints,
    Schedule,
    Shop,
    time_moved,
)

FAR = 1 << 60
NO_MOVE = (NONE, NONE, 0)
Side = tuple[Ints, Ints, Ints]  # the next step on a machine that way, the longest path there, and without the machine
Move = tuple[int, int, int]  # a step, the one it goes to, and whether it goes behind that (1) or before it (0)


@compiled
def search(shop: Shop, schedule: Schedule, iterations: int, patience: int, target: int) -> int:
    """Make so many moves; how many were not made as nothing better came for `patience` of them, or for `target`."""
    numbers, spans = schedule.numbers, schedule.spans
    while iterations > 0 and numbers[STALE] < patience and spans[BEST] > target:
        move = best_move(shop, schedule)
        if move[0] == NONE:
            numbers[STALE] = patience
            break
        make(shop, schedule, move)
        numbers[ITERATION] += 1
        iterations -= 1
        spans[HERE] = time_moved(shop, schedule, *move)
        if spans[HERE] < spans[BEST]:
            spans[BEST] = spans[HERE]
            numbers[STALE] = 0
            for step in range(len(shop.minutes)):
                schedule.best[step] = schedule.head[step]
        else:
            numbers[STALE] += 1
    return iterations


@inside
def critical_path(shop: Shop, schedule: Schedule) -> int:
    """Trace a longest path back from one of the last ends, at random where it forks; its length."""
    step, ties = NONE, 0
    for each in range(len(shop.minutes)):
        if schedule.tail[each] == 0 and schedule.head[each] + shop.minutes[each] == schedule.spans[HERE]:
            ties += 1
            if drawn(schedule.numbers, ties) == 0:
                step = each
    length = 0
    while step != NONE:
        schedule.path[length] = step
        length += 1
        head, left, ties = schedule.head[step], schedule.left[step], 0
        before = NONE
        if left >= 0 and schedule.head[left] + shop.minutes[left] == head:
            before, ties = left, 1
        for k in range(shop.before_at[step], shop.before_at[step + 1]):
            other = shop.before[k]
            if other != left and schedule.head[other] + shop.minutes[other] + shop.before_wait[k] == head:
                ties += 1
                if drawn(schedule.numbers, ties) == 0:
                    before = other
        step = before
    return length


@inside
def best_move(shop: Shop, schedule: Schedule) -> Move:
    """The best move on a critical path; one at random, be it tabu, where there is none that is not."""
    length = critical_path(shop, schedule)
    best, move, others, other = FAR, NO_MOVE, 0, NO_MOVE
    start = 0
    while start < length - 1:
        stop = start  # the path runs from the end back: path[start] is the last of its block, path[stop] the first
        while stop + 1 < length and schedule.left[schedule.path[stop]] == schedule.path[stop + 1]:
            stop += 1
        for i in range(start, stop):
            for j in range(i + 1, stop + 1):
                if i == start or j == stop:
                    late, early = schedule.path[i], schedule.path[j]
                    best, move, others, other = better(shop, schedule, (early, late, 1), (best, move, others, other))
                    if j > i + 1:
                        best, move, others, other = better(
                            shop, schedule, (late, early, 0), (best, move, others, other)
                        )
        start = max(stop, start + 1)
    return move if move[0] != NONE else other


@inside
def better(
    shop: Shop, schedule: Schedule, move: Move, known: tuple[int, Move, int, Move]
) -> tuple[int, Move, int, Move]:
    """The best estimate with its move, and how many were tabu with one of them, when one more is looked at."""
    best, its, others, other = known
    if not is_allowed(shop, schedule, move):
        return known
    estimate = estimated(shop, schedule, move)
    if is_tabu(shop, schedule, move) and estimate >= schedule.spans[BEST]:
        return best, its, others + 1, move if drawn(schedule.numbers, others + 1) == 0 else other
    if estimate < best or (estimate == best and drawn(schedule.numbers, 2) == 0):
        return estimate, move, others, other
    return known


@inside
def is_allowed(shop: Shop, schedule: Schedule, move: Move) -> bool:
    """Whether the move surely makes no circle: no path can lead from the step to the one it passes, or back."""
    step, to, behind = move
    if behind:
        least = schedule.tail[to] + shop.minutes[to]
        for k in range(shop.after_at[step], shop.after_at[step + 1]):
            other = shop.after[k]
            if other == to or schedule.tail[other] + shop.minutes[other] > least:
                return False
        return True
    least = schedule.head[to] + shop.minutes[to]
    for k in range(shop.before_at[step], shop.before_at[step + 1]):
        other = shop.before[k]
        if other == to or schedule.head[other] + shop.minutes[other] > least:
            return False
    return True


@inside
def estimated(shop: Shop, schedule: Schedule, move: Move) -> int:
    """How long the longest path through the moved steps would be."""
    step, to, behind = move
    one = (schedule.left, schedule.head, schedule.own_head)
    other = (schedule.right, schedule.tail, schedule.own_tail)
    if behind:
        return longest_past(shop.minutes, schedule.waits, one, other, (step, to))
    return longest_past(shop.minutes, schedule.waits, other, one, (step, to))


@inside
def longest_past(minutes: Ints, before: Ints, near: Side, far: Side, ends: tuple[int, int]) -> int:
    """The same for a step that goes past others to their far side; `before` is room for what is before each of them.

    Heads and tails mirror each other: seen from the end of the plan, a step that goes before others goes behind them.
    """
    step, to = ends
    here, way, own_way = near
    there, rest, own_rest = far
    next_near, next_far = here[step], there[to]
    reached = way[next_near] + minutes[next_near] if next_near >= 0 else 0
    each = step
    while each != to:
        each = there[each]
        before[each] = max(reached, own_way[each])
        reached = before[each] + minutes[each]
    left = max(own_rest[step], rest[next_far] + minutes[next_far] if next_far >= 0 else 0)
    longest: int = max(reached, own_way[step]) + minutes[step] + left
    left += minutes[step]
    while each != step:
        left = max(left, own_rest[each]) + minutes[each]
        longest = max(longest, before[each] + left)
        each = here[each]
    return longest


@inside
def is_tabu(shop: Shop, schedule: Schedule, move: Move) -> bool:
    """Whether the move would bring back an order of two steps that was given up lately."""
    step, to, behind = move
    each = step
    while each != to:
        if behind:
            each = schedule.right[each]
            if schedule.tabu[each, shop.place[step]] > schedule.numbers[ITERATION]:
                return True
        else:
            each = schedule.left[each]
            if schedule.tabu[step, shop.place[each]] > schedule.numbers[ITERATION]:
                return True
    return False


@inside
def make(shop: Shop, schedule: Schedule, move: Move) -> None:
    """Make a move, and forbid for some time to undo it."""
    step, to, behind = move
    until = (
        schedule.numbers[ITERATION]
        + schedule.numbers[TENURE]
        + drawn(schedule.numbers, schedule.numbers[TENURE] // 2 + 1)
    )
    each = step
    while each != to:
        if behind:
            each = schedule.right[each]
            schedule.tabu[step, shop.place[each]] = until
        else:
            each = schedule.left[each]
            schedule.tabu[each, shop.place[step]] = until
    join(schedule, schedule.left[step], schedule.right[step])
    if behind:
        right = schedule.right[to]
        join(schedule, to, step)
        join(schedule, step, right)
    else:
        left = schedule.left[to]
        join(schedule, step, to)
        join(schedule, left, step)


@inside
def join(schedule: Schedule, one: int, other: int) -> None:
    """One step right before another on a machine."""
    if one >= 0:
        schedule.right[one] = other
    if other >= 0:
        schedule.left[other] = one
