"""The free room of a bed or panel, kept as all its largest rectangles, and where in it a rectangle goes.

Method: J. Jylänki, A Thousand Ways to Pack the Bin, 2010 (from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

Size = tuple[float, float]
Rect = tuple[float, float, float, float]
"""x, y, length and width."""

HAIR_IN = 1e-6
"""Sizes come from whole nanometres through floats; less than this is no overlap."""

Score = tuple[float, float]
Rule = Callable[[Rect, Size], Score]


def short_side_fit(room: Rect, size: Size) -> Score:
    """Where the least is left beside it on the shorter side."""
    left = (room[2] - size[0], room[3] - size[1])
    return min(left), max(left)


def lower_left(room: Rect, size: Size) -> Score:
    """Where its upper edge is lowest, then the farthest left."""
    return room[1] + size[1], room[0]


def left_most(room: Rect, size: Size) -> Score:
    """Where its right edge is farthest left, then the lowest."""
    return room[0] + size[0], room[1]


def area_fit(room: Rect, size: Size) -> Score:
    """In the room that is least larger than it is."""
    return room[2] * room[3] - size[0] * size[1], min(room[2] - size[0], room[3] - size[1])


def choices(
    free: Iterable[Rect], size: Size, rule: Rule, *, may_turn: bool = True
) -> Iterable[tuple[Score, float, float, bool]]:
    """Each way in which a rectangle goes into the lower left corner of a free room: score, x, y, turned a quarter."""
    ways = [(size, False)]
    if may_turn and size[0] != size[1]:
        ways.append(((size[1], size[0]), True))
    for room in free:
        for way, turned in ways:
            if goes_in(way, room[2:]):
                yield rule(room, way), room[0], room[1], turned


def goes_in(size: Size, room: Size) -> bool:
    """Whether a rectangle is no larger than a room, as it lies."""
    return size[0] <= room[0] + HAIR_IN and size[1] <= room[1] + HAIR_IN


def without(free: Iterable[Rect], taken: Rect) -> list[Rect]:
    """The largest free rectangles that are left when `taken` is cut out."""
    kept: list[Rect] = []
    cut: dict[Rect, None] = {}
    for room in free:
        parts = _cut(room, taken)
        if parts is None:
            kept.append(room)
        else:
            cut.update(dict.fromkeys(parts))
    # What was not cut was held by no other before, so it can only hold others now.
    new = list(cut)
    left = [
        room
        for room in new
        if not any(_holds(other, room) for other in kept) and not any(_holds(o, room) for o in new if o != room)
    ]
    return kept + left


def _cut(room: Rect, taken: Rect) -> list[Rect] | None:
    """What `taken` leaves of a room; None where it doesn't touch it."""
    x, y, length, width = room
    left, low, right, high = taken[0], taken[1], taken[0] + taken[2], taken[1] + taken[3]
    if right <= x or left >= x + length or high <= y or low >= y + width:
        return None
    parts = [
        (x, y, left - x, width),
        (right, y, x + length - right, width),
        (x, y, length, low - y),
        (x, high, length, y + width - high),
    ]
    return [part for part in parts if part[2] > HAIR_IN and part[3] > HAIR_IN]


def _holds(outer: Rect, inner: Rect) -> bool:
    return (
        outer[0] <= inner[0]
        and outer[1] <= inner[1]
        and inner[0] + inner[2] <= outer[0] + outer[2]
        and inner[1] + inner[3] <= outer[1] + outer[3]
    )
