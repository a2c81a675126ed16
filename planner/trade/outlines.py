"""Outlines of designs, flattened to polygons: for drawing, not for cutting."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import cos, pi, sin

from planner.errors import PlannerError

Point = tuple[float, float]

OVAL_SIDES = 64
CORNER_SIDES = 8


def outline_of(
    shape: str, length_in: float, width_in: float, corner_radius_in: float, points: Sequence[Sequence[float]]
) -> tuple[Point, ...]:
    """The outline, counter-clockwise, in inches from the lower left corner of its box; length lies along x.

    `shape` is rectangle (its corners round by `corner_radius_in`, at most half the shorter side), oval, hexagon (a flat
    side at each long edge) or free (`points` from 0 to 1 of length and width). Raises PlannerError for any other shape,
    for a size of 0 and for a free outline with fewer than 3 points or with points outside its box.
    """
    if shape not in _SHAPES:
        raise PlannerError(f"“{shape}” is no shape; it is one of {', '.join(_SHAPES)}.")
    if not (length_in > 0 and width_in > 0):
        raise PlannerError(
            f"An outline of {length_in:g} × {width_in:g} in has no inside; give both a length and a width."
        )
    unit = _SHAPES[shape](length_in, width_in, corner_radius_in, points)
    return tuple((x * length_in, y * width_in) for x, y in unit)


def _rectangle(length_in: float, width_in: float, corner_radius_in: float, _points: object) -> list[Point]:
    radius = min(max(corner_radius_in, 0.0), length_in / 2, width_in / 2)
    if radius == 0:
        return [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]
    along, across = radius / length_in, radius / width_in
    corners = [
        (1 - along, across, -pi / 2),
        (1 - along, 1 - across, 0.0),
        (along, 1 - across, pi / 2),
        (along, across, pi),
    ]
    return [
        (x + along * cos(start + turn), y + across * sin(start + turn))
        for x, y, start in corners
        for turn in (n * pi / 2 / CORNER_SIDES for n in range(CORNER_SIDES + 1))
    ]


def _oval(*_: object) -> list[Point]:
    turns = (2 * pi * n / OVAL_SIDES for n in range(OVAL_SIDES))
    return [(0.5 + cos(turn) / 2, 0.5 + sin(turn) / 2) for turn in turns]


def _hexagon(*_: object) -> list[Point]:
    return [(1.0, 0.5), (0.75, 1.0), (0.25, 1.0), (0.0, 0.5), (0.25, 0.0), (0.75, 0.0)]


def _free(_length_in: float, _width_in: float, _radius_in: float, points: Sequence[Sequence[float]]) -> list[Point]:
    if len(points) < 3:
        raise PlannerError(f"A free outline has 3 points or more, not {len(points)}.")
    for point in points:
        if len(point) != 2 or not all(0 <= value <= 1 for value in point):
            raise PlannerError(f"The point {list(point)} of a free outline is not two numbers from 0 to 1.")
    return [(float(x), float(y)) for x, y in points]


_SHAPES: dict[str, Callable[[float, float, float, Sequence[Sequence[float]]], list[Point]]] = {
    "rectangle": _rectangle,
    "oval": _oval,
    "hexagon": _hexagon,
    "free": _free,
}
