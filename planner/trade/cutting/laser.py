"""Laser minutes: lines back and forth for an engraving, length over speed for cut and scored lines."""

from __future__ import annotations

from math import ceil, isfinite

from planner.errors import CuttingError

TURN_SECONDS = 0.05
"""To turn round at the end of a line beyond the overscan. Common practice, no source."""


def laser_raster_minutes(
    length_in: float, width_in: float, *, lines_per_in: float, speed_in_per_s: float, overscan_in: float = 0.25
) -> float:
    """Minutes of an engraving `length_in` along its lines and `width_in` across them.

    Every line runs its length and the overscan at both ends; lines are engraved both ways. Raises CuttingError for a
    value that is not more than 0 (overscan: below 0).
    """
    for name, value in (
        ("length", length_in),
        ("width", width_in),
        ("number of lines an inch", lines_per_in),
        ("speed", speed_in_per_s),
    ):
        _check(name, value)
    if not (isfinite(overscan_in) and overscan_in >= 0):
        raise CuttingError(f"A laser’s overscan is 0 inches or more, not {overscan_in:g}.")
    lines = max(1, ceil(width_in * lines_per_in - 1e-9))
    return lines * ((length_in + 2 * overscan_in) / speed_in_per_s + TURN_SECONDS) / 60


def laser_vector_minutes(length_in: float, *, speed_in_per_s: float) -> float:
    """Minutes of cut or scored lines of that length in all."""
    _check("length", length_in)
    _check("speed", speed_in_per_s)
    return length_in / speed_in_per_s / 60


def _check(name: str, value: float) -> None:
    if not (isfinite(value) and value > 0):
        raise CuttingError(f"The laser’s {name} is more than 0, not {value:g}.")
