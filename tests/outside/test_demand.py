"""The newsvendor against textbooks."""

from decimal import Decimal
from math import sqrt

import pytest

from planner.trade.demand import (
    Demand,
    critical_ratio,
    newsvendor_cost_normal,
    newsvendor_normal,
    newsvendor_pieces,
    newsvendor_uniform,
)

SNYDER_SHEN = pytest.mark.source("Snyder and Shen, Fundamentals of Supply Chain Theory, ch. 4: newsvendor")
EXERCISE = pytest.mark.source("a textbook exercise: price 20, cost 14, salvage 5, critical ratio 0.4")


# Example 4.3: holding 0.18, penalty 0.70, demand N(50, 8): 56.604 and 1.99761. Then h 2, p 18, N(120, 10).
@SNYDER_SHEN
@pytest.mark.parametrize(
    ("over", "under", "mean", "spread", "best", "cost"),
    [(0.18, 0.70, 50, 8, 56.604, 1.99761), (2, 18, 120, 10, 132.8155, 35.0997)],
)
def test_normal_demand(over, under, mean, spread, best, cost):
    assert newsvendor_normal(mean, spread, under / (under + over)) == pytest.approx(best, abs=5e-4)
    assert newsvendor_cost_normal(spread, over, under) == pytest.approx(cost, rel=1e-4)


# Poisson 6, ratio 0.8: F(7) = 0.744, F(8) = 0.847, so 8.
@SNYDER_SHEN
def test_poisson_demand():
    demand = Demand(6, sqrt(6))
    assert newsvendor_pieces(demand, 0.8) == 8
    assert 1 - demand.odds_of_selling(8) == pytest.approx(0.744, abs=5e-4)
    assert 1 - demand.odds_of_selling(9) == pytest.approx(0.847, abs=5e-4)


@EXERCISE
def test_uniform_and_normal_demand_of_the_exercise():
    ratio = critical_ratio(Decimal(20), Decimal(14), Decimal(5))
    assert ratio == pytest.approx(0.4)
    assert newsvendor_uniform(80, 150, ratio) == pytest.approx(108)
    assert newsvendor_normal(115, 15, ratio) == pytest.approx(111.2, abs=0.05)
    assert newsvendor_normal(115, 5, ratio) == pytest.approx(113.7, abs=0.05)
