"""A drawing read: its outline, the pockets and the carved lines in it, in inches."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from shapely import LineString, Polygon, get_num_coordinates, prepare
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from planner.errors import OutlineError
from planner.trade.outlines.flattening import Stroke, strokes_of
from planner.trade.outlines.gate import safe_svg
from planner.trade.outlines.polygons import checked, polygon_from
from planner.trade.outlines.shapes import Point

HAIR_IN = 0.002
"""Shapes that lie nearer than this are one drawn twice, or lie inside all the same."""
SIMPLER_IN = 0.001
MOST_SHAPES = 200
MOST_LINES = 300
MOST_DRAWN_POINTS = 12_000
"""To simplify them takes as long as they are many, squared."""
MOST_POINTS = 5_000
"""Of all closed shapes together, once they are simplified."""
A_DOT_IN = 0.02


@dataclass(frozen=True)
class Drawing:
    """What a file says: all in inches, the lower left corner of the outline's box at 0, 0, y up.

    `pockets` are closed shapes inside the outline, with islands where shapes lie in them; `lines` are open ones.
    `says_its_size` is false where the file names no units: then programs disagree how large it is, and somebody has to
    say so.
    """

    outline: Polygon
    pockets: tuple[Polygon, ...]
    lines: tuple[LineString, ...]
    says_its_size: bool

    @property
    def length_in(self) -> float:
        return float(self.outline.bounds[2])

    @property
    def width_in(self) -> float:
        return float(self.outline.bounds[3])


def read_svg(data: bytes) -> Drawing:
    """The outline, pockets and lines of an SVG file.

    The largest closed shape is the outline and all else lies in it. Units and viewBox are honoured (SVG 1.1, chapter
    7); without units 96 are an inch. Raises OutlineError, in one sentence, for a file that is too large, no SVG,
    carries entities, scripts, pictures or references, or draws no one closed outline that doesn't cross itself.

    >>> frame = b'<svg xmlns="http://www.w3.org/2000/svg" width="4in" height="2in">%s</svg>'
    >>> round(read_svg(frame % b'<circle cx="2in" cy="1in" r="1in"/>').length_in, 3)
    2.0
    """
    safe = safe_svg(data)
    strokes = strokes_of(safe.text)
    _check_count(strokes)
    if not any(stroke.is_closed for stroke in strokes):
        raise OutlineError(_nothing_closed(strokes))
    simpler = [LineString(_joined(stroke)).simplify(SIMPLER_IN) for stroke in strokes]
    closed = [(stroke, line) for stroke, line in zip(strokes, simpler, strict=True) if stroke.is_closed]
    lines = [line for stroke, line in zip(strokes, simpler, strict=True) if not stroke.is_closed]
    _check_bends([line for _, line in closed])
    drawn = [_ring(stroke, line) for stroke, line in closed]
    _check_bends(drawn)
    outer, *inner = sorted(_without_twins(drawn), key=lambda ring: -ring.area)
    _check_shapes(1 + len(inner))
    _check_inside(outer, inner, lines)
    left, low = outer.bounds[:2]
    return Drawing(
        _moved(outer, left, low),
        tuple(_moved(pocket, left, low) for pocket in _pockets(inner)),
        tuple(translate(line, -left, -low) for line in lines if line.length > HAIR_IN),
        safe.says_its_size,
    )


def _check_count(strokes: Sequence[Stroke]) -> None:
    """Before any point is made. A shape may be drawn twice, filled and edged."""
    closed = sum(stroke.is_closed for stroke in strokes)
    _check_shapes(ceil(closed / 2))
    if len(strokes) - closed > MOST_LINES:
        raise OutlineError(f"The drawing has more than {MOST_LINES} open lines; carve fewer, or join them.")
    if sum(stroke.count for stroke in strokes) > MOST_DRAWN_POINTS:
        raise OutlineError(f"The drawing has more than {MOST_DRAWN_POINTS} points; simplify its outline.")


def _check_shapes(count: int) -> None:
    if count > MOST_SHAPES:
        raise OutlineError(f"The drawing has more than {MOST_SHAPES} closed shapes; draw the outline and its pockets.")


def _check_bends(shapes: Sequence[BaseGeometry]) -> None:
    if sum(get_num_coordinates(shapes)) > MOST_POINTS:
        raise OutlineError(f"The drawing has more than {MOST_POINTS} points where it bends; simplify its outline.")


def _joined(stroke: Stroke) -> Sequence[Point]:
    return (*stroke.points, stroke.points[0]) if stroke.is_closed else stroke.points


def _ring(stroke: Stroke, simpler: LineString) -> Polygon:
    """As simple as it can be and not cross itself; if it can't, what is wrong with it is said of all its points."""
    xs, ys = zip(*stroke.points, strict=True)
    if max(xs) - min(xs) < A_DOT_IN and max(ys) - min(ys) < A_DOT_IN:
        raise OutlineError("The drawing has a closed shape no larger than a dot in it; take that out.")
    try:
        return polygon_from(simpler.coords, "shape")
    except OutlineError:
        return polygon_from(stroke.points, "shape")


def _without_twins(rings: Sequence[Polygon]) -> list[Polygon]:
    """A shape drawn twice, once for its filling and once for its edge, is one."""
    kept: list[Polygon] = []
    for ring in rings:
        alike = (each for each in kept if abs(each.area - ring.area) <= HAIR_IN * ring.length)
        if not any(each.hausdorff_distance(ring) <= HAIR_IN for each in alike):
            kept.append(ring)
    return kept


def _check_inside(outer: Polygon, inner: Sequence[Polygon], lines: Sequence[LineString]) -> None:
    room = outer.buffer(HAIR_IN)
    prepare(room)
    for ring in inner:
        if room.covers(ring):
            continue
        if outer.disjoint(ring):
            raise OutlineError("The drawing has shapes side by side; keep one outline, with its pockets inside.")
        raise OutlineError("The drawing has shapes that cross each other; join them into one outline.")
    for ring, other in ((a, b) for n, a in enumerate(inner) for b in inner[:n]):
        if ring.boundary.crosses(other.boundary) or ring.overlaps(other):
            raise OutlineError("The drawing has pockets that cross each other; join them into one.")
    for line in lines:
        if not room.covers(line):
            x, y = line.coords[0]
            left, low = outer.bounds[:2]
            raise OutlineError(
                f"A line that begins at {x - left:.2f}, {y - low:.2f} in runs out of the outline; "
                "close it or shorten it."
            )


def _pockets(inner: Sequence[Polygon]) -> list[Polygon]:
    """Even rings are pockets, those right inside them islands, and so on inwards."""
    depth = [sum(other.contains(ring) for other in inner if other is not ring) for ring in inner]
    pockets = []
    for ring, level in zip(inner, depth, strict=True):
        if level % 2 == 0:
            islands = [
                each for each, below in zip(inner, depth, strict=True) if below == level + 1 and ring.contains(each)
            ]
            pockets.append(checked(Polygon(ring.exterior, [each.exterior for each in islands]), "pocket"))
    return pockets


def _moved(shape: Polygon, left: float, low: float) -> Polygon:
    moved: BaseGeometry = translate(shape, -left, -low)
    return Polygon(moved.exterior, moved.interiors) if isinstance(moved, Polygon) else shape


def _nothing_closed(strokes: Sequence[Stroke]) -> str:
    if not strokes:
        return "The drawing has no shape in it."
    longest = max(strokes, key=lambda stroke: LineString(stroke.points).length)
    (x1, y1), (x2, y2) = longest.points[0], longest.points[-1]
    gap = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    return f"The outline is not closed: its ends are {gap:.2f} in apart; join them."
