"""Finishes and grits against published figures."""

from math import inf

import pytest

from planner.trade.finish import (
    coverage_ft2_per_gallon,
    coverage_m2_per_litre,
    minutes_at,
    recoat_within_or_after,
)
from planner.trade.sanding import grain_ratios

COVER = pytest.mark.source("a coatings handbook: coverage from solids and film")


@COVER
def test_coverage_of_paint():
    assert coverage_ft2_per_gallon(0.65, 5) == pytest.approx(208.5, abs=0.05)
    assert coverage_m2_per_litre(0.65, 125) == pytest.approx(5.2)
    assert coverage_ft2_per_gallon(0.52, 1.5, 0.30) == pytest.approx(167, abs=0.5)


@pytest.mark.source("the rule of thumb of coatings, Q10 = 2: half the time for 10 °C more")
@pytest.mark.parametrize(("now_c", "hours"), [(20, 8), (15, 11.3), (10, 16), (30, 4)])
def test_drying_in_another_warmth(now_c, hours):
    assert minutes_at(8 * 60, 20, now_c) / 60 == pytest.approx(hours, abs=0.05)


# Within an hour or after 48; fast polyurethane within 2 or after 72.
@pytest.mark.source("labels of spray enamel and fast polyurethane: two-sided recoat windows")
@pytest.mark.parametrize(("within_h", "after_h"), [(1, 48), (2, 72)])
def test_two_sided_recoat_windows(within_h, after_h):
    window = recoat_within_or_after(within_h * 60, after_h * 60)
    assert [window.allows(hours * 60) for hours in (0.5, 5, after_h, 1000)] == [True, False, True, True]
    assert window.intervals[-1][1] == inf


@pytest.mark.source("FEPA 43 / ISO 6344 (from memory): grain of P grits")
def test_grains_of_grits():
    assert grain_ratios([80, 120, 180, 220]) == pytest.approx((1.61, 1.52, 1.21), abs=0.01)
    assert grain_ratios([80, 220]) == pytest.approx((2.96,), abs=0.01)
