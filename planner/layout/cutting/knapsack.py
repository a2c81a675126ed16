"""The fillings of one room: the one worth most, and all that take no more.

All sums of sizes are kept that no smaller sum outdoes (dynamic programming by lists: Kellerer, Pferschy and Pisinger,
Knapsack Problems, 2004, ch. 3).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import numpy.typing as npt

Counts = dict[int, int]
"""How many of each item, by its number."""

Lots = list[tuple[int, int]]  # an item, and how many of it are taken at once

WORTHLESS = 1e-9


def best_filling(sizes: Sequence[int], values: Sequence[float], most: Sequence[int], room: int) -> Counts:
    """The items worth most that fit into `room` together, at most `most` of each; sizes are whole and above 0."""
    lots = _lots(sizes, values, most, room)
    weights, worths = np.zeros(1, dtype=np.int64), np.zeros(1)
    trail = []
    for item, count in lots:
        with_lot = weights + sizes[item] * count
        fits = int(np.searchsorted(with_lot, room, side="right"))
        all_weights = np.concatenate([weights, with_lot[:fits]])
        all_worths = np.concatenate([worths, worths[:fits] + values[item] * count])
        order = np.lexsort((-all_worths, all_weights))
        order = order[_rising(all_worths[order])]
        trail.append((order, len(weights)))
        weights, worths = all_weights[order], all_worths[order]
    return _walked_back(lots, trail, len(weights) - 1)


def _lots(sizes: Sequence[int], values: Sequence[float], most: Sequence[int], room: int) -> Lots:
    """Every number of an item up to its most, as sums of lots of 1, 2, 4 ...; large items first."""
    lots = []
    for item in sorted(range(len(sizes)), key=lambda each: -sizes[each]):
        left = min(most[item], room // sizes[item]) if values[item] > WORTHLESS else 0
        lot = 1
        while left > 0:
            lots.append((item, min(lot, left)))
            left -= lot
            lot *= 2
    return lots


def _rising(worths: npt.NDArray[np.float64]) -> npt.NDArray[np.bool_]:
    """Which sums are worth more than every smaller one."""
    before = np.maximum.accumulate(worths)
    return np.concatenate([[True], worths[1:] > before[:-1] + WORTHLESS])


def _walked_back(lots: Lots, trail: list[tuple[npt.NDArray[np.int64], int]], at: int) -> Counts:
    counts: Counts = {}
    for (item, count), (order, before) in zip(reversed(lots), reversed(trail), strict=True):
        at = int(order[at])
        if at >= before:
            at -= before
            counts[item] = counts.get(item, 0) + count
    return counts


def full_fillings(sizes: Sequence[int], most: Sequence[int], room: int) -> Iterator[Counts | None]:
    """Every filling that has no room for one more item of which more may be taken; large items are decided first.

    A None stands for a look that found no full one, so that whoever asks can count looks and give up.
    """
    order = sorted((each for each in range(len(sizes)) if most[each] > 0), key=lambda each: -sizes[each])
    yield from _fillings(sizes, most, order, room, {}, room + 1)


def _fillings(
    sizes: Sequence[int], most: Sequence[int], order: Sequence[int], left: int, taken: Counts, refused: int
) -> Iterator[Counts | None]:
    """`refused` is the smallest item of which fewer than possible were taken: if it still fits, this is not full."""
    if not order:
        yield taken if left < refused else None
        return
    item, rest = order[0], order[1:]
    fits = min(most[item], left // sizes[item])
    for count in range(fits, -1 if rest else fits - 1, -1):
        smallest = refused if count == most[item] else min(refused, sizes[item])
        more = {**taken, item: count} if count else taken
        yield from _fillings(sizes, most, rest, left - count * sizes[item], more, smallest)
