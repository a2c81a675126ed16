"""What really happened against what geometry said: one factor for the workshop, and how sure it is.

The middle (median) of the logarithms of actual over planned, drawn towards 0 by a prior worth a few observations, so
that one spoilt afternoon doesn't change it. Robust: Huber and Ronchetti, Robust Statistics (2009): median and MAD.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, isfinite, log, sqrt
from statistics import median

FEWEST = 3
PRIOR_COUNT = 3.0
PRIOR_SPREAD = 0.2
"""Before anything is known, minutes are off by about a fifth. Common practice, no source."""
MAD_TO_SPREAD = 1.4826
MEDIAN_SPREAD = 1.2533
"""The median of n normal values spreads so much wider than their mean."""
NINE_IN_TEN = 1.6449


@dataclass(frozen=True, slots=True)
class Correction:
    """Actual minutes are about `factor` times the planned, between `low` and `high` in 9 of 10; from so many ticks."""

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
    middle = median(ratios)
    seen = MAD_TO_SPREAD * median(abs(ratio - middle) for ratio in ratios)
    spread = sqrt((PRIOR_COUNT * PRIOR_SPREAD**2 + count * seen**2) / (PRIOR_COUNT + count))
    center = count * middle / (count + PRIOR_COUNT)
    half = NINE_IN_TEN * MEDIAN_SPREAD * spread / sqrt(count + PRIOR_COUNT)
    return Correction(exp(center), exp(center - half), exp(center + half), count)
