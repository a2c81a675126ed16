"""The rounds of a bit over an area: real inward offsets, one step-over after the other, linked into runs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache

import numpy as np
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from planner.trade.cutting.motion import Points
from planner.trade.outlines.rim import SNUG_IN

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
SAME_WAY_IN = 10 * SNUG_IN
"""The two sides of a slot that is only just wide enough lie nearer than this: the bit goes along once."""
SIDES_COMPARED = 24


@lru_cache(maxsize=16)  # the same at every step-over that an advice compares
def reach(area: Polygon, inside_in: float) -> Polygon | MultiPolygon:
    """Where a bit's middle may go to and fro that keeps `inside_in` from the edge; empty where it doesn't enter."""
    simpler = area.simplify(SIMPLER_IN)
    if not inside_in:
        return simpler
    found = _polygons(_inward(simpler, inside_in))
    return MultiPolygon([each for each in found if not _inward(each, SNUG_IN).is_empty])


@lru_cache(maxsize=16)
def slots(area: Polygon, radius_in: float) -> MultiPolygon:
    """Where a bit's middle may go in what of an area is just as wide as the bit, as slivers; empty where nothing is."""
    wide = reach(area, radius_in)
    snug = _inward(area.simplify(SIMPLER_IN), radius_in - SNUG_IN / 2)
    slivers = _polygons(snug.difference(wide.buffer(SNUG_IN)))
    return MultiPolygon([each for each in slivers if wide.is_empty or each.length > 2 * radius_in])


def along(slivers: MultiPolygon) -> list[Points]:
    """Once along each slot: from end to end, all round where it comes back to itself, there and back where it forks."""
    return [_line_of(sliver.simplify(ROUND_SIMPLER_IN)) for sliver in slivers.geoms]


def _line_of(sliver: Polygon) -> Points:
    """The half of its edge along which the other half comes back, if there is one."""
    ring = np.asarray(sliver.exterior.coords)
    if sliver.interiors:
        return ring
    ways = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(ring, axis=0).T))])
    half = ways[-1] / 2
    starts, shares = ways[:-1, None], np.linspace(0, half, SIDES_COMPARED)
    apart = np.hypot(*(_on(ring, ways, starts + shares) - _on(ring, ways, starts - shares))).max(axis=1)
    first = int(np.argmin(apart))
    if apart[first] > SAME_WAY_IN:
        return ring
    between = np.sort((ways[:-1] - ways[first]) % ways[-1])
    stops = np.concatenate([between[between < half], [half]])
    return _on(ring, ways, ways[first] + stops).T


def _on(ring: Points, ways: Points, at: Points) -> Points:
    """The points of a ring so far along it, x and y apart."""
    return np.stack([np.interp(at % ways[-1], ways, ring[:, axis]) for axis in (0, 1)])


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
    for part in _polygons(missed):
        if part.area > A_SPECK * radius_in**2:
            yield part.simplify(ROUND_SIMPLER_IN)


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


def _polygons(shape: BaseGeometry) -> Sequence[Polygon]:
    parts = getattr(shape, "geoms", (shape,))
    return tuple(part for part in parts if isinstance(part, Polygon) and not part.is_empty)


def _rings(shape: Polygon | MultiPolygon) -> list[Points]:
    return [np.asarray(ring.coords)[:-1] for part in _polygons(shape) for ring in (part.exterior, *part.interiors)]


def _closed(ring: Points, start: int) -> Points:
    turned = np.roll(ring, -start, axis=0)
    return np.concatenate([turned, turned[:1]])
