"""Rectangles to be laid in a zone, and how much of them found a spot."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from planner.layout.rooms import Rect, Rule, Size, choices, without

Box = tuple[float, float, bool]
"""Length, width, and whether it may be turned a quarter."""
Spot = tuple[float, float, bool]
"""x, y and whether it is turned a quarter."""


def fill_rooms(
    boxes: Sequence[Box], order: Iterable[int], zone: Size, rule: Rule, spots: dict[int, Spot] | None = None
) -> dict[int, Spot]:
    """A spot for each box that found one, taken in order, each where `rule` likes it best beside `spots`."""
    free: list[Rect] = [(0.0, 0.0, *zone)]
    found = dict(spots or {})
    for number, spot in found.items():
        free = without(free, lying(boxes[number], spot))
    for number in order:
        if number in found:
            continue
        length, width, may_turn = boxes[number]
        best = min(choices(free, (length, width), rule, may_turn=may_turn), default=None)
        if best is not None:
            found[number] = best[1:]
            free = without(free, lying(boxes[number], best[1:]))
    return found


def lying(box: Box, spot: Spot) -> Rect:
    """What a box covers at its spot."""
    return (spot[0], spot[1], box[1], box[0]) if spot[2] else (spot[0], spot[1], box[0], box[1])
