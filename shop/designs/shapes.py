"""A design's outline, pockets and carved lines as geometry in inches, from the lower left corner of its box."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache

from shapely import LineString, Polygon

from planner import NM_PER_INCH, Workpiece, inset, outline_of, polygon_from, polygon_of
from shop.designs.models import Design
from shop.figures.models import Figures

Point = tuple[float, float]


def outline_in(design: Design) -> tuple[Point, ...]:
    """For drawing: the points of the outline."""
    return outline_of(*_facts(design))


def outline(design: Design) -> Polygon:
    return _outline(_facts(design))


def pockets(design: Design) -> tuple[Polygon, ...]:
    """Those of its own, else the outline drawn in by the rim; none without a pocket depth."""
    if not design.pocket_depth_nm:
        return ()
    if design.pockets:
        return drawn_pockets(design)
    return _drawn_in(_facts(design), design.rim_nm / NM_PER_INCH) if design.rim_nm else ()


def drawn_pockets(design: Design) -> tuple[Polygon, ...]:
    """The pockets of its own, from its drawing."""
    return tuple(_pocket(tuple(tuple(_sized(design, ring)) for ring in rings)) for rings in design.pockets)


def carving(design: Design) -> tuple[LineString, ...]:
    return tuple(LineString(_sized(design, line)) for line in design.carving)


# A page asks for the same shapes again and again, and a jagged outline takes tenths of a second to make.
@lru_cache(maxsize=64)
def _outline(facts: tuple) -> Polygon:
    return polygon_of(*facts)


@lru_cache(maxsize=64)
def _drawn_in(facts: tuple, rim_in: float) -> tuple[Polygon, ...]:
    return tuple(inset(_outline(facts), rim_in))


@lru_cache(maxsize=256)
def _pocket(rings: tuple[tuple[Point, ...], ...]) -> Polygon:
    edge, *islands = (polygon_from(ring, "pocket") for ring in rings)
    return Polygon(edge.exterior, [island.exterior for island in islands])


def workpiece(design: Design) -> Workpiece:
    """The design as the router's sums see it."""
    return Workpiece(outline(design), design.stock_thickness_nm / NM_PER_INCH, pockets(design), carving(design))


def shares(points: Iterable[Point], length_in: float, width_in: float) -> list[list[float]]:
    """Points in inches as shares of length and width, as rows keep them: a design that grows keeps its shape."""
    return [[_share(x, length_in), _share(y, width_in)] for x, y in points]


def _share(value_in: float, whole_in: float) -> float:
    return min(1.0, max(0.0, round(value_in / whole_in, 6)))


def _sized(design: Design, points: Sequence[Sequence[float]]) -> list[Point]:
    length_in, width_in = size_in(design)
    return [(x * length_in, y * width_in) for x, y in points]


def size_in(design: Design) -> tuple[float, float]:
    return design.length_nm / NM_PER_INCH, design.width_nm / NM_PER_INCH


def blank_nm(design: Design, figures: Figures) -> tuple[int, int]:
    """Length and width of the blank it is cut from: the workshop's margin all round."""
    around = 2 * figures.edge_margin_nm
    return design.length_nm + around, design.width_nm + around


def _facts(design: Design) -> tuple:
    length_in, width_in = size_in(design)
    return (
        design.shape,
        length_in,
        width_in,
        design.corner_radius_nm / NM_PER_INCH,
        tuple(map(tuple, design.outline)),
        design.sides,
    )
