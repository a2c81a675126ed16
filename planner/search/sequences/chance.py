"""Compiled: repeatable chance, kept among the numbers of a search (xorshift, Marsaglia 2003)."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from planner.search.compiled import inside

RNG = 0  # its place among those numbers


def first_word(seed: int) -> int:
    """What stands there at the beginning; never 0."""
    return seed * 0x9E3779B1 % 0xFFFFFFFF + 1


@inside
def drawn(numbers: NDArray[np.int64], below: int) -> int:
    """The next whole number below `below`."""
    x = int(numbers[RNG])
    x ^= (x << 13) & 0xFFFFFFFF
    x ^= x >> 17
    x ^= (x << 5) & 0xFFFFFFFF
    numbers[RNG] = x
    return (x * below) >> 32
