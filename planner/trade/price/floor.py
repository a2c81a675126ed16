"""What a piece has to bring in at least."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from planner.errors import PlannerError

CENT = Decimal("0.01")


def price_floor(
    *,
    router_minutes: Decimal,
    hands_minutes: Decimal,
    router_dollars_a_minute: Decimal,
    hands_dollars_an_hour: Decimal,
    wood_dollars: Decimal = Decimal(0),
) -> Decimal:
    """The price in dollars below which a piece doesn't pay for its router, its hands and its wood, to the cent.

    Minutes and rates are 0 or more; PlannerError names the one that is not. Common practice, no source.

    >>> price_floor(router_minutes=Decimal(15), hands_minutes=Decimal(30),
    ...             router_dollars_a_minute=Decimal(1), hands_dollars_an_hour=Decimal(60))
    Decimal('45.00')
    """
    for name, value in locals().items():
        if not value.is_finite() or value < 0:
            raise PlannerError(f"{name.replace('_', ' ')} is 0 or more, not {value}.")
    router = router_minutes * router_dollars_a_minute
    hands = hands_minutes * hands_dollars_an_hour / 60
    return (router + hands + wood_dollars).quantize(CENT, ROUND_HALF_UP)
