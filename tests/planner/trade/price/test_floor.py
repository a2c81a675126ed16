from decimal import Decimal

import pytest

from planner.errors import PlannerError
from planner.trade.price import price_floor


def floor(router_minutes="0", hands_minutes="0", rate="1", hourly="60", wood="0"):
    return price_floor(
        router_minutes=Decimal(router_minutes),
        hands_minutes=Decimal(hands_minutes),
        router_dollars_a_minute=Decimal(rate),
        hands_dollars_an_hour=Decimal(hourly),
        wood_dollars=Decimal(wood),
    )


def test_wood_is_added_to_router_and_hands():
    assert floor("10", "6", wood="4.25") == Decimal("20.25")


def test_a_part_of_a_minute_counts():
    assert floor("2.5", "1", rate="0.80", hourly="50") == Decimal("2.83")


def test_half_a_cent_is_rounded_up():
    assert floor("1", rate="0.125") == Decimal("0.13")


@pytest.mark.parametrize("minutes", ["-1", "NaN"])
def test_minutes_below_nothing_are_refused(minutes):
    with pytest.raises(PlannerError, match="router minutes is 0 or more"):
        floor(minutes)
