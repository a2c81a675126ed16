"""Minutes as the bits of one whole number: bit i is minute base + i, and a set bit is a free minute.

A calendar of three months is 16 KB, and asking it for room costs a few shifts instead of a walk over bookings.
"""

from __future__ import annotations

from collections.abc import Iterable

from planner.parts import Interval


def stretch(start: int, end: int) -> int:
    """The bits from `start` up to, not including, `end`."""
    return ((1 << (end - start)) - 1) << start if end > start else 0


def of_intervals(intervals: Iterable[Interval], base: int) -> int:
    """The minutes of half-open intervals from `base` on."""
    bits = 0
    for opens, closes in intervals:
        bits |= stretch(max(opens - base, 0), max(closes - base, 0))
    return bits


def runs(bits: int, length: int) -> int:
    """The bits from which on `length` bits in a row are set."""
    have = 1
    while have < length and bits:
        more = min(have, length - have)
        bits &= bits >> more
        have += more
    return bits


def lowest(bits: int) -> int:
    """The place of the lowest set bit; there must be one."""
    return (bits & -bits).bit_length() - 1


def intervals(bits: int, base: int) -> list[Interval]:
    """The runs of set bits as intervals of minutes, first and last minute both included."""
    found = []
    while bits:
        low = lowest(bits)
        bits >>= low
        base += low
        length = lowest(~bits)
        found.append((base, base + length - 1))
        bits >>= length
        base += length
    return found
