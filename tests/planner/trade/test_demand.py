"""Demand and the newsvendor's quantity."""

from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import PlannerError
from planner.trade.demand import Demand, Sale, critical_ratio, demand_from_sales, marginal_values, newsvendor_pieces

demands = st.builds(Demand, st.floats(0, 60), st.floats(0, 30))


@given(demands)
def test_odds_add_up_to_one_and_have_the_mean(demand):
    odds = [demand.odds_of(n) for n in range(2000)]
    assert sum(odds) == pytest.approx(1, abs=1e-3)
    if demand.spread**2 < 100 * demand.mean:  # else its tail goes on beyond 2000
        assert sum(n * p for n, p in enumerate(odds)) == pytest.approx(demand.mean, rel=0.01, abs=1e-6)


@given(demands, st.floats(0.05, 0.95))
def test_the_quantity_is_the_least_that_reaches_the_ratio(demand, ratio):
    pieces = newsvendor_pieces(demand, ratio)
    enough = sum(demand.odds_of(n) for n in range(pieces + 1))
    assert enough >= ratio - 1e-9
    assert pieces == 0 or enough - demand.odds_of(pieces) < ratio


@given(demands)
def test_each_further_piece_adds_less_and_those_that_pay_are_the_newsvendors(demand):
    price, cost, salvage = Decimal(60), Decimal(25), Decimal(10)
    values = marginal_values(demand, price=price, cost=cost, salvage=salvage, most=120)
    assert all(later <= earlier + Decimal("1e-9") for earlier, later in pairwise(values))
    paying = sum(value > Decimal("1e-9") for value in values)
    best = newsvendor_pieces(demand, critical_ratio(price, cost, salvage))
    assert paying in {min(best, 120), min(best, 120) + 1} or abs(paying - best) <= 1


def test_what_is_expected_to_sell_is_the_sum_of_the_odds():
    demand = Demand(6, 3)
    assert demand.expected_sold(200) == pytest.approx(6, rel=1e-3)
    assert demand.expected_sold(4) == pytest.approx(sum(demand.odds_of_selling(n) for n in range(1, 5)))


def test_a_fair_that_sold_out_says_that_more_were_wanted():
    assert demand_from_sales([Sale(8, 8), Sale(8, 8)]).mean > demand_from_sales([Sale(12, 8), Sale(12, 8)]).mean == 8


def test_a_guess_weighs_as_much_as_two_fairs():
    assert demand_from_sales([Sale(20, 4), Sale(20, 4)], guess=8).mean == pytest.approx(6)
    assert demand_from_sales([], guess=5).mean == 5


@given(st.lists(st.integers(0, 30), min_size=1, max_size=12))
def test_more_fairs_alike_make_it_surer(sold):
    once = demand_from_sales([Sale(40, each) for each in sold])
    again = demand_from_sales([Sale(40, each) for each in sold * 5])
    assert again.mean == pytest.approx(once.mean)
    assert again.spread <= once.spread * 1.6 + 1


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: Demand(-1, 1), "0 or more"),
        (lambda: Demand(float("nan"), 1), "0 or more"),
        (lambda: Demand(1e9, 1), "say fewer"),
        (lambda: Sale(3, 5), "Of 3 pieces brought 5"),
        (lambda: demand_from_sales([]), "no fair to learn from"),
        (lambda: critical_ratio(Decimal(5), Decimal(2), Decimal(6)), "can't be worth more"),
    ],
)
def test_nonsense_is_refused_in_a_sentence(make, said):
    with pytest.raises(PlannerError, match=said):
        make()


def test_a_piece_that_never_pays_is_not_brought():
    assert newsvendor_pieces(Demand(10, 4), critical_ratio(Decimal(10), Decimal(12))) == 0
