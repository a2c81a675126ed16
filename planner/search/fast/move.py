"""The move of the search that runs at machine speed: some thousand times ruin and recreate, from the best plan on."""

from __future__ import annotations

import random
from time import monotonic

from planner.plan import Plan
from planner.search.best import WORTH_KEEPING
from planner.search.drafting import finished_plan
from planner.search.fast.annealing import anneal, keep
from planner.search.fast.clustering import clear_out, stand_at
from planner.search.fast.costing import price_everything
from planner.search.fast.filling import Filling
from planner.search.fast.numbers import Numbers
from planner.search.listing import ListRule
from planner.search.pressing import PRIORITIES, Pressing
from planner.search.stop import Stop

SLICE = 0.3  # seconds of work at a time
REPEATABLE = 2_000  # tries at a time where the clock does not count
MOST_CELLS = 50_000_000  # minutes of all stations together that are held one by one
COOL = 1e-3  # of the warmth at first is left at last
WELL_KNOWN = 400  # steps: a plan of so many is gone through so often in ten seconds that it may begin hot
ALONE = 0.5  # of the search in which each worker goes on from its own plan
MOST_OUT = 60.0  # clusters taken out at a time


class RuinAndRecreate:
    """Anneals one plan of one problem; where somebody else finds a better one, it goes on from there."""

    def __init__(self, rule: ListRule, seed: int, heat: float = 1.0) -> None:
        self.rule, self.facts, self.seed, self.heat = rule, rule.facts, seed, heat
        self.out: set[str] | None = None
        self.tries = 20
        self.told = 0.0

    def __call__(self, plan: Plan, chance: random.Random, stop: Stop) -> Plan | None:  # noqa: ARG002 - has its own chance
        out = {left.step for left in plan.unplaced}
        if out != self.out and not can_stand(self.rule, plan):
            return None
        if out != self.out:
            self._build(plan, out)
        elif plan.cost < self.told - WORTH_KEEPING and stop.share_gone() > ALONE:
            clear_out(self.shop)
            self._stand_at(plan)
        return self._found(out) if self._anneal(stop) else None

    def _build(self, plan: Plan, out: set[str]) -> None:
        """Everything anew: other steps are in the plan than before."""
        pressing = Pressing(self.facts)
        self.numbers = Numbers(self.facts, plan, self.rule.clusters)
        filling = Filling(self.numbers, self.rule.new_draft().books, horizon_of(self.rule, plan))
        filling.first = {step for each in self.rule.clusters if each.number in self.rule.first for step in each.steps}
        filling.keys = [key(pressing) for key in PRIORITIES]
        self.shop = filling.shop(self.seed)
        self._stand_at(plan)
        self.out = out

    def _stand_at(self, plan: Plan) -> None:
        stand_at(self.shop, self.numbers.rows_of(plan))
        self.shop.all[0]["cost"] = price_everything(self.shop)
        keep(self.shop)
        self.told = plan.cost

    def _anneal(self, stop: Stop) -> bool:
        """Some tries; whether they found anything better."""
        began, before = monotonic(), self.shop.all[0]["best"]
        tries = REPEATABLE if stop.is_repeatable else self.tries
        anneal(self.shop, tries, self._warmth(stop), MOST_OUT)
        slices = min(SLICE, stop.seconds_left()) / max(1e-4, monotonic() - began)
        self.tries = max(1, int(self.tries * min(8.0, slices)))
        return bool(self.shop.all[0]["best"] < before - WORTH_KEEPING)

    def _warmth(self, stop: Stop) -> float:
        """By how much worse a plan may well be: at first as much as an order costs, less where there is little time."""
        parts = self.shop.order.size or self.shop.step.size
        hot = self.heat * min(1.0, (WELL_KNOWN / self.shop.step.size) ** 2 * stop.seconds_in_all / 10)
        return float(hot * COOL ** stop.share_gone() * abs(self.shop.all[0]["best"]) / parts) + WORTH_KEEPING

    def _found(self, out: set[str]) -> Plan:
        found = finished_plan(self.facts, self.numbers.placed(self.shop.best), out)
        self.told = found.cost
        return found


def can_stand(rule: ListRule, plan: Plan) -> bool:
    """Whether anything placed may move, and the calendar is short enough to be held minute by minute."""
    problem = rule.problem
    several = sum(station.capacity > 1 for station in problem.stations)
    rows = 1 + len(problem.people) + len(problem.stations) - several
    rows += sum(station.hours is not None for station in problem.stations)
    cells = horizon_of(rule, plan) * (several + rows / 32)  # 32-bit loads; bits by the minute
    return cells <= MOST_CELLS and any(step in plan for step in rule.facts.steps)


def horizon_of(rule: ListRule, plan: Plan) -> int:
    """Minutes from now on in which plans are made: all known hours, and half as long again as the plan lasts."""
    problem = rule.problem
    ends = max((row.end for row in plan.placed), default=problem.now)
    closes = [close for station in problem.stations for _, close in station.hours or ()]
    last = max([problem.latest_close, ends + (ends - problem.now) // 2, *closes])
    return last - problem.now + 1
