"""A rim round a shape: grown outward from its inner edge, or drawn in from its outer one."""

from __future__ import annotations

from math import acos, ceil, isfinite, pi

from shapely import MultiPolygon, Polygon

from planner.errors import OutlineError
from planner.trade.outlines.polygons import LEAST_IN2

ARC_ERROR_IN = 0.0005
"""How far an arc's chord may lie from the arc: finer than anybody sands."""

SNUG_IN = 0.002
"""An area narrower than a bit by no more was meant to be as wide as it: drawings are read to a thousandth."""


def grown(inner: Polygon, rim_in: float) -> Polygon:
    """The outline with a rim of `rim_in` inches all round `inner`, its convex corners round by as much.

    Holes of `inner` are filled. Raises OutlineError for a rim that is not more than 0.
    """
    _check(rim_in)
    return Polygon(_offset(Polygon(inner.exterior), rim_in).exterior)


def inset(outline: Polygon, rim_in: float) -> tuple[Polygon, ...]:
    """What is left inside a rim of `rim_in` inches: one polygon, several where the outline is narrow, none at all.

    Raises OutlineError for a rim that is not more than 0.
    """
    _check(rim_in)
    return polygons_of(_offset(outline, -rim_in))


def opened(polygon: Polygon, radius_in: float) -> Polygon | MultiPolygon:
    """What a disc of that radius reaches inside: convex corners as round as the disc."""
    return _offset(_offset(polygon, -radius_in), radius_in)


def entered(pocket: Polygon, bit_diameter_in: float) -> Polygon | MultiPolygon:
    """What a bit reaches in a pocket, one just as wide as the bit included; empty where it doesn't enter."""
    reached = opened(pocket, bit_diameter_in / 2)
    return opened(pocket, (bit_diameter_in - SNUG_IN) / 2) if reached.is_empty else reached


def closed(polygon: Polygon, radius_in: float) -> Polygon | MultiPolygon:
    """What a disc of that radius can't reach outside is filled: hollow corners as round as the disc."""
    return _offset(_offset(polygon, radius_in), -radius_in)


def polygons_of(shape: Polygon | MultiPolygon) -> tuple[Polygon, ...]:
    """Its polygons that are large enough to be meant, the largest first."""
    parts = shape.geoms if isinstance(shape, MultiPolygon) else (shape,)
    kept = [part for part in parts if not part.is_empty and part.area >= LEAST_IN2]
    return tuple(sorted(kept, key=lambda part: -part.area))


def quarter_steps(radius_in: float) -> int:
    """How many chords a quarter circle needs so that none lies farther than `ARC_ERROR_IN` from it."""
    if radius_in <= 2 * ARC_ERROR_IN:
        return 4
    return max(4, ceil(pi / 4 / acos(1 - ARC_ERROR_IN / radius_in)))


def _offset(shape: Polygon | MultiPolygon, by_in: float) -> Polygon | MultiPolygon:
    return shape.buffer(by_in, quad_segs=quarter_steps(abs(by_in)))


def _check(rim_in: float) -> None:
    if not (isfinite(rim_in) and rim_in > 0):
        raise OutlineError(f"A rim is more than 0 inches wide, not {rim_in:g}.")
