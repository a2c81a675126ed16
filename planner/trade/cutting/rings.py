"""The rounds of a bit over an area: real inward offsets, one step-over after the other, linked into runs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from shapely import MultiPolygon, Polygon

from planner.trade.cutting.motion import Points

SIMPLER_IN = 0.001
"""Outlines are drawn with fewer points than this matters to a router."""
QUARTER_STEPS = 12
NEAR = 1.6
"""So many step-overs from one round to the next the bit stays down; farther it lifts."""
MOST_ROUNDS = 20_000


def rounds(area: Polygon, first_in: float, step_in: float) -> list[Points]:
    """Closed rings, the innermost first: the bit's middle goes at `first_in`, `first_in + step_in`, ... inside the edge
    until nothing is left, holes gone round as well; a last one half a step in where a full one leaves a core."""
    found: list[Points] = []
    simpler = area.simplify(SIMPLER_IN)
    inside, at_in = _offset(simpler, first_in), first_in
    while not inside.is_empty and len(found) < MOST_ROUNDS:
        found += _rings(inside)
        at_in += step_in
        inside = _offset(simpler, at_in)
    core = _offset(simpler, at_in - step_in / 2)
    if not core.is_empty and at_in > first_in:
        found += _rings(core)
    return found[::-1]


def linked(rings: Sequence[Points], step_in: float) -> Iterator[Points]:
    """The rings as runs: from each the bit goes on to the nearest left, staying down where that is near."""
    left = list(rings)
    if not left:
        return
    run = [_closed(left.pop(0), 0)]
    while left:
        here = run[-1][-1]
        distances = [np.hypot(*(ring - here).T) for ring in left]
        nearest = int(np.argmin([each.min() for each in distances]))
        start = int(np.argmin(distances[nearest]))
        apart = float(distances[nearest][start])
        ring = _closed(left.pop(nearest), start)
        if apart > NEAR * step_in:
            yield np.concatenate(run)
            run = [ring]
        else:
            run.append(ring)
    yield np.concatenate(run)


def _offset(area: Polygon, by_in: float) -> Polygon | MultiPolygon:
    return area.buffer(-by_in, quad_segs=QUARTER_STEPS) if by_in else area


def _rings(shape: Polygon | MultiPolygon) -> list[Points]:
    parts = shape.geoms if isinstance(shape, MultiPolygon) else [shape]
    return [np.asarray(ring.coords)[:-1] for part in parts for ring in (part.exterior, *part.interiors)]


def _closed(ring: Points, start: int) -> Points:
    turned = np.roll(ring, -start, axis=0)
    return np.concatenate([turned, turned[:1]])
