"""The move of the search that makes the whole plan anew, some hundred times, from one line of orders after another."""

from __future__ import annotations

import random
from time import monotonic

from planner.plan import Plan
from planner.search.best import WORTH_KEEPING
from planner.search.drafting import finished_plan
from planner.search.fast.filling import Filling
from planner.search.fast.line import search_line
from planner.search.fast.move import SLICE, RuinAndRecreate, can_stand, horizon_of
from planner.search.fast.numbers import Numbers
from planner.search.listing import ListRule
from planner.search.pressing import PRIORITIES, Pressing
from planner.search.stop import Stop

HEAT, COOL = 1.0, 1e-2  # how much worse a line may be at first, in what an order costs; what of that is left at last
REPEATABLE = 100  # lines at a time where the clock does not count
LINED_UP = 0.6  # of the search in which lines are tried; after that the best plan is ruined and recreated
NOTHING_YET = 1e15  # cost


class LineUp:
    """Searches the line in which clusters are placed; it starts from no plan, only from when orders are due."""

    def __init__(self, rule: ListRule, seed: int) -> None:
        self.rule, self.facts, self.seed = rule, rule.facts, seed
        self.out: set[str] | None = None
        self.tries = 1

    def __call__(self, plan: Plan, chance: random.Random, stop: Stop) -> Plan | None:  # noqa: ARG002 - has its own chance
        out = {left.step for left in plan.unplaced}
        if out != self.out and not can_stand(self.rule, plan):
            return None
        if out != self.out:
            self._build(plan, out)
        before = min(plan.cost, float(self.shop.all[0]["best"]))
        self._search(self._warmth(before, stop), stop)
        if self.shop.all[0]["best"] < before - WORTH_KEEPING:
            return finished_plan(self.facts, self.numbers.placed(self.shop.best), out)
        return None

    def _build(self, plan: Plan, out: set[str]) -> None:
        pressing = Pressing(self.facts)
        self.numbers = Numbers(self.facts, plan, self.rule.clusters)
        filling = Filling(self.numbers, self.rule.new_draft().books, horizon_of(self.rule, plan))
        filling.first = {step for each in self.rule.clusters if each.number in self.rule.first for step in each.steps}
        filling.keys = [key(pressing) for key in PRIORITIES]
        self.shop = filling.shop(self.seed)
        self.shop.all[0]["best"] = self.shop.all[0]["cost"] = NOTHING_YET
        self.out = out

    def _warmth(self, cost: float, stop: Stop) -> float:
        return HEAT * COOL ** stop.share_gone() * abs(cost) / self.shop.order.size + WORTH_KEEPING

    def _search(self, warmth: float, stop: Stop) -> None:
        began = monotonic()
        search_line(self.shop, REPEATABLE if stop.is_repeatable else self.tries, warmth)
        slices = min(SLICE, stop.seconds_left()) / max(1e-4, monotonic() - began)
        self.tries = max(1, int(self.tries * min(8.0, slices)))


class LineUpThenRuin:
    """Lines first, then ruin and recreate of the best plan."""

    def __init__(self, line: LineUp, ruin: RuinAndRecreate) -> None:
        self.line, self.ruin = line, ruin

    def __call__(self, plan: Plan, chance: random.Random, stop: Stop) -> Plan | None:
        move = self.line if stop.share_gone() < LINED_UP else self.ruin
        return move(plan, chance, stop)
