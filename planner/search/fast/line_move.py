"""The move that makes the whole plan anew, some hundred times at once, from one line of orders after another."""

from __future__ import annotations

import random

from planner.plan import Plan
from planner.search.best import WORTH_KEEPING
from planner.search.fast.clustering import stand_at
from planner.search.fast.line import clear_the_rest, search_line
from planner.search.fast.move import ShopMove
from planner.search.fast.ruin_move import RuinAndRecreate
from planner.search.stop import Stop

HEAT, COOL = 1.0, 1e-2  # how much worse a line may be at first, in what an order costs; what of that is left at last
LINED_UP = 0.6  # of the search in which lines are tried; after that the best plan is ruined and recreated
NOTHING_YET = 1e15  # cost


class LineUp(ShopMove):
    """Searches the line in which clusters are placed; it begins with when orders are due, whatever the plan."""

    repeatable_tries = 100
    is_hindered = False  # whether what must stay leaves no room for the changeovers between

    def begin(self, plan: Plan) -> None:
        self.shop.all[0]["best"] = self.shop.all[0]["cost"] = NOTHING_YET
        if self.shop.cluster["stays"].any():
            stand_at(self.shop, self.numbers.rows_of(plan))
            self.is_hindered = not clear_the_rest(self.shop)

    def work(self, tries: int, stop: Stop) -> None:
        if not self.is_hindered:
            search_line(self.shop, tries, self._warmth(stop))

    def _warmth(self, stop: Stop) -> float:
        best = min(float(self.shop.all[0]["best"]), float(self.shop.all[0]["cost"]))
        return HEAT * COOL ** stop.share_gone() * abs(best) / self.shop.order.size + WORTH_KEEPING


class LineUpThenRuin:
    """Lines first; then, or where lines are hindered, ruin and recreate of the best plan there is."""

    def __init__(self, line: LineUp, ruin: RuinAndRecreate) -> None:
        self.line: LineUp | None = line
        self.ruin = ruin

    def __call__(self, plan: Plan, chance: random.Random, stop: Stop) -> Plan | None:
        if self.line and (self.line.is_hindered or stop.share_gone() >= LINED_UP):
            self.line = None  # with all its records: they are large
        return (self.line or self.ruin)(plan, chance, stop)
