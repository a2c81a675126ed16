"""How long a machine takes along a path, gathering and losing speed.

On a straight run from rest to rest of length d at speed v with acceleration a: d/v + v/a, or 2·√(d/a) where it never
reaches v. Between runs it keeps as much speed as the corner allows: the speed at which a small arc, `CORNER_IN` inside
the corner, is gone round with that acceleration. Chords of a curve are no corners: all along them it keeps to √(a·R),
so that a circle takes as long drawn coarsely as finely. Look-ahead is one pass forward and one back over squared
speeds.
"""

from __future__ import annotations

from math import radians

import numpy as np
import numpy.typing as npt

from planner.errors import CuttingError
from planner.trade.amounts import above_zero

Points = npt.NDArray[np.float64]
"""Shape (n, 2): x and y in inches."""

CORNER_IN = 0.002
"""By how much a router's path may be rounded at a corner. Common practice, no source."""
STRAIGHT_RADIANS = 1e-5
"""A point that turns the path by less lies on a straight run."""
SHARPEST_CHORD_RADIANS = radians(32)
WIDEST_CHORD_IN = 0.1
"""Chords stand for a curve where each turns by at most so much from the last and leaves the curve by at most so many
inches; what is coarser was meant as a polygon. Common practice, no source."""
ALIKE = 3.0
"""Neighbouring chords of one curve turn the same way, and not more than so many times as much."""
UNEVEN = 4.0
"""Nor is one more than so many times as long as the next, or a straight between two bends would count as bent."""
TINY = 1e-12
AGREE = 1.5
"""Unless the circles through its two ends and their neighbours are so much alike: beside a straight they are not."""
SECONDS_A_MINUTE = 60.0


def run_minutes(points: Points, feed_in_per_min: float, acceleration_in_per_s2: float) -> float:
    """Minutes from rest at the first point along all to rest at the last. `points` has shape (n, 2), in inches.

    Raises PlannerError for a point that is no pair of numbers, and for a feed or acceleration not above 0.
    """
    above_zero("feed in inches a minute", feed_in_per_min)
    above_zero("acceleration in inches a second²", acceleration_in_per_s2)
    if not np.isfinite(points).all():
        raise CuttingError("The way of the bit has a point in it that is not two numbers; draw it anew.")
    steps = np.diff(points, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    moves = lengths > 1e-12
    steps, lengths = steps[moves], lengths[moves]
    if not len(lengths):
        return 0.0
    top = feed_in_per_min / SECONDS_A_MINUTE
    corners, along = _limits(steps, lengths, acceleration_in_per_s2)
    tops = np.minimum(top**2, along)
    squared = _squared_speeds(corners, tops, lengths, acceleration_in_per_s2)
    return float(_seconds(lengths, squared, tops, acceleration_in_per_s2).sum()) / SECONDS_A_MINUTE


def straight_minutes(length_in: float, feed_in_per_min: float, acceleration_in_per_s2: float) -> float:
    """Minutes of one straight run from rest to rest."""
    return run_minutes(np.array([[0.0, 0.0], [length_in, 0.0]]), feed_in_per_min, acceleration_in_per_s2)


def _squared_speeds(corners: Points, tops: Points, lengths: Points, acceleration: float) -> Points:
    """At every point, from what corners and curves allow and what can be gathered before and lost after."""
    limits = np.concatenate([[0.0], np.minimum(corners, np.minimum(tops[:-1], tops[1:])), [0.0]])
    gained = np.concatenate([[0.0], np.cumsum(2 * acceleration * lengths)])
    forward = np.minimum.accumulate(limits - gained) + gained
    backward: Points = np.minimum.accumulate((forward + gained)[::-1])[::-1] - gained
    return backward


def _limits(steps: Points, lengths: Points, acceleration: float) -> tuple[Points, Points]:
    """Squared speeds that shape alone allows: at each inner point, and along each step."""
    before, after = steps[:-1], steps[1:]
    cross = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    turns = np.arctan2(cross, (before * after).sum(axis=1))
    at, along = np.full(len(turns), np.inf), np.full(len(lengths), np.inf)
    (bends,) = np.nonzero(abs(turns) > STRAIGHT_RADIANS)
    if not len(bends):
        return at, along
    turns = turns[bends]
    runs = np.add.reduceat(lengths, np.concatenate([[0], bends + 1]))  # straight from bend to bend
    wide = _circle_radii(turns, runs)
    agree = _agreeing(turns, runs, wide)
    chords = _chords(turns, runs) | agree
    held = np.where(_both_beside(agree), wide, _circle_radii(turns, runs, UNEVEN))
    curved = np.concatenate([[False], chords]) | np.concatenate([chords, [False]])
    at[bends] = acceleration * np.where(curved, held, _corner_radii(turns))
    # the tighter end holds, or the first chord after a straight would pass for a wide bend
    tighter = np.minimum(held[:-1], held[1:])
    middling = 2 * wide[:-1] * wide[1:] / np.maximum(wide[:-1] + wide[1:], TINY)
    within = np.where(agree, middling, np.where(chords, tighter, np.inf))
    along[bends[0] + 1 : bends[-1] + 1] = acceleration * np.repeat(within, np.diff(bends))
    return at, along


def _chords(turns: Points, runs: Points) -> npt.NDArray[np.bool_]:
    """Which runs between two bends are chords of a curve, not sides of a polygon nor straights between two curves."""
    size = abs(turns)
    gentle = size <= SHARPEST_CHORD_RADIANS
    gentle &= np.minimum(runs[:-1], runs[1:]) / 2 * np.tan(size / 4) <= WIDEST_CHORD_IN
    alike = turns[:-1] * turns[1:] > 0
    alike &= np.maximum(size[:-1], size[1:]) <= ALIKE * np.minimum(size[:-1], size[1:])
    return gentle[:-1] & gentle[1:] & alike & (runs[1:-1] <= UNEVEN * np.maximum(runs[:-2], runs[2:]))


def _agreeing(turns: Points, runs: Points, radii: Points) -> npt.NDArray[np.bool_]:
    """Which runs are chords however uneven: four points of about one circle, from which the run lies nowhere far."""
    gentle = abs(turns) <= SHARPEST_CHORD_RADIANS
    least, most = np.minimum(radii[:-1], radii[1:]), np.maximum(radii[:-1], radii[1:])
    found = gentle[:-1] & gentle[1:] & (turns[:-1] * turns[1:] > 0)
    found &= most <= AGREE * least
    found &= runs[1:-1] ** 2 <= 8 * least * WIDEST_CHORD_IN
    return found


def _both_beside(runs: npt.NDArray[np.bool_]) -> npt.NDArray[np.bool_]:
    """Bends that have such a run before and after them; the first and last have two on their one side."""
    found = np.zeros(len(runs) + 1, dtype=np.bool_)
    found[1:-1] = runs[:-1] & runs[1:]
    if len(runs) > 1:
        found[0], found[-1] = found[1], found[-2]
    return found


def _circle_radii(turns: Points, runs: Points, most_uneven: float = np.inf) -> Points:
    """The radius of the circle through each bend and its two neighbours, the farther drawn in to so many times as far
    as the nearer."""
    shorter = np.minimum(runs[:-1], runs[1:])
    longer = np.minimum(np.maximum(runs[:-1], runs[1:]), most_uneven * shorter)
    across = np.sqrt(shorter**2 + longer**2 + 2 * shorter * longer * np.cos(turns))
    return np.asarray(across / (2 * np.sin(abs(turns))), dtype=np.float64)


def _corner_radii(turns: Points) -> Points:
    """An arc of radius r fits `CORNER_IN` inside a corner that turns by φ where
    r = CORNER_IN · cos(φ/2) / (1 − cos(φ/2))."""
    half = np.cos(turns / 2)
    return np.asarray(CORNER_IN * half / (1 - half), dtype=np.float64)


def _seconds(lengths: Points, squared: Points, tops: Points, acceleration: float) -> Points:
    enter, leave = squared[:-1], squared[1:]
    peak = np.sqrt(np.minimum(tops, (enter + leave) / 2 + acceleration * lengths))
    ramps = (2 * peak - np.sqrt(np.maximum(enter, 0)) - np.sqrt(np.maximum(leave, 0))) / acceleration
    even = lengths - (2 * peak**2 - enter - leave) / (2 * acceleration)
    return np.asarray(ramps + np.maximum(even, 0) / peak, dtype=np.float64)
