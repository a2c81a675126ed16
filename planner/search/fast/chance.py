"""Compiled: repeatable chance, kept with the plan (xorshift64*, Vigna 2016)."""

from __future__ import annotations

from math import log

import numpy as np

from planner.search.compiled import inside
from planner.search.fast.table import Shop

PARTS = 1.0 / (1 << 53)


@inside
def share(shop: Shop) -> float:
    """A number from 0 up to, not including, 1."""
    word = shop.chance[0]
    word ^= word >> np.uint64(12)
    word ^= word << np.uint64(25)
    word ^= word >> np.uint64(27)
    shop.chance[0] = word
    return np.float64((word * np.uint64(2685821657736338717)) >> np.uint64(11)) * PARTS


@inside
def below(shop: Shop, count: int) -> int:
    """A whole number from 0 up to, not including, `count`."""
    return int(share(shop) * count)


@inside
def give_or_take(shop: Shop, mean: float) -> float:
    """A number around 0, its size exponential with that mean."""
    size = -log(1.0 - share(shop)) * mean
    return size if share(shop) < 0.5 else -size
