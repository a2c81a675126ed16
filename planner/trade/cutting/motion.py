"""How long a machine takes along a path, gathering and losing speed.

On a straight run from rest to rest of length d at speed v with acceleration a: d/v + v/a, or 2·√(d/a) where it never
reaches v. Between runs it keeps as much speed as the corner allows: the speed at which a small arc, `CORNER_IN` inside
the corner, is gone round with that acceleration. Look-ahead is one pass forward and one back over squared speeds.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Points = npt.NDArray[np.float64]
"""Shape (n, 2): x and y in inches."""

CORNER_IN = 0.002
"""By how much a router's path may be rounded at a corner. Common practice, no source."""
SECONDS_A_MINUTE = 60.0


def run_minutes(points: Points, feed_in_per_min: float, acceleration_in_per_s2: float) -> float:
    """Minutes from rest at the first point along all to rest at the last. `points` has shape (n, 2), in inches."""
    steps = np.diff(points, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    moves = lengths > 1e-12
    steps, lengths = steps[moves], lengths[moves]
    if not len(lengths):
        return 0.0
    top = feed_in_per_min / SECONDS_A_MINUTE
    squared = _squared_speeds(steps, lengths, top, acceleration_in_per_s2)
    return float(_seconds(lengths, squared, top, acceleration_in_per_s2).sum()) / SECONDS_A_MINUTE


def straight_minutes(length_in: float, feed_in_per_min: float, acceleration_in_per_s2: float) -> float:
    """Minutes of one straight run from rest to rest."""
    return run_minutes(np.array([[0.0, 0.0], [length_in, 0.0]]), feed_in_per_min, acceleration_in_per_s2)


def _squared_speeds(steps: Points, lengths: Points, top: float, acceleration: float) -> Points:
    """At every point, from what corners allow and what can be gathered before and lost after."""
    limits = np.concatenate([[0.0], _corner_limits(steps, lengths, acceleration), [0.0]])
    limits = np.minimum(limits, top**2)
    gained = np.concatenate([[0.0], np.cumsum(2 * acceleration * lengths)])
    forward = np.minimum.accumulate(limits - gained) + gained
    backward: Points = np.minimum.accumulate((forward + gained)[::-1])[::-1] - gained
    return backward


def _corner_limits(steps: Points, lengths: Points, acceleration: float) -> Points:
    """Squared speed at each inner point: an arc of radius r fits `CORNER_IN` inside a corner that turns by φ where
    r = CORNER_IN · cos(φ/2) / (1 − cos(φ/2)), and is gone round at v² = a·r."""
    unit = steps / lengths[:, None]
    cosine = np.clip((unit[:-1] * unit[1:]).sum(axis=1), -1.0, 1.0)
    half = np.sqrt((1 + cosine) / 2)  # cos(φ/2)
    with np.errstate(divide="ignore"):
        return np.asarray(acceleration * CORNER_IN * half / (1 - half), dtype=np.float64)


def _seconds(lengths: Points, squared: Points, top: float, acceleration: float) -> Points:
    enter, leave = squared[:-1], squared[1:]
    peak = np.sqrt(np.minimum(top**2, (enter + leave) / 2 + acceleration * lengths))
    ramps = (2 * peak - np.sqrt(np.maximum(enter, 0)) - np.sqrt(np.maximum(leave, 0))) / acceleration
    even = lengths - (2 * peak**2 - enter - leave) / (2 * acceleration)
    return np.asarray(ramps + np.maximum(even, 0) / peak, dtype=np.float64)
