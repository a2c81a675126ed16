"""A design's outline, pockets and carved lines as geometry in inches, from the lower left corner of its box."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from shapely import LineString, Polygon

from planner import NM_PER_INCH, Workpiece, inset, outline_of, polygon_from, polygon_of
from shop.designs.models import Design

Point = tuple[float, float]


def outline_in(design: Design) -> tuple[Point, ...]:
    """For drawing: the points of the outline."""
    return outline_of(*_facts(design))


def outline(design: Design) -> Polygon:
    return polygon_of(*_facts(design))


def pockets(design: Design) -> tuple[Polygon, ...]:
    """Those of its own, else the outline drawn in by the rim; none without a pocket depth."""
    if not design.pocket_depth_nm:
        return ()
    if design.pockets:
        return drawn_pockets(design)
    return tuple(inset(outline(design), design.rim_nm / NM_PER_INCH)) if design.rim_nm else ()


def drawn_pockets(design: Design) -> tuple[Polygon, ...]:
    """The pockets of its own, from its drawing."""
    return tuple(_pocket(design, rings) for rings in design.pockets)


def _pocket(design: Design, rings: Sequence) -> Polygon:
    edge, *islands = (polygon_from(_sized(design, ring), "pocket") for ring in rings)
    return Polygon(edge.exterior, [island.exterior for island in islands])


def carving(design: Design) -> tuple[LineString, ...]:
    return tuple(LineString(_sized(design, line)) for line in design.carving)


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


def _facts(design: Design) -> tuple:
    length_in, width_in = size_in(design)
    return (
        design.shape,
        length_in,
        width_in,
        design.corner_radius_nm / NM_PER_INCH,
        design.outline,
        design.sides,
    )
