"""The rounds of a bit over an area: real inward offsets, one step-over after the other, linked into runs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache

import numpy as np
from shapely import LineString, MultiPolygon, Polygon

from planner.trade.cutting.motion import Points

SIMPLER_IN = 0.001
"""Outlines are drawn with fewer points than this matters to a router."""
QUARTER_STEPS = 12
ROUND_SIMPLER_IN = SIMPLER_IN / 4
"""Each round is drawn from the one outside it; without leaving out points their arcs would grow from round to round."""
A_SPECK = 0.002
"""What is smaller, as a share of the bit's radius squared, comes from chords."""
NEAR = 1.6
"""So many step-overs from one round to the next the bit stays down; farther it lifts."""
MOST_ROUNDS = 20_000


@lru_cache(maxsize=16)  # the same at every step-over that an advice compares
def reach(area: Polygon, inside_in: float) -> Polygon | MultiPolygon:
    """Where a bit's middle may go that keeps `inside_in` from the edge; empty where it doesn't enter."""
    simpler = area.simplify(SIMPLER_IN)
    return _inward(simpler, inside_in) if inside_in else simpler


def rounds(outermost: Polygon | MultiPolygon, step_in: float, radius_in: float) -> list[Points]:
    """Closed rings, the innermost first: the bit's middle goes round the edge of its reach, then `step_in` inside the
    last round until nothing is left, holes gone round as well; what two rounds leave between them, as a step-over above
    half the bit does in corners, in arms and in the middle, is gone round by itself."""
    found: list[Points] = []
    last = outermost
    while not last.is_empty and len(found) < MOST_ROUNDS:
        last = last.simplify(ROUND_SIMPLER_IN)
        found += _rings(last)
        inside = _inward(last, step_in)
        if step_in > radius_in:
            found += [ring for core in _left_between(last, inside, radius_in) for ring in _rings(core)]
        last = inside
    return found[::-1]


def _left_between(last: Polygon | MultiPolygon, inside: Polygon | MultiPolygon, radius_in: float) -> Iterator[Polygon]:
    """What lies deeper inside the last round than the bit reaches from it, and is not reached from the next one."""
    missed = _inward(last, radius_in).difference(inside.buffer(radius_in, quad_segs=QUARTER_STEPS))
    for part in getattr(missed, "geoms", (missed,)):
        if isinstance(part, Polygon) and part.area > A_SPECK * radius_in**2:
            yield part.simplify(ROUND_SIMPLER_IN)


def along(sliver: Polygon) -> LineString:
    """The line through a sliver, from one of its ends to the other: one side of its edge between the two."""
    ring = np.asarray(sliver.exterior.coords)[:-1]
    apart = np.hypot(*(ring[:, None] - ring[None, :]).T)
    first, last = sorted(int(place) for place in np.unravel_index(int(apart.argmax()), apart.shape))
    return LineString(ring[first : last + 1])


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


def _inward(area: Polygon | MultiPolygon, by_in: float) -> Polygon | MultiPolygon:
    return area.buffer(-by_in, quad_segs=QUARTER_STEPS)


def _polygons(shape: Polygon | MultiPolygon) -> Sequence[Polygon]:
    if shape.is_empty:
        return ()
    return tuple(shape.geoms) if isinstance(shape, MultiPolygon) else (shape,)


def _rings(shape: Polygon | MultiPolygon) -> list[Points]:
    return [np.asarray(ring.coords)[:-1] for part in _polygons(shape) for ring in (part.exterior, *part.interiors)]


def _closed(ring: Points, start: int) -> Points:
    turned = np.roll(ring, -start, axis=0)
    return np.concatenate([turned, turned[:1]])
