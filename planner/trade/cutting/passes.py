"""One pass of one bit over a piece: the path it really goes, and how long that takes.

What is reckoned, so that anyone can do the sum by hand: every level the length of its path over the feed, with the time
that corners and stops cost; for every entry the depth of the level over the plunge feed, or down a slope along the path
at the cutting feed, before the round is gone at full depth; between runs up, across and down again at the rapid; at the
start down to the wood and at the end up from it. Not reckoned: bit changes, zeroing and the way from and to the
machine's home, which belong to a bed load.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from math import isfinite, radians, sin

import numpy as np
from shapely import LineString, Polygon

from planner.errors import CuttingError
from planner.trade.cutting.motion import Points, run_minutes, straight_minutes
from planner.trade.cutting.rings import QUARTER_STEPS, SIMPLER_IN, along, linked, reach, rounds, slots
from planner.trade.cutting.tools import Cutter, CutterShape, Machine

TAB_HEIGHT_IN = 1 / 16
HAIR = 1e-9
LONGEST_PATH_IN = 40_000


class PassKind(StrEnum):
    """What a pass does."""

    POCKET = "pocket"
    CLEAN_UP = "clean-up"
    PROFILE = "profile"
    ROUND_OVER = "round-over"
    TEXTURE = "texture"
    CARVE = "carve"


BITS_FOR = {
    PassKind.POCKET: (CutterShape.BOWL, CutterShape.FLAT, CutterShape.DOWN_CUT),
    PassKind.CLEAN_UP: (CutterShape.BOWL, CutterShape.FLAT, CutterShape.DOWN_CUT),
    PassKind.PROFILE: (CutterShape.FLAT, CutterShape.DOWN_CUT),
    PassKind.ROUND_OVER: (CutterShape.ROUND_OVER,),
    PassKind.TEXTURE: (CutterShape.BOWL, CutterShape.FLAT, CutterShape.DOWN_CUT, CutterShape.V),
    PassKind.CARVE: (CutterShape.V, CutterShape.BOWL),
}
THROUGH_IN = 1 / 8
"""A cut-out may go so much deeper than the wood, into the board below."""


@dataclass(frozen=True)
class Workpiece:
    """What is cut, in inches: the outline, the pockets in it, the lines carved into it, how thick the stock is."""

    outline: Polygon
    thickness_in: float
    pockets: tuple[Polygon, ...] = ()
    lines: tuple[LineString, ...] = ()

    def __post_init__(self) -> None:
        if not (isfinite(self.thickness_in) and self.thickness_in > 0):
            raise CuttingError(f"The stock is more than 0 inches thick, not {self.thickness_in:g}.")


@dataclass(frozen=True)
class RoutedPass:
    """A pass as the router goes it: minutes in all and by what they go to (plunging: entries of either way), inches of
    cutting path over all levels, levels, lifts between runs, one level's path for a drawing, and the area (square
    inches) the bit can't reach."""

    minutes: float
    cutting_minutes: float
    plunging_minutes: float
    travelling_minutes: float
    path_in: float
    levels: int
    retracts: int
    paths: tuple[LineString, ...]
    left_in2: float = 0.0


@dataclass(frozen=True)
class _Job:
    """What a kind of pass comes down to: runs on each level, the levels' depths, and tabs."""

    runs: tuple[Points, ...]
    depths_in: tuple[float, ...]
    tabs: int = 0
    tab_levels: int = 0
    left_in2: float = 0.0


def routed(
    kind: str,
    piece: Workpiece,
    cutter: Cutter,
    machine: Machine,
    *,
    depth_in: float,
    step_over: float = 0.4,
    tabs: int = 4,
) -> RoutedPass:
    """One pass over a piece.

    `step_over` is how far apart rounds lie, as a share of the bit's full diameter. pocket: rounds in every pocket, in
    equal levels no deeper than the bit allows; clean-up: the same at full depth in one level; profile: round the
    outline through the thickness, lifting over `tabs` tabs; round-over: once along the edge; texture: rounds over the
    whole face, one level; carve: along the lines. Raises CuttingError, in one sentence, for what the bit can't do.
    """
    if kind not in set(PassKind):
        raise CuttingError(f"“{kind}” is no pass; it is one of {', '.join(PassKind)}.")
    _check(depth_in, step_over, tabs)
    _check_bit(kind, piece, cutter, depth_in)
    step_in = step_over * cutter.diameter_in
    if kind == PassKind.POCKET:
        job = _pocket(piece, cutter, depth_in, step_in, _levels(depth_in, cutter))
    elif kind == PassKind.CLEAN_UP:
        job = _pocket(piece, cutter, depth_in, step_in, (depth_in,))
    elif kind == PassKind.PROFILE:
        job = _profile(piece.outline, cutter, depth_in, tabs)
    elif kind == PassKind.ROUND_OVER:
        job = _Job((_edge(piece.outline, 0.0),), (depth_in,))
    elif kind == PassKind.TEXTURE:
        job = _texture(piece.outline, step_in, depth_in)
    else:
        job = _carving(piece.lines, cutter, depth_in)
    return _timed(job, cutter, machine)


def _check_bit(kind: str, piece: Workpiece, cutter: Cutter, depth_in: float) -> None:
    """A bit that can't do such a pass, or a cut deeper than the wood, is a slip."""
    if cutter.shape not in BITS_FOR[PassKind(kind)]:
        fit = " or ".join(BITS_FOR[PassKind(kind)])
        raise CuttingError(f"A {cutter.shape} bit doesn't cut a {kind} pass; take a {fit} bit.")
    deepest_in = piece.thickness_in + (THROUGH_IN if kind == PassKind.PROFILE else 0.0)
    if depth_in > deepest_in + HAIR:
        raise CuttingError(f"The cut is {depth_in:g} in deep in stock of {piece.thickness_in:g} in; cut less deep.")


def _check_length(areas: Sequence[Polygon], step_in: float) -> None:
    """A slip of the finger must not be followed round for minutes."""
    path_in = sum(area.area for area in areas) / step_in
    if path_in > LONGEST_PATH_IN:
        raise CuttingError(
            f"At that step-over the bit would go about {path_in / 12:,.0f} feet on one level; take a larger step-over."
        )


def _pocket(piece: Workpiece, cutter: Cutter, depth_in: float, step_in: float, depths_in: tuple[float, ...]) -> _Job:
    if not piece.pockets:
        raise CuttingError("There is no pocket to cut; give the design a pocket depth and a rim, or draw one.")
    if depth_in >= piece.thickness_in:
        raise CuttingError(f"The pocket is {depth_in:g} in deep in stock of {piece.thickness_in:g} in; leave a floor.")
    _check_length(piece.pockets, step_in)
    runs: list[Points] = []
    left_in2 = 0.0
    for pocket in piece.pockets:
        wide, narrow = reach(pocket, cutter.radius_in), slots(pocket, cutter.radius_in)
        if wide.is_empty and narrow.is_empty:
            raise CuttingError(_too_narrow(pocket, cutter))
        runs += [*linked(rounds(wide, step_in, cutter.radius_in), step_in), *along(narrow)]
        cleared = wide.union(narrow).buffer(cutter.radius_in, quad_segs=QUARTER_STEPS)
        left_in2 += max(0.0, pocket.area - cleared.area)
    return _Job(tuple(runs), depths_in, left_in2=left_in2)


def _too_narrow(pocket: Polygon, cutter: Cutter) -> str:
    left, low, right, high = pocket.bounds
    return (
        f"A bit of {cutter.diameter_in:g} in doesn't enter the pocket at {(left + right) / 2:.2f}, "
        f"{(low + high) / 2:.2f} in, {right - left:.2f} × {high - low:.2f} in; take a smaller one."
    )


def _texture(outline: Polygon, step_in: float, depth_in: float) -> _Job:
    _check_length([outline], step_in)
    middles = reach(outline, step_in / 2)
    if middles.is_empty:
        raise CuttingError("The face is smaller than one step-over; take a smaller bit or step-over for the texture.")
    return _Job(tuple(linked(rounds(middles, step_in, step_in), step_in)), (depth_in,))


def _profile(outline: Polygon, cutter: Cutter, depth_in: float, tabs: int) -> _Job:
    depths = _levels(depth_in, cutter)
    low = depth_in - TAB_HEIGHT_IN
    return _Job(
        (_edge(outline, cutter.radius_in),),
        depths,
        tabs=tabs,
        tab_levels=sum(bottom > low + HAIR for bottom in np.cumsum(depths)),
    )


def _carving(lines: Sequence[LineString], cutter: Cutter, depth_in: float) -> _Job:
    if not lines:
        raise CuttingError(
            "There are no lines to carve; draw them as open lines, or give this pass its minutes by hand."
        )
    runs = tuple(np.asarray(line.simplify(SIMPLER_IN).coords) for line in lines)
    return _Job(runs, _levels(depth_in, cutter))


def _levels(depth_in: float, cutter: Cutter) -> tuple[float, ...]:
    level_in = cutter.level_in(depth_in)
    return (level_in,) * round(depth_in / level_in)


def _edge(outline: Polygon, outside_in: float) -> Points:
    grown = outline.simplify(SIMPLER_IN)
    if outside_in:
        grown = grown.buffer(outside_in, quad_segs=QUARTER_STEPS)
    return np.asarray(grown.exterior.coords)


def _timed(job: _Job, cutter: Cutter, machine: Machine) -> RoutedPass:
    a = machine.acceleration_in_per_s2
    levels = len(job.depths_in)
    cutting = sum(run_minutes(run, cutter.feed_in_per_min, a) for run in job.runs) * (levels - job.tab_levels)
    plunging = sum(_entry(depth, cutter, a) for depth in job.depths_in) * len(job.runs)
    if job.tab_levels:
        cutting += job.tab_levels * sum(_between_tabs(run, job.tabs, cutter, a) for run in job.runs)
        lift = straight_minutes(TAB_HEIGHT_IN, machine.rapid_in_per_min, a)
        plunging += job.tab_levels * job.tabs * (lift + _entry(TAB_HEIGHT_IN, cutter, a))
    travelling, retracts = _travel(job, machine)
    return RoutedPass(
        minutes=cutting + plunging + travelling,
        cutting_minutes=cutting,
        plunging_minutes=plunging,
        travelling_minutes=travelling,
        path_in=levels * sum(_length(run) for run in job.runs),
        levels=levels,
        retracts=retracts,
        paths=tuple(LineString(run) for run in job.runs),
        left_in2=job.left_in2,
    )


def _entry(depth_in: float, cutter: Cutter, acceleration: float) -> float:
    """Straight down, or down the slope: longer by one over its sine, but at the cutting feed."""
    if not cutter.ramp_degrees:
        return straight_minutes(depth_in, cutter.plunge_in_per_min, acceleration)
    return straight_minutes(depth_in / sin(radians(cutter.ramp_degrees)), cutter.feed_in_per_min, acceleration)


def _between_tabs(run: Points, tabs: int, cutter: Cutter, acceleration: float) -> float:
    """The round cut into as many runs as there are tabs, each from rest to rest."""
    if not tabs:
        return run_minutes(run, cutter.feed_in_per_min, acceleration)
    whole = run_minutes(run, cutter.feed_in_per_min, acceleration)
    # to stop and start again costs v/a seconds
    a_stop = cutter.feed_in_per_min / 60 / acceleration / 60
    return whole + (tabs - 1) * a_stop


def _travel(job: _Job, machine: Machine) -> tuple[float, int]:
    """Ups, acrosses and downs at the rapid; on each level the runs in the same order, then back to the first."""
    a = machine.acceleration_in_per_s2
    hops = [_hop(before[-1], after[0], machine) for before, after in pairwise(job.runs)]
    back = _hop(job.runs[-1][-1], job.runs[0][0], machine) if len(job.runs) > 1 else 0.0
    bottoms = np.cumsum(job.depths_in)
    minutes, retracts = 0.0, 0
    for level, bottom in enumerate(bottoms):
        lift = machine.retract_in + float(bottom)
        up_and_down = 2 * straight_minutes(lift, machine.rapid_in_per_min, a)
        is_last = level == len(bottoms) - 1
        count = len(hops) + (0 if is_last or len(job.runs) == 1 else 1)
        minutes += sum(hops) + (0.0 if is_last else back) + count * up_and_down
        retracts += count
    down = straight_minutes(machine.retract_in, machine.rapid_in_per_min, a)
    up = straight_minutes(machine.retract_in + float(bottoms[-1]), machine.rapid_in_per_min, a)
    return minutes + down + up, retracts


def _hop(start: Points, end: Points, machine: Machine) -> float:
    apart = float(np.hypot(*(end - start)))
    return straight_minutes(apart, machine.rapid_in_per_min, machine.acceleration_in_per_s2)


def _length(run: Points) -> float:
    return float(np.hypot(*np.diff(run, axis=0).T).sum())


def _check(depth_in: float, step_over: float, tabs: int) -> None:
    if not (isfinite(depth_in) and depth_in > 0):
        raise CuttingError(f"A cut is more than 0 inches deep, not {depth_in:g}.")
    if not (isfinite(step_over) and 0.01 - HAIR <= step_over <= 1):
        raise CuttingError(f"A step-over is 1 to 100 % of the bit, not {step_over * 100:g}.")
    if not 0 <= tabs <= 100:
        raise CuttingError(f"A piece has 0 to 100 tabs, not {tabs}.")
