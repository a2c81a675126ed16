"""What the moves at machine speed have in common: records that stand from call to call, and slices of work on them."""

from __future__ import annotations

import random
from abc import ABC, abstractmethod
from time import monotonic

from planner.plan import Plan
from planner.search.best import WORTH_KEEPING
from planner.search.drafting import finished_plan
from planner.search.fast.standing import can_stand, shop_of
from planner.search.listing import ListRule
from planner.search.stop import Stop

SLICE = 0.3  # seconds of work at a time


class ShopMove(ABC):
    """Betters one plan of one problem, some tries at a time, as many as fit into a slice."""

    first_tries = 1  # before it is known how long one takes
    repeatable_tries = 1  # at a time where the clock does not count

    def __init__(self, rule: ListRule, seed: int) -> None:
        self.rule, self.facts, self.seed = rule, rule.facts, seed
        self.out: set[str] | None = None
        self.tries = self.first_tries

    def __call__(self, plan: Plan, chance: random.Random, stop: Stop) -> Plan | None:  # noqa: ARG002 - has its own chance
        out = {left.step for left in plan.unplaced}
        if out == self.out:
            self.go_on(plan, stop)
        elif can_stand(self.rule, plan):  # other steps are in the plan than before: everything anew
            self.numbers, self.shop = shop_of(self.rule, plan, self.seed)
            self.out = out
            self.begin(plan)
        else:
            return None
        before = self.shop.all[0]["best"]
        self._work_for_a_slice(stop)
        return self.found() if self.shop.all[0]["best"] < before - WORTH_KEEPING else None

    @abstractmethod
    def begin(self, plan: Plan) -> None:
        """Make ready records in which nothing stands yet."""

    def go_on(self, plan: Plan, stop: Stop) -> None:  # noqa: B027 - a move need not hear
        """Hear of the best plan there is before working on."""

    @abstractmethod
    def work(self, tries: int, stop: Stop) -> None:
        """Try so many plans; `shop.best` is the best one."""

    def found(self) -> Plan:
        """The best plan so far."""
        return finished_plan(self.facts, self.numbers.placed(self.shop.best), set(self.out or ()))

    def _work_for_a_slice(self, stop: Stop) -> None:
        began = monotonic()
        self.work(self.repeatable_tries if stop.is_repeatable else self.tries, stop)
        slices = min(SLICE, stop.seconds_left()) / max(1e-4, monotonic() - began)
        self.tries = max(1, int(self.tries * min(8.0, slices)))
