"""Minutes as the bits of whole numbers: bit i is minute base + i, and a set bit is a free minute.

A calendar of three months is 16 KB, and asking it for room costs a few shifts instead of a walk over bookings.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from operator import or_, xor

from planner.parts import Interval


def stretch(start: int, end: int) -> int:
    """The bits from `start` up to, not including, `end`."""
    return ((1 << (end - start)) - 1) << start if end > start else 0


class Calendar:
    """Minutes from a base on, packed eight to a byte: a look at some of them costs no more than those.

    One whole number would be copied, however long, by each look and each change.
    """

    def __init__(self, packed: bytearray) -> None:
        self.packed = packed

    @classmethod
    def of(cls, intervals: Iterable[Interval], base: int) -> Calendar:
        """The minutes of half-open intervals from `base` on."""
        known = [(max(opens - base, 0), closes - base) for opens, closes in intervals if closes > base]
        calendar = cls(bytearray(max((closes for _, closes in known), default=0) // 8 + 1))
        for opens, closes in known:
            calendar._change(opens, closes, or_)
        return calendar

    def copy(self) -> Calendar:
        return Calendar(self.packed[:])

    @property
    def bits(self) -> int:
        """All of them as one number."""
        return int.from_bytes(self.packed, "little")

    def between(self, start: int, end: int) -> int:
        """The bits from `start` up to, not including, `end`, the first of them bit 0."""
        first = start // 8
        bits = int.from_bytes(self.packed[first : (end + 7) // 8], "little")
        return (bits >> start % 8) & stretch(0, end - start)

    def flip(self, start: int, end: int) -> None:
        """Take free minutes, or give taken ones back."""
        self._change(start, end, xor)

    def clear(self, start: int, end: int) -> None:
        """Take those of these minutes that are free."""
        for opens, closes in intervals(self.between(start, end), start):
            self.flip(opens, closes + 1)

    def _change(self, start: int, end: int, by: Callable[[int, int], int]) -> None:
        first, last = start // 8, (end + 7) // 8
        bits = by(int.from_bytes(self.packed[first:last], "little"), stretch(start - 8 * first, end - 8 * first))
        self.packed[first:last] = bits.to_bytes(last - first, "little")


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
    digits = f"{bits:b}"[::-1] + "0"  # text: to shift each run out of the number would copy the rest each time
    opens = digits.find("1")
    while opens >= 0:
        closes = digits.find("0", opens)
        found.append((base + opens, base + closes - 1))
        opens = digits.find("1", closes)
    return found
