"""Prices on the minutes of people and stations, raised where more is bought than there is, until no more is to be won.

What all orders pay at some prices, less what the supply would earn, is a bound whatever the prices: the Lagrangean
relaxation of the capacities (Fisher 1973, "Optimal solution of scheduling problems using Lagrange multipliers").
Prices move along the subgradient, with Polyak's step.
"""

from __future__ import annotations

import numpy as np

from planner.search.bound.buying import Flat, Ints, Numbers, buy
from planner.search.stop import Stop

HEAVY = 0.9  # of the last direction kept in the next
LONGEST = 0.2  # of Polyak's step, at first
SHORTER = 0.7
SHORTEST = 0.002
PATIENCE = 12  # rounds without a better bound before steps get shorter; three times as many before there is any
BETTER = 1e-4  # of the bound: less than that does not count
RISE = 0.3  # of the bound: what is aimed for lies at least so much higher
STEEPNESS = (2.0, 1.0, 0.5, 0.2)  # of the prices tried first


class Prices:
    """One price a minute for each giver and stretch, and the best bound that any prices gave."""

    def __init__(self, flat: Flat, supply: Numbers) -> None:
        self.flat, self.supply = flat, supply
        self.best = 0.0
        self.best_price = np.zeros_like(supply)
        self._room = np.empty((2, supply.shape[1]))
        self._looked_at = np.full(len(flat.first_end), supply.shape[1], np.int64)

    def highest(self, slope: Numbers, aim: float, stop: Stop) -> float:
        """The highest bound met until the stop; `slope` are prices to begin with, `aim` is about what may come out."""
        for steepness in STEEPNESS:
            self._try(steepness * slope)
        price, direction = self.best_price, np.zeros_like(self.supply)
        length, stale = LONGEST, 0
        while length > SHORTEST and not stop.reached():
            before = self.best
            bound, over = self._try(price)
            stale = 0 if self.best > before * (1 + BETTER) else stale + 1
            if stale > (PATIENCE if self.best else 3 * PATIENCE):
                price, direction, length, stale = self.best_price, np.zeros_like(price), length * SHORTER, 0
                continue
            direction = HEAVY * direction + over
            direction[(price <= 0) & (direction < 0)] = 0.0
            step = length * (max(aim, (1 + RISE) * self.best) - bound) / max(float((direction**2).sum()), 1e-9)
            price = np.maximum(0.0, price + step * direction)
        return self.best

    def _try(self, price: Numbers) -> tuple[float, Numbers]:
        """The bound at these prices, and by how much each stretch is overbooked."""
        used = np.zeros_like(self.supply)
        paid = buy(self.flat, price, used, self._room, self._looked_at)
        bound = paid - float((price * self.supply).sum())
        if bound > self.best:
            self.best, self.best_price = bound, price
        over = used - self.supply
        over[:, -1] = 0.0  # after the last stretch there is time enough
        return bound, over


def slope_to(flat: Flat, supply: Numbers, bounds: Ints, worth: float) -> Numbers:
    """Prices that fall evenly to nothing where the supply of a giver has met all demand for it.

    `worth` is what an hour's delay of everything costs: minute for minute of work, that is what going first is worth.
    """
    demand = np.zeros(len(supply))
    choices = np.diff(flat.choices_from)
    np.add.at(demand, flat.giver, flat.minutes / np.repeat(choices, choices))
    met = np.argmax(np.cumsum(supply, axis=1) >= demand[:, None] - 1e-6, axis=1)
    left: Numbers = np.maximum(0.0, bounds[met][:, None] - bounds[None, :])
    return left * (worth / 60 / np.maximum(1.0, demand))[:, None]
