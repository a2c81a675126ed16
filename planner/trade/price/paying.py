"""From costs to prices, and from a price to what it pays: per hour of hands, per hour of router.

A price p brings in p·s on average, s the share left by seconds, of which the channel keeps f·p·s + g. What is left pays
the costs. Every formula here is that line solved for what is asked.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal

from planner.errors import PlannerError
from planner.trade.price.costs import CostSheet, PriceFacts, cost_of

CENT = Decimal("0.01")
MINUTES_AN_HOUR = 60


@dataclass(frozen=True, slots=True)
class Pay:
    """What a price really pays. Rates are dollars an hour, None where a piece takes none of it.

    `an_hour_of_hands` is what is left for hands after all else is paid; `an_hour_of_router` what is left for the router
    after all else, hands at their wage included; `profit_dollars` what is left of a piece after everything.
    """

    price_dollars: Decimal
    income_dollars: Decimal
    profit_dollars: Decimal
    an_hour_of_hands: Decimal | None
    an_hour_of_router: Decimal | None


def floor_price(facts: PriceFacts, batch_size: int = 1) -> Decimal:
    """The least price in dollars, up to the next cent, that pays for everything, hands at their wages included."""
    return _price_that_leaves(facts, cost_of(facts, batch_size).dollars)


def price_for_wage(facts: PriceFacts, batch_size: int, wanted_dollars_an_hour: Decimal) -> Decimal:
    """The least price in dollars, up to the next cent, that pays all hands so much an hour."""
    if not wanted_dollars_an_hour.is_finite() or wanted_dollars_an_hour < 0:
        raise PlannerError(f"The wage wanted is 0 or more dollars an hour, not {wanted_dollars_an_hour}.")
    sheet = cost_of(facts, batch_size)
    return _price_that_leaves(
        facts, sheet.other_dollars + sheet.hands_minutes * wanted_dollars_an_hour / MINUTES_AN_HOUR
    )


def what_it_pays(facts: PriceFacts, batch_size: int, price_dollars: Decimal) -> Pay:
    """What a piece at that price pays, all pieces of the batch sold. Raises PlannerError for a price below 0."""
    if not price_dollars.is_finite() or price_dollars < 0:
        raise PlannerError(f"A price is 0 or more dollars, not {price_dollars}.")
    sheet = cost_of(facts, batch_size)
    income = price_dollars * facts.sold_share * (1 - facts.fee_fraction) - facts.fee_dollars
    router_dollars = facts.router_minutes * facts.router_dollars_a_minute
    profit = income - sheet.dollars
    return Pay(
        price_dollars=price_dollars,
        income_dollars=_cents(income),
        profit_dollars=_cents(profit),
        an_hour_of_hands=_an_hour(income - sheet.other_dollars, sheet.hands_minutes),
        an_hour_of_router=_an_hour(profit + router_dollars, facts.router_minutes),
    )


def batch_curve(facts: PriceFacts, sizes: Sequence[int] = (1, 5, 20)) -> tuple[CostSheet, ...]:
    """The cost sheet at each batch size; a larger batch never costs more a piece."""
    return tuple(cost_of(facts, size) for size in sizes)


def _price_that_leaves(facts: PriceFacts, dollars: Decimal) -> Decimal:
    share = facts.sold_share * (1 - facts.fee_fraction)
    if share <= 0:
        raise PlannerError("Seconds and fees take the whole price; no price pays for this piece.")
    return ((dollars + facts.fee_dollars) / share).quantize(CENT, ROUND_CEILING)


def _an_hour(dollars: Decimal, minutes: Decimal) -> Decimal | None:
    return _cents(dollars / minutes * MINUTES_AN_HOUR) if minutes else None


def _cents(dollars: Decimal) -> Decimal:
    return dollars.quantize(CENT, ROUND_HALF_UP)
