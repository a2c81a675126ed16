"""Rectangles laid from the bottom up: always into the lowest hollow of the upper edge, the piece that fits it best.

Method: E. K. Burke, G. Kendall, G. Whitwell, A New Placement Heuristic for the Orthogonal Stock-Cutting Problem,
Operations Research 52 (2004), with how well a piece fits judged as in S. Leung, D. Zhang, K. M. Sim, A Two-Stage
Intelligent Search Algorithm for the Two-Dimensional Strip Packing Problem, EJOR 215 (2011) (both from memory).
"""

from __future__ import annotations

from collections.abc import Sequence

from planner.layout.boxes import Box, Spot
from planner.layout.rooms import HAIR_IN, Size

Edge = list[list[float]]
"""The upper edge from left to right: x, length and height of each level."""


def fill_hollows(boxes: Sequence[Box], order: Sequence[int], zone: Size) -> dict[int, Spot]:
    """A spot for each box that found one; of boxes that fit a hollow as well, the first in `order` goes there."""
    edge: Edge = [[0.0, zone[0], 0.0]]
    spots: dict[int, Spot] = {}
    left = list(order)
    while left:
        at = min(range(len(edge)), key=lambda n: (edge[n][2], n))
        x, room, low = edge[at]
        before = edge[at - 1][2] if at else zone[1]
        after = edge[at + 1][2] if at + 1 < len(edge) else zone[1]
        best = _best(boxes, left, (room, zone[1] - low), (before - low, after - low))
        if best is None:
            if len(edge) == 1:
                break
            edge[at][2] = min(before, after)
            _level(edge)
            continue
        number, length, width, turned = best
        leans_left = abs(width - (after - low)) > HAIR_IN and (
            abs(width - (before - low)) <= HAIR_IN or before >= after or at == 0
        )
        spots[number] = (x if leans_left else x + room - length, low, turned)
        _raise(edge, at, length, low + width, leans_left=leans_left)
        left.remove(number)
    return spots


def _best(boxes: Sequence[Box], left: Sequence[int], room: Size, walls: Size) -> tuple[int, float, float, bool] | None:
    """The box, its sides as it lies and whether it is turned: the one that leaves the fewest new corners."""
    best, most = None, -1
    full, high, one, other = room[0] + HAIR_IN, room[1] + HAIR_IN, walls[0], walls[1]
    for number in left:
        long, wide, may_turn = boxes[number]
        for turned in (False, True) if may_turn else (False,):
            length, width = (wide, long) if turned else (long, wide)
            if length > full or width > high:
                continue
            fit = 4 if length > room[0] - HAIR_IN else 0
            level = abs(width - one) <= HAIR_IN
            level_there = abs(width - other) <= HAIR_IN
            fit += 2 if level or level_there else 0
            fit += 1 if level and level_there and fit > 4 else 0
            if fit > most:
                best, most = (number, length, width, turned), fit
                if fit == 7:
                    return best
    return best


def _raise(edge: Edge, at: int, length: float, height: float, *, leans_left: bool) -> None:
    x, room, low = edge[at]
    rest = room - length
    if rest <= HAIR_IN:
        edge[at] = [x, room, height]
    elif leans_left:
        edge[at : at + 1] = [[x, length, height], [x + length, rest, low]]
    else:
        edge[at : at + 1] = [[x, rest, low], [x + rest, length, height]]
    _level(edge)


def _level(edge: Edge) -> None:
    """Neighbours of one height become one."""
    for n in range(len(edge) - 1, 0, -1):
        if abs(edge[n][2] - edge[n - 1][2]) <= HAIR_IN:
            edge[n - 1][1] += edge[n][1]
            del edge[n]
