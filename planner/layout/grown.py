"""Outlines as a nest lays them: grown by half the spacing, so that pieces may touch, and with few corners.

Whatever is simplified is simplified outward: a grown outline always holds all that lies within half the spacing.
"""

from __future__ import annotations

from math import cos, pi

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon
from shapely.affinity import translate
from shapely.geometry import Point

SIDES_OF_ROUND = 48
SHARPEST = 1.5
"""Corners grow to points up to this many times the distance, sharper ones are cut off there: still outside the arc."""
FINE_IN, FINE_SHARE = 0.01, 0.002
LEAST_SPACING_IN = 1e-9
"""Buffers of less come out empty."""
PARTS_LIKE_HULL = 0.005
"""An outline whose hull is larger by less than this share is laid as its hull."""


def grown(outline: Polygon, spacing_in: float, *, is_round: bool = False) -> Polygon:
    """The outline grown by half the spacing, simplified outward by no more than about a hundredth of an inch."""
    if is_round:
        return _around(outline.envelope.centroid, (diameter_around(outline) + spacing_in) / 2)
    fine = max(FINE_IN, FINE_SHARE * max(outline.bounds[2] - outline.bounds[0], outline.bounds[3] - outline.bounds[1]))
    simple, rim = outline, len(outline.exterior.coords)
    if rim > 9:
        simple = shapely.simplify(outline, fine)
        simple = _whole(simple.buffer(fine, join_style="mitre", mitre_limit=SHARPEST), outline)
    larger = simple
    if spacing_in > LEAST_SPACING_IN:
        larger = _whole(simple.buffer(spacing_in / 2, join_style="mitre", mitre_limit=SHARPEST), simple)
    hull = larger.convex_hull
    return hull if hull.area <= larger.area * (1 + PARTS_LIKE_HULL) else larger


def no_fit(fixed: Polygon, moving: Polygon) -> Polygon | MultiPolygon:
    """Where the lower left corner of `moving`'s box must not be, `fixed` lying as it does: their Minkowski difference.

    Outlines are taken apart into convex parts; the difference of two convex parts is the hull of their corners'
    differences. Both outlines are without holes.
    """
    left, low = moving.bounds[:2]
    others = [-(np.asarray(part.exterior.coords)[:-1] - (left, low)) for part in convex_parts(moving)]
    hulls = [
        shapely.MultiPoint((ours[:, None, :] + other[None, :, :]).reshape(-1, 2)).convex_hull
        for ours in (np.asarray(part.exterior.coords)[:-1] for part in convex_parts(fixed))
        for other in others
    ]
    return shapely.union_all(hulls) if len(hulls) > 1 else hulls[0]


def convex_parts(outline: Polygon) -> list[Polygon]:
    """The outline in convex parts: its triangles, joined as long as what comes of it is convex."""
    if _is_convex(outline):
        return [outline.convex_hull]
    parts: list[Polygon] = list(shapely.constrained_delaunay_triangles(outline).geoms)
    joined = True
    while joined:
        joined = _join_two(parts)
    return parts


def _join_two(parts: list[Polygon]) -> bool:
    for n, one in enumerate(parts):
        for m in range(n + 1, len(parts)):
            both = shapely.union(one, parts[m])
            if both.geom_type == "Polygon" and _is_convex(both):
                parts[n] = both.convex_hull
                del parts[m]
                return True
    return False


def _is_convex(outline: Polygon) -> bool:
    return bool(outline.convex_hull.area <= outline.area * (1 + 1e-9))


def diameter_around(outline: Polygon) -> float:
    """The diameter of the circle around a round outline, its middle that of the box."""
    return 2 * float(shapely.hausdorff_distance(outline.envelope.centroid, outline.exterior))


def _around(middle: Point, radius_in: float) -> Polygon:
    """A regular polygon around a circle, a side at each of the four ends of its box."""
    angles = (np.arange(SIDES_OF_ROUND) + 0.5) * 2 * pi / SIDES_OF_ROUND
    corners = np.column_stack((np.cos(angles), np.sin(angles))) * radius_in / cos(pi / SIDES_OF_ROUND)
    return translate(Polygon(corners), middle.x, middle.y)


def _whole(grown_shape: Polygon | MultiPolygon, kept: Polygon) -> Polygon:
    """The grown outline without holes: where it closed on itself, nothing else fits."""
    if grown_shape.geom_type != "Polygon":
        grown_shape = shapely.union_all([grown_shape, kept]).convex_hull
    return Polygon(grown_shape.exterior)
