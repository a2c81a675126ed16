"""What really happened against what geometry said: one factor for the workshop, and how sure it is.

The mean of the logarithms of actual over planned with Student's t about it, once ticks far from the middle (median) are
left out, so that one spoilt afternoon doesn't change it. Nothing is drawn towards 1: the interval would cover the truth
less often than it says. Robust: Huber and Ronchetti, Robust Statistics (2009): median and MAD.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, isfinite, log, sqrt
from statistics import fmean, median, stdev

FEWEST = 3
PRIOR_SPREAD = 0.2
"""Before anything is known, minutes are off by about a fifth. Common practice, no source."""
LEAST_SPREAD = 0.05
"""Ticks in whole minutes that agree by chance don't make the factor surer than this. Common practice, no source."""
MAD_TO_SPREAD = 1.4826
FARTHEST_SPREADS = 3.5
"""A tick farther from the middle is a spoilt afternoon or a slip. Source: the usual cut for a score by the MAD."""
NINE_IN_TEN = 1.6449
STUDENT = (6.314, 2.920, 2.353, 2.132, 2.015, 1.943, 1.895, 1.860, 1.833, 1.812)
"""Nine in ten of Student's t lie within so much, for 1 to 10 degrees of freedom. Source: any table of t."""


@dataclass(frozen=True, slots=True)
class Correction:
    """Actual minutes are on the whole `factor` times the planned, from so many ticks; in 9 of 10 workshops with such
    ticks the true factor lies between `low` and `high`."""

    factor: float
    low: float
    high: float
    count: int

    @property
    def is_known(self) -> bool:
        """Enough was seen to say anything."""
        return self.count >= FEWEST

    @property
    def is_sure(self) -> bool:
        """It is known which way minutes are off, or that they are not."""
        return self.is_known and (self.low > 1 or self.high < 1 or self.high - self.low < 0.1)

    @property
    def says(self) -> str:
        if not self.is_known:
            return f"Only {self.count} of {FEWEST} ticks needed are in; minutes stay as geometry says."
        share = round((self.factor - 1) * 100)
        way = "as long as" if share == 0 else f"{abs(share)} % {'longer' if share > 0 else 'shorter'} than"
        sure = "" if self.is_sure else ", which may still be chance"
        return f"The router takes {way} geometry says, from {self.count} ticks{sure}."


def correction_of(pairs: Sequence[tuple[float, float]]) -> Correction:
    """`pairs` are planned and actual minutes; those that are not more than 0 are left out."""
    ratios = [
        log(actual / planned)
        for planned, actual in pairs
        if isfinite(planned) and isfinite(actual) and planned > 0 and actual > 0
    ]
    count = len(ratios)
    if count < FEWEST:
        return Correction(1.0, exp(-2 * PRIOR_SPREAD), exp(2 * PRIOR_SPREAD), count)
    kept = _without_far_ones(ratios)
    center = fmean(kept)
    spread = max(LEAST_SPREAD, stdev(kept))
    half = _student(len(kept) - 1) * spread / sqrt(len(kept))
    return Correction(exp(center), exp(center - half), exp(center + half), count)


def _without_far_ones(ratios: Sequence[float]) -> list[float]:
    """At least half of them stay, and of three at least two. Few ticks may lie close by chance, so none counts as far
    within what is usual before anything is known."""
    middle = median(ratios)
    spread = MAD_TO_SPREAD * median(abs(ratio - middle) for ratio in ratios)
    farthest = FARTHEST_SPREADS * max(PRIOR_SPREAD, spread)
    return [ratio for ratio in ratios if abs(ratio - middle) <= farthest]


def _student(freedom: int) -> float:
    """By table, then by the first terms of its expansion in 1/freedom about the normal: within 0.001."""
    if freedom <= len(STUDENT):
        return STUDENT[freedom - 1]
    z = NINE_IN_TEN
    return z + (z**3 + z) / (4 * freedom) + (5 * z**5 + 16 * z**3 + 3 * z) / (96 * freedom**2)
