"""What an hour of a machine costs its owner."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from planner.errors import PlannerError
from planner.trade.amounts import not_below_zero

CENT = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class MachineRate:
    """Dollars an hour for its wearing out and for the money in it, and the average money in it in dollars."""

    average_investment_dollars: Decimal
    depreciation_an_hour: Decimal
    interest_an_hour: Decimal

    @property
    def an_hour(self) -> Decimal:
        return (self.depreciation_an_hour + self.interest_an_hour).quantize(CENT, ROUND_HALF_UP)


def machine_dollars_an_hour(
    *, price_dollars: Decimal, salvage_dollars: Decimal, years: int, hours_a_year: int, interest_fraction: Decimal
) -> MachineRate:
    """The rate of a machine bought at a price, sold after so many years for its salvage.

    The average annual investment is (price·(n + 1) + salvage·(n − 1)) / 2n, depreciation is straight. Source: FAO,
    Cost control in forest harvesting and road construction (1992), chapter 3. Raises PlannerError for years or hours
    of 0 and for a salvage above the price.
    """
    not_below_zero("price of a machine", price_dollars)
    not_below_zero("interest on a machine as a share", interest_fraction)
    if not (years >= 1 and hours_a_year >= 1):
        raise PlannerError("A machine works for 1 year or more and 1 hour a year or more.")
    not_below_zero("price a machine is sold for", salvage_dollars)
    if not 0 <= salvage_dollars <= price_dollars:
        raise PlannerError(f"What a machine is sold for lies between 0 and its price, {price_dollars} dollars.")
    investment = (price_dollars * (years + 1) + salvage_dollars * (years - 1)) / (2 * years)
    return MachineRate(
        investment,
        (price_dollars - salvage_dollars) / (years * hours_a_year),
        investment * interest_fraction / hours_a_year,
    )
