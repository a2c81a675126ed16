"""The floor of a price. Source: common practice, no source."""

from decimal import Decimal

import pytest

from planner.trade.price import price_floor

pytestmark = pytest.mark.source("common practice, no source: the floor of a price")


def test_fifteen_minutes_of_router_and_thirty_of_hands_make_a_floor_of_45_dollars():
    floor = price_floor(
        router_minutes=Decimal(15),
        hands_minutes=Decimal(30),
        router_dollars_a_minute=Decimal(1),
        hands_dollars_an_hour=Decimal(60),
    )
    assert floor == Decimal(45)
