"""Where the tabs stand that hold a piece in its panel until it is sawn out."""

from __future__ import annotations

from math import ceil, isfinite
from typing import Any

import numpy as np
from shapely import MultiPoint, Polygon

from planner.errors import MakingError

APART_IN = 8.0
LEAST = 3
"""Common practice, no source: three tabs at least, so that a piece cannot rock, and one every 8 inches or so."""
SHARP_COS = 0.87
"""A corner that turns by more than about 30 degrees is hard to sand a tab off."""
STARTS = 32


def tab_places(outline: Polygon, apart_in: float = APART_IN) -> tuple[tuple[float, float], ...]:
    """The middles of a piece's tabs: evenly along its outline, at most `apart_in` apart, as far from corners as can be.

    Three tabs at least; inches, in the outline's own place. Raises MakingError where `apart_in` is not more than 0.
    """
    if not isfinite(apart_in) or apart_in <= 0:
        raise MakingError(f"Tabs stand more than 0 inches apart, not {apart_in:g}.")
    rim = outline.exterior
    count = max(LEAST, ceil(rim.length / apart_in))
    corners = _sharp_corners(np.asarray(rim.coords)[:-1])
    ways = [
        [rim.interpolate((n + start / STARTS) / count, normalized=True) for n in range(count)]
        for start in range(STARTS)
    ]
    best = max(ways, key=lambda way: min(corners.distance(point) for point in way)) if len(corners.geoms) else ways[0]
    return tuple((point.x, point.y) for point in best)


def _sharp_corners(points: np.ndarray[Any, Any]) -> MultiPoint:
    into, out = points - np.roll(points, 1, axis=0), np.roll(points, -1, axis=0) - points
    turn = (into * out).sum(axis=1) / (np.linalg.norm(into, axis=1) * np.linalg.norm(out, axis=1))
    return MultiPoint(points[turn < SHARP_COS])
