"""Chip loads: how thick a chip each edge takes, and whether that is good for the bit and the wood."""

from __future__ import annotations

from math import isfinite, sqrt

import numpy as np

from planner.errors import CuttingError
from planner.trade.cutting.tools import Cutter, CutterShape

QUARTER_INCH_RANGE = {"hard": (0.005, 0.010), "soft": (0.010, 0.020)}
"""Inches a tooth for a 1/4 in bit in hardwood and softwood. Source: published chip-load tables, of low authority."""
WIDEST_SCALE = 2.0
SLOWEST_RPM = 8_000
"""Routers' spindles turn at 8,000 to 24,000 or so. Common practice, no source."""
DEPTHS_IN_DIAMETERS = (1.0, 2.0, 3.0)
DEEP_LEAST, DEEP_MOST = (1.0, 0.75, 0.5), (1.0, 0.8, 0.6)
"""Levels 2 diameters deep take chips 20 to 25 % thinner, 3 deep 40 to 50 %: so the least chip falls by the larger
share and the most by the smaller. Source: published chip-load tables, of low authority."""


def chip_load_in(feed_in_per_min: float, rpm: float, flutes: int) -> float:
    """Inches each edge takes: feed / (rpm · flutes).

    >>> chip_load_in(396, 18_000, 2)
    0.011
    """
    if not (isfinite(feed_in_per_min) and feed_in_per_min > 0 and isfinite(rpm) and rpm > 0 and flutes >= 1):
        raise CuttingError("A chip load needs a feed and a speed above 0 and 1 flute or more.")
    return feed_in_per_min / (rpm * flutes)


def chip_load_range_in(diameter_in: float, wood: str = "hard", depth_in: float = 0.0) -> tuple[float, float]:
    """The least and the most for a bit, in inches, in "hard" or "soft" wood, on levels `depth_in` deep each.

    Scaled from a 1/4 in bit by the root of the diameter, at most twice it: common practice, no source. Levels deeper
    than the bit is wide take less, in proportion between 1, 2 and 3 diameters, and beyond 3 as at 3. Raises
    CuttingError for another wood, or a depth or diameter that is none.

    >>> [round(chip, 6) for chip in chip_load_range_in(0.25, "soft", depth_in=0.5)]
    [0.0075, 0.016]
    """
    if wood not in QUARTER_INCH_RANGE:
        raise CuttingError(f"Chip loads are known for {' and '.join(QUARTER_INCH_RANGE)} wood, not for “{wood}”.")
    if not (isfinite(diameter_in) and diameter_in > 0 and isfinite(depth_in) and depth_in >= 0):
        raise CuttingError("A chip load needs a bit wider than 0 and a level 0 inches deep or more.")
    scale = min(WIDEST_SCALE, sqrt(diameter_in / 0.25))
    least, most = QUARTER_INCH_RANGE[wood]
    depth = depth_in / diameter_in
    deep_least, deep_most = (float(np.interp(depth, DEPTHS_IN_DIAMETERS, each)) for each in (DEEP_LEAST, DEEP_MOST))
    return least * scale * deep_least, most * scale * deep_most


def feed_findings(cutter: Cutter, *, wood: str = "hard", depth_in: float | None = None) -> tuple[str, ...]:
    """What is wrong with a bit's feed and speed, and what to change; nothing where all is well.

    `depth_in` is how deep ONE level is, not the whole cut; without it the bit goes as deep as it may at once. `wood` is
    "hard" or "soft". The maker's own table wins. V and round-over bits cut with a part of their width only; they are
    held to no range.
    """
    said = []
    if cutter.shape not in {CutterShape.V, CutterShape.ROUND_OVER}:
        level_in = cutter.depth_per_pass_in if depth_in is None else depth_in
        said += _chips(cutter, *chip_load_range_in(cutter.diameter_in, wood, level_in))
    if cutter.depth_per_pass_in > cutter.diameter_in + 1e-9:
        said.append(
            f"It cuts {cutter.depth_per_pass_in:g} in deep at once, deeper than it is wide; "
            f"{cutter.diameter_in / 2:g} in is easier on bit and wood."
        )
    if cutter.plunge_in_per_min > cutter.feed_in_per_min:
        said.append("It plunges faster than it feeds; plunge at a third of the feed or so.")
    return tuple(said)


def _chips(cutter: Cutter, least_in: float, most_in: float) -> list[str]:
    chip = chip_load_in(cutter.feed_in_per_min, cutter.rpm, cutter.flutes)
    if chip < least_in:
        feed = least_in * cutter.rpm * cutter.flutes
        slower = cutter.feed_in_per_min / (least_in * cutter.flutes)
        takes = f"Each edge takes {chip:.4f} in, less than {least_in:.4f}: it rubs and burns."
        if slower >= SLOWEST_RPM:
            return [f"{takes} Feed at {feed:.0f} in a minute or turn at {slower:,.0f}."]
        both = f"turn at {SLOWEST_RPM:,} and feed at {least_in * SLOWEST_RPM * cutter.flutes:.0f}"
        return [f"{takes} Feed at {feed:.0f} in a minute, or {both}."]
    if chip > most_in:
        feed = most_in * cutter.rpm * cutter.flutes
        takes = f"Each edge takes {chip:.4f} in, more than {most_in:.4f}: it tears and may break."
        return [f"{takes} Feed at {feed:.0f} in a minute or less."]
    return []
