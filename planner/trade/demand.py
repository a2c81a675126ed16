"""How many pieces of a design people want at a fair, and how many to bring: the newsvendor's question.

Who brings too few loses what one more would have earned (`under`), who brings too many what one left over costs
(`over`); the best quantity is where the odds of selling out have fallen to over / (under + over). Source: Arrow, Harris
and Marschak 1951; Snyder and Shen, Fundamentals of Supply Chain Theory, chapter 4.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import exp, isfinite, lgamma, log, sqrt
from statistics import NormalDist

from planner.errors import PlannerError
from planner.trade.amounts import a_number, a_share, above_zero, not_below_zero

MOST = 10_000
NOBODY = 1e-6
"""A mean below which nobody comes: logarithms of less overflow."""
PRIOR_FAIRS = 2
"""A guess weighs as much as so many fairs. Common practice, no source."""
PRIOR_SPREAD = 0.5
"""Before anything was sold, demand is off its guess by about half. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Demand:
    """Pieces wanted, as mean and standard deviation; whole pieces come from a negative binomial, or a Poisson where the
    spread is no larger than the root of the mean, for people come one by one."""

    mean: float
    spread: float

    def __post_init__(self) -> None:
        if not (isfinite(self.mean) and isfinite(self.spread) and self.mean >= 0 and self.spread >= 0):
            raise PlannerError(f"Demand has a mean and a spread of 0 or more, not {self.mean:g} and {self.spread:g}.")
        if self.mean > MOST:
            raise PlannerError(f"Nobody sells {self.mean:g} pieces of one design at a fair; say fewer.")

    def odds_of_selling(self, pieces: int) -> float:
        """The probability that so many or more are wanted."""
        return max(0.0, 1 - sum(self.odds_of(n) for n in range(pieces)))

    def expected_sold(self, pieces: int) -> float:
        """How many of so many brought are sold on average."""
        odds, at_least = 0.0, 1.0
        for n in range(pieces):
            at_least -= self.odds_of(n)
            odds += max(0.0, at_least)
        return odds

    def odds_of(self, n: int) -> float:
        """The probability that exactly `n` are wanted."""
        if self.mean < NOBODY:
            return 1.0 if n == 0 else 0.0
        variance = self.spread**2
        if variance <= self.mean * (1 + 1e-9):
            return exp(n * log(self.mean) - self.mean - lgamma(n + 1))
        size = self.mean**2 / (variance - self.mean)
        chance = size / (size + self.mean)
        return exp(lgamma(n + size) - lgamma(size) - lgamma(n + 1) + size * log(chance) + n * log(1 - chance))


@dataclass(frozen=True, slots=True)
class Sale:
    """What one fair said of a design: so many brought, so many sold."""

    brought: int
    sold: int

    def __post_init__(self) -> None:
        if not 0 <= self.sold <= self.brought:
            raise PlannerError(f"Of {self.brought} pieces brought {self.sold} can't have been sold.")

    @property
    def sold_out(self) -> bool:
        return self.brought > 0 and self.sold == self.brought


def critical_ratio(price: Decimal, cost: Decimal, salvage: Decimal = Decimal(0)) -> float:
    """under / (under + over): the odds of having enough that pay best. A piece left over is worth `salvage`.

    0 where a piece never pays, 1 where one left over loses nothing. Raises PlannerError for dollars
    that are no number.
    """
    _check_dollars(price, cost, salvage)
    if salvage > price:
        raise PlannerError(f"A piece left over can't be worth more ({salvage}) than one sold ({price}).")
    under, over = price - cost, cost - salvage
    if under <= 0:
        return 0.0
    return 1.0 if over <= 0 else float(under / (under + over))


def newsvendor_normal(mean: float, spread: float, ratio: float) -> float:
    """The quantity that pays best where demand is normal, as a real number. `ratio` lies between 0 and 1, both out."""
    if not 0 < ratio < 1:
        raise PlannerError(f"The critical ratio lies between 0 and 1, not {ratio:g}.")
    a_number("mean of demand", mean)
    not_below_zero("spread of demand", spread)
    return NormalDist(mean, spread).inv_cdf(ratio) if spread else mean


def newsvendor_cost_normal(spread: float, over: float, under: float) -> float:
    """The expected cost at the quantity that pays best where demand is normal: (over + under)·φ(z)·spread."""
    not_below_zero("spread of demand", spread)
    above_zero("cost of a piece too many", over)
    above_zero("cost of a piece too few", under)
    z = NormalDist().inv_cdf(under / (under + over))
    return (over + under) * NormalDist().pdf(z) * spread


def newsvendor_uniform(least: float, most: float, ratio: float) -> float:
    """The quantity that pays best where any demand from `least` to `most` is as likely as another."""
    a_number("least demand", least)
    a_number("most demand", most)
    a_share("critical ratio", ratio)
    return least + ratio * (most - least)


def newsvendor_pieces(demand: Demand, ratio: float) -> int:
    """The least whole quantity whose odds of being enough reach the critical ratio; 0 for a ratio of 0.

    >>> newsvendor_pieces(Demand(6, sqrt(6)), 0.8)
    8
    """
    a_share("critical ratio", ratio)
    if ratio == 0:
        return 0
    enough, pieces = 0.0, -1
    while enough < min(ratio, 1 - 1e-9) and pieces < MOST:
        pieces += 1
        enough += demand.odds_of(pieces)
    return pieces


def demand_from_sales(sales: Sequence[Sale], *, guess: float | None = None) -> Demand:
    """Demand from past fairs and the owner's guess, which weighs as much as two fairs.

    Where all was sold, more may have been wanted: then demand is taken as what was brought and one spread's tail more,
    0.8 of the root of it (the mean of a Poisson above a cut near its mean). Raises PlannerError with neither a fair nor
    a guess.
    """
    wanted = [sale.sold + (0.8 * sqrt(sale.sold) if sale.sold_out else 0.0) for sale in sales if sale.brought]
    if guess is not None and not (isfinite(guess) and guess >= 0):
        raise PlannerError(f"A guess of demand is 0 or more pieces, not {guess:g}.")
    if not wanted and guess is None:
        raise PlannerError("There is no fair to learn from; guess how many would be sold.")
    seen = sum(wanted) / len(wanted) if wanted else 0.0
    center = seen if guess is None else guess
    weight = PRIOR_FAIRS if guess is not None else 0
    mean = (sum(wanted) + weight * center) / (len(wanted) + weight)
    prior = (PRIOR_SPREAD * mean) ** 2 + mean
    squares = sum((each - mean) ** 2 for each in wanted)
    variance = (PRIOR_FAIRS * prior + squares) / (PRIOR_FAIRS + len(wanted))
    return Demand(mean, sqrt(max(variance, mean)))


def marginal_values(
    demand: Demand, *, price: Decimal, cost: Decimal, salvage: Decimal = Decimal(0), most: int
) -> tuple[Decimal, ...]:
    """What the first, second, ... piece brought adds on average, in dollars: price·P(wanted) + salvage·P(left) − cost.

    They fall, so a program may take them in any order and still takes the first first.
    """
    _check_dollars(price, cost, salvage)
    values, sold = [], 1.0
    for n in range(most):
        sold = max(0.0, sold - demand.odds_of(n))
        odds = Decimal(repr(sold))
        values.append(price * odds + salvage * (1 - odds) - cost)
    return tuple(values)


def _check_dollars(price: Decimal, cost: Decimal, salvage: Decimal) -> None:
    for name, dollars in (("price of a piece", price), ("cost of a piece", cost), ("worth of one left over", salvage)):
        a_number(name, dollars)
