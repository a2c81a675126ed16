"""What every promise buys at given prices, and what it pays; compiled, as it is asked some hundred times.

Stretches that come later are only asked while everything before them costs something.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from planner.search.compiled import compiled, inside

Ints = npt.NDArray[np.int64]
Numbers = npt.NDArray[np.float64]
NOTHING = 1e300
MARGIN = 8  # ends of a promise looked at beyond half as many again as were needed


class Flat(NamedTuple):
    """Promises own uses, uses own choices: each a giver, so many minutes, and for each stretch the end it allows.

    `prices[prices_from[promise] + n]` is due if a promise is kept in the n-th stretch from `first_end[promise]` on;
    `done_by[done_from[choice] + n]` is the stretch in which it can be kept if the choice falls into the n-th from
    `first_stretch[choice]` on, below 0 where it cannot fall there.
    """

    first_end: Ints
    prices_from: Ints
    prices: Numbers
    uses_from: Ints
    choices_from: Ints
    minutes: Numbers
    giver: Ints
    first_stretch: Ints
    done_from: Ints
    done_by: npt.NDArray[np.int32]


@inside
def _pay(flat: Flat, use: int, first: int, count: int, price: Numbers, room: Numbers) -> None:
    """Add to what is to pay for each end of a promise what the use costs at least if it must be over by then."""
    to_pay, cheapest = room[0], room[1]
    for end in range(count):
        cheapest[end] = NOTHING
    last = count
    for choice in range(flat.choices_from[use], flat.choices_from[use + 1]):
        row, stretch = flat.giver[choice], flat.first_stretch[choice]
        for place in range(flat.done_from[choice], flat.done_from[choice + 1]):
            if flat.done_by[place] >= 0:
                end = max(flat.done_by[place] - first, 0)
                if end >= last:
                    break
                cheapest[end] = min(cheapest[end], flat.minutes[choice] * price[row, stretch])
                if price[row, stretch] == 0.0:
                    last = end + 1
                    break
            stretch += 1
    least = NOTHING
    for end in range(count):
        least = min(least, cheapest[end])
        to_pay[end] += least


@inside
def _take(flat: Flat, use: int, done: int, price: Numbers, used: Numbers) -> None:
    """Buy at the cheapest giver and stretch that lets the promise be kept by then."""
    lowest, chosen, then = NOTHING, -1, -1
    for choice in range(flat.choices_from[use], flat.choices_from[use + 1]):
        stretch = flat.first_stretch[choice]
        for place in range(flat.done_from[choice], flat.done_from[choice + 1]):
            if flat.done_by[place] > done:
                break
            costs = flat.minutes[choice] * price[flat.giver[choice], stretch]
            if flat.done_by[place] >= 0 and costs < lowest:
                lowest, chosen, then = costs, choice, stretch
                if lowest == 0.0:
                    break
            stretch += 1
    if chosen >= 0:
        used[flat.giver[chosen], then] += flat.minutes[chosen]


@inside
def _best_end(flat: Flat, promise: int, count: int, price: Numbers, room: Numbers) -> int:
    """Of the first `count` ends that a promise may have the one that costs least, all bought for it included."""
    for end in range(count):
        room[0, end] = flat.prices[flat.prices_from[promise] + end]
    for use in range(flat.uses_from[promise], flat.uses_from[promise + 1]):
        _pay(flat, use, flat.first_end[promise], count, price, room)
    best = 0
    for end in range(count):
        if room[0, end] < room[0, best]:
            best = end
    return best


@compiled
def buy(flat: Flat, price: Numbers, used: Numbers, room: Numbers, looked_at: Ints) -> float:
    """The least sum of what promises cost and what is bought for them; what is bought is added to `used`.

    `room` is two rows to work in, as long as those of `price`. Of each promise only the ends `looked_at` are weighed
    while a later one would cost more by its price alone; their number is left as the next round had better have it.
    """
    paid = 0.0
    for promise in range(len(flat.first_end)):
        all_ends = flat.prices_from[promise + 1] - flat.prices_from[promise]
        count = min(all_ends, looked_at[promise])
        best = _best_end(flat, promise, count, price, room)
        while count < all_ends and flat.prices[flat.prices_from[promise] + count] < room[0, best]:
            count = min(all_ends, 2 * count)
            best = _best_end(flat, promise, count, price, room)
        looked_at[promise] = MARGIN + best + best // 2
        paid += room[0, best]
        for use in range(flat.uses_from[promise], flat.uses_from[promise + 1]):
            _take(flat, use, flat.first_end[promise] + best, price, used)
    return paid
