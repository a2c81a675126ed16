"""Minutes as bits of 64-bit words, in compiled code: bit m of a row is minute m from now on, a set bit is free."""

from __future__ import annotations

from typing import Any

import numpy as np
from llvmlite import ir
from numba.core import types
from numba.extending import intrinsic

from planner.search.compiled import inside

ONE = np.uint64(1)
ALL = np.uint64(0xFFFFFFFFFFFFFFFF)


def _counting(zeros: str) -> Any:
    """A function of one word that is a single machine instruction."""

    def typed(_typing: Any, word: Any) -> Any:
        def code(_context: Any, builder: Any, _signature: Any, arguments: Any) -> Any:
            return getattr(builder, zeros)(arguments[0], ir.Constant(ir.IntType(1), 1))

        return types.int64(word), code

    return intrinsic(typed)


trailing_zeros = _counting("cttz")  # how many zero bits a word has below its lowest set bit
leading_zeros = _counting("ctlz")  # how many above its highest


@inside
def below(bits: int) -> np.uint64:
    """A word with its lowest `bits` bits set, 0 to 64."""
    return ALL if bits >= 64 else (ONE << np.uint64(bits)) - ONE


@inside
def set_bits(row: np.ndarray, start: int, end: int) -> None:
    """Free the minutes from `start` up to `end`."""
    place = start >> 6
    while start < end:
        until = min(end, (place + 1) << 6)
        row[place] |= below(until - (place << 6)) & ~below(start - (place << 6))
        start = until
        place += 1


@inside
def clear_bits(row: np.ndarray, start: int, end: int) -> None:
    """Take the minutes from `start` up to `end`."""
    place = start >> 6
    while start < end:
        until = min(end, (place + 1) << 6)
        row[place] &= ~(below(until - (place << 6)) & ~below(start - (place << 6)))
        start = until
        place += 1


@inside
def last_taken(row: np.ndarray, start: int, end: int) -> int:
    """The last minute from `start` up to `end` that is not free; -1 where all are."""
    first = start >> 6
    place = (end - 1) >> 6
    word = ~row[place] & below(end - (place << 6))
    while place > first:
        if word != 0:
            return (place << 6) + 63 - leading_zeros(word)
        place -= 1
        word = ~row[place]
    word &= ~below(start - (first << 6))
    return (first << 6) + 63 - leading_zeros(word) if word != 0 else -1


@inside
def next_free(row: np.ndarray, minute: int) -> int:
    """The first free minute from `minute` on; the row's length where there is none."""
    place = minute >> 6
    if place >= row.size:
        return row.size << 6
    word = row[place] & ~below(minute - (place << 6))
    while word == 0:
        place += 1
        if place >= row.size:
            return row.size << 6
        word = row[place]
    return (place << 6) + trailing_zeros(word)
