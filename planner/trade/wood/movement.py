"""How much wider or narrower a piece gets as its moisture changes."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite

from planner.errors import PlannerError
from planner.trade.amounts import above_zero, not_below_zero
from planner.trade.wood.moisture import equilibrium_moisture_percent
from planner.trade.wood.species import Wood

DRIEST, WETTEST = 6.0, 14.0
"""Between these moistures, in per cent, change is straight (Wood Handbook, eq. 13-2); outside, eq. 13-3 holds."""
FLAT, QUARTER = "flat", "quarter"
SIXTY_FOURTH_IN = 1 / 64


@dataclass(frozen=True, slots=True)
class Air:
    """Air somewhere: °F, and relative humidity as a fraction."""

    fahrenheit: float
    humidity: float

    @property
    def moisture_percent(self) -> float:
        return equilibrium_moisture_percent(self.fahrenheit, self.humidity)


@dataclass(frozen=True, slots=True)
class Movement:
    """From one air to another: the moisture before and after in per cent, the change across in inches, in words."""

    from_percent: float
    to_percent: float
    change_in: float
    says: str


def change_in(width_in: float, wood: Wood, from_percent: float, to_percent: float, grain: str = FLAT) -> float:
    """The change of `width_in` across the grain, in inches, less than 0 where it shrinks.

    `grain` is flat (flat-sawn: across the width it moves by the tangential coefficient) or quarter (radial). Within 6
    to 14 % by the coefficient (eq. 13-2), outside by shrinkage from green (eq. 13-3). Raises PlannerError for moistures
    below 0 or above fibre saturation. Source: Wood Handbook, FPL-GTR-190 (2010), chapter 13.
    """
    if grain not in {FLAT, QUARTER}:
        raise PlannerError(f"Grain is flat or quarter, not “{grain}”.")
    if not (isfinite(width_in) and width_in > 0):
        raise PlannerError(f"A width is more than 0 inches, not {width_in:g}.")
    for percent in (from_percent, to_percent):
        if not (isfinite(percent) and 0 <= percent <= wood.saturation_percent):
            raise PlannerError(
                f"Moisture that moves {wood.name} lies between 0 and {wood.saturation_percent:g} %, not at {percent:g}."
            )
    coefficient = wood.tangential if grain == FLAT else wood.radial
    if min(from_percent, to_percent) >= DRIEST and max(from_percent, to_percent) <= WETTEST:
        return width_in * coefficient * (to_percent - from_percent)
    shrinkage = wood.tangential_shrinkage if grain == FLAT else wood.radial_shrinkage
    return change_by_shrinkage(width_in, shrinkage, from_percent, to_percent, wood.saturation_percent)


def change_by_shrinkage(
    width_in: float, shrinkage_percent: float, from_percent: float, to_percent: float, saturation_percent: float = 30.0
) -> float:
    """Equation 13-3: width·(to − from) / (saturation·100 / shrinkage − saturation + from). Source: Wood Handbook.

    Raises PlannerError for a width, shrinkage or saturation not above 0, and a moisture below 0.
    """
    above_zero("width in inches", width_in)
    above_zero("shrinkage in per cent", shrinkage_percent)
    above_zero("fibre saturation in per cent", saturation_percent)
    not_below_zero("moisture before in per cent", from_percent)
    not_below_zero("moisture after in per cent", to_percent)
    below = saturation_percent * 100 / shrinkage_percent - saturation_percent + from_percent
    return width_in * (to_percent - from_percent) / below


def shop_to_home(width_in: float, wood: Wood, shop: Air, home: Air, grain: str = FLAT) -> Movement:
    """What a piece made in the shop's air does in a customer's."""
    before, after = shop.moisture_percent, home.moisture_percent
    change = change_in(width_in, wood, before, after, grain)
    guess = f" ({wood.name}: a guess)" if wood.is_a_guess else ""
    if abs(change) < SIXTY_FOURTH_IN / 2:
        says = f"Across {width_in:g} in it stays as wide as it is{guess}."
    else:
        way = "narrower" if change < 0 else "wider"
        says = (
            f"Across {width_in:g} in it gets {abs(change):.3f} in {way}: "
            f"its moisture goes from {before:.1f} to {after:.1f} %{guess}."
        )
    return Movement(before, after, change, says)
