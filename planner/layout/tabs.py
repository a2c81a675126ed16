"""Where the tabs stand that hold a piece in its panel until it is sawn out."""

from __future__ import annotations

from math import ceil
from typing import Any

import numpy as np
from shapely import MultiPoint, Polygon

from planner.errors import MakingError

APART_IN = 8.0
FEWEST_TABS = 3
"""Common practice, no source: three tabs at least, so that a piece cannot rock, and one every 8 inches or so."""
SHARP_COS = 0.87
"""A corner that turns by more than about 30 degrees is hard to sand a tab off."""
STARTS = 32


def tabs_for(outline: Polygon) -> int:
    """How many tabs hold a piece where nobody has said: one every 8 inches of its outline, three at least."""
    return max(FEWEST_TABS, ceil(float(outline.exterior.length) / APART_IN))


def tab_places(outline: Polygon, count: int) -> tuple[tuple[float, float], ...]:
    """The middles of so many tabs: evenly along a piece's outline, as far from its corners as can be.

    Inches, in the outline's own place. Raises MakingError for fewer than 0 tabs.
    """
    if count < 0:
        raise MakingError(f"A piece is held by 0 tabs or more, not {count}.")
    if count == 0:
        return ()
    rim = outline.exterior
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
