"""What is left of a panel and worth keeping: rectangles with sides that are long enough, the largest first."""

from __future__ import annotations

from collections.abc import Iterable

from planner.layout.rooms import HAIR_IN, Rect, Size, without


def offcuts_of(panel: Size, taken: Iterable[Rect], least: Size) -> tuple[Rect, ...]:
    """The largest free rectangle of a panel, then the largest of what is left without it, and so on; none overlap.

    `taken` are the rectangles that are gone, the bit's cut included; `least` is the least length along the grain
    and the least width. All in inches, rectangles as x, y, length, width.

    >>> offcuts_of((48.0, 12.0), [(0.0, 0.0, 30.0, 12.0)], (12.0, 4.0))
    ((30.0, 0.0, 18.0, 12.0),)
    """
    free: list[Rect] = [(0.0, 0.0, *panel)]
    for each in taken:
        free = without(free, each)
    kept: list[Rect] = []
    while True:
        large = [room for room in free if room[2] >= least[0] - HAIR_IN and room[3] >= least[1] - HAIR_IN]
        if not large:
            return tuple(kept)
        kept.append(max(large, key=lambda room: (room[2] * room[3], room)))
        free = without(large, kept[-1])
