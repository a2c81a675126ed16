"""Prices against common practice, an hour of a machine against a published exercise."""

from decimal import Decimal

import pytest

from planner.trade.price import Hands, PriceFacts, floor_price, machine_dollars_an_hour, price_floor

PRACTICE = pytest.mark.source("common practice, no source: the floor of a price")


# 15 router minutes at 1 dollar and 30 minutes of hands at 60 dollars an hour: 45. 60 and 40: 100.
@PRACTICE
@pytest.mark.parametrize(("router", "hands", "dollars"), [(15, 30, 45), (60, 40, 100)])
def test_router_and_hands_make_the_floor_of_a_price(router, hands, dollars):
    floor = price_floor(
        router_minutes=Decimal(router),
        hands_minutes=Decimal(hands),
        router_dollars_a_minute=Decimal(1),
        hands_dollars_an_hour=Decimal(60),
    )
    assert floor == dollars


@PRACTICE
@pytest.mark.parametrize(("router", "hands", "dollars"), [(15, 30, 45), (60, 40, 100)])
def test_the_full_sheet_gives_the_same_floor_where_nothing_else_is_paid(router, hands, dollars):
    facts = PriceFacts(
        router_minutes=Decimal(router),
        router_dollars_a_minute=Decimal(1),
        hands=(Hands("bench", Decimal(hands), Decimal(60)),),
    )
    assert floor_price(facts) == dollars


# Price 300,000, salvage 75,000, 6 years of 2,800 hours, 6.32 %: average investment 206,250; 13.39 + 4.66 = 18.05.
@pytest.mark.source("FAO, Cost control in forest harvesting (1992), ch. 3, with a construction-equipment exercise")
def test_an_hour_of_a_machine_costs_what_the_exercise_says():
    rate = machine_dollars_an_hour(
        price_dollars=Decimal(300_000),
        salvage_dollars=Decimal(75_000),
        years=6,
        hours_a_year=2_800,
        interest_fraction=Decimal("0.0632"),
    )
    assert rate.average_investment_dollars == 206_250
    assert rate.depreciation_an_hour == pytest.approx(Decimal("13.39"), abs=Decimal("0.005"))
    assert rate.interest_an_hour == pytest.approx(Decimal("4.66"), abs=Decimal("0.005"))
    assert rate.an_hour == Decimal("18.05")
