"""Outlines from parameters."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import cos, isfinite, pi, sin

from shapely import Polygon

from planner.errors import OutlineError
from planner.trade.outlines.polygons import polygon_from
from planner.trade.outlines.rim import opened, polygons_of

Point = tuple[float, float]

OVAL_SIDES = 64
CORNER_SIDES = 8
LEAST_SIDES, MOST_SIDES = 3, 24


def outline_of(
    shape: str,
    length_in: float,
    width_in: float,
    corner_radius_in: float = 0.0,
    points: Sequence[Sequence[float]] = (),
    sides: int = 6,
) -> tuple[Point, ...]:
    """The outline, counter-clockwise, in inches from the lower left corner of its box; length lies along x.

    `shape` is rectangle (its corners round by `corner_radius_in`, at most half the shorter side), oval (round where
    both sides are equal), hexagon (a flat side at each long edge), polygon (so many `sides`, its corners round) or
    free (`points` from 0 to 1 of length and width). Raises OutlineError for any other shape, for a size that is not
    more than 0 and for a free outline with fewer than 3 points or with points outside its box.

    >>> outline_of("rectangle", 2, 1)
    ((0.0, 0.0), (2.0, 0.0), (2.0, 1.0), (0.0, 1.0))
    """
    return _outline(shape, _Facts(length_in, width_in, corner_radius_in, points, sides))


def polygon_of(
    shape: str,
    length_in: float,
    width_in: float,
    corner_radius_in: float = 0.0,
    points: Sequence[Sequence[float]] = (),
    sides: int = 6,
) -> Polygon:
    """The same outline as a polygon in inches. Raises OutlineError also where a free outline crosses itself."""
    facts = _Facts(length_in, width_in, corner_radius_in, points, sides, finer=4)
    return polygon_from(_outline(shape, facts))


@dataclass(frozen=True, slots=True)
class _Facts:
    length_in: float
    width_in: float
    corner_radius_in: float
    points: Sequence[Sequence[float]]
    sides: int
    finer: int = 1  # times as many chords, for sums; drawings do with fewer


def _outline(shape: str, facts: _Facts) -> tuple[Point, ...]:
    if shape not in _SHAPES:
        raise OutlineError(f"“{shape}” is no shape; it is one of {', '.join(_SHAPES)}.")
    if not (isfinite(facts.length_in) and isfinite(facts.width_in) and facts.length_in > 0 and facts.width_in > 0):
        raise OutlineError(
            f"An outline of {facts.length_in:g} × {facts.width_in:g} in has no inside; give both a length and a width."
        )
    if not (isfinite(facts.corner_radius_in) and facts.corner_radius_in >= 0):
        raise OutlineError(f"A corner radius is 0 or more inches, not {facts.corner_radius_in:g}.")
    unit = _SHAPES[shape](facts)
    return tuple((x * facts.length_in, y * facts.width_in) for x, y in unit)


def _rectangle(facts: _Facts) -> list[Point]:
    radius = min(facts.corner_radius_in, facts.length_in / 2, facts.width_in / 2)
    if radius == 0:
        return [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]
    chords = CORNER_SIDES * facts.finer
    along, across = radius / facts.length_in, radius / facts.width_in
    corners = [
        (1 - along, across, -pi / 2),
        (1 - along, 1 - across, 0.0),
        (along, 1 - across, pi / 2),
        (along, across, pi),
    ]
    return [
        (x + along * cos(start + turn), y + across * sin(start + turn))
        for x, y, start in corners
        for turn in (n * pi / 2 / chords for n in range(chords + 1))
    ]


def _oval(facts: _Facts) -> list[Point]:
    chords = OVAL_SIDES * facts.finer
    turns = (2 * pi * n / chords for n in range(chords))
    return [(0.5 + cos(turn) / 2, 0.5 + sin(turn) / 2) for turn in turns]


def _hexagon(_: _Facts) -> list[Point]:
    return [(1.0, 0.5), (0.75, 1.0), (0.25, 1.0), (0.0, 0.5), (0.25, 0.0), (0.75, 0.0)]


def _polygon(facts: _Facts) -> list[Point]:
    """Corners on an ellipse spread over the whole box, a flat side below, then each corner as round as asked."""
    if not LEAST_SIDES <= facts.sides <= MOST_SIDES:
        raise OutlineError(f"A polygon has {LEAST_SIDES} to {MOST_SIDES} corners, not {facts.sides}.")
    turns = (2 * pi * (n + 0.5) / facts.sides - pi / 2 for n in range(facts.sides))
    corners = _spread([(cos(turn), sin(turn)) for turn in turns])
    if facts.corner_radius_in == 0:
        return corners
    sized = Polygon([(x * facts.length_in, y * facts.width_in) for x, y in corners])
    rounded = polygons_of(opened(sized, facts.corner_radius_in))
    if not rounded:
        raise OutlineError(f"Corners round by {facts.corner_radius_in:g} in leave nothing of the polygon.")
    return _spread([(x, y) for x, y in rounded[0].exterior.coords[:-1]])


def _spread(points: Sequence[Point]) -> list[Point]:
    """Over the whole of a box from 0 to 1."""
    lows, highs = zip(*((min(axis), max(axis)) for axis in zip(*points, strict=True)), strict=True)
    return [((x - lows[0]) / (highs[0] - lows[0]), (y - lows[1]) / (highs[1] - lows[1])) for x, y in points]


def _free(facts: _Facts) -> list[Point]:
    points = facts.points
    if len(points) < 3:
        raise OutlineError(f"A free outline has 3 points or more, not {len(points)}.")
    for point in points:
        if len(point) != 2 or not all(0 <= value <= 1 for value in point):
            raise OutlineError(f"The point {list(point)} of a free outline is not two numbers from 0 to 1.")
    return [(float(x), float(y)) for x, y in points]


_SHAPES: dict[str, Callable[[_Facts], list[Point]]] = {
    "rectangle": _rectangle,
    "oval": _oval,
    "hexagon": _hexagon,
    "polygon": _polygon,
    "free": _free,
}
