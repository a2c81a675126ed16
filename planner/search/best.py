"""The best plan so far, and the best bound on any plan."""

from __future__ import annotations

from collections.abc import Callable
from threading import RLock

from planner.costing import is_proved
from planner.plan import Plan

WORTH_KEEPING = 1e-6  # of cost that a better plan must save
WORTH_TELLING = 0.005  # of the cost that a bound must have risen by since it was last told


class Best:
    """The best plan so far and a bound on any plan, shared by all who search."""

    def __init__(
        self, plan: Plan, *, moved: Callable[[Plan], float], keeps_rules: Callable[[Plan], bool], gap: float
    ) -> None:
        self.plan = plan
        self.bound: float | None = None
        self._told: float | None = None
        self.listeners: list[Callable[[Plan, float | None], None]] = []  # to better plans, and to bounds that rise
        self._moved, self._keeps_rules, self._gap = moved, keeps_rules, gap
        self._lock = RLock()

    def worth(self, plan: Plan) -> float:
        """What a plan costs, with what it moves of the plan in force."""
        return plan.cost + self._moved(plan)

    def offer(self, plan: Plan) -> float:
        """Keep a plan that is better and keeps the rules; what it saves."""
        saved = self.worth(self.plan) - self.worth(plan)
        if saved <= WORTH_KEEPING or not self._keeps_rules(plan):
            return 0.0
        with self._lock:
            saved = self.worth(self.plan) - self.worth(plan)
            if saved > WORTH_KEEPING:
                self.plan = plan
                self._tell()
        return max(0.0, saved)

    def raise_bound(self, bound: float) -> None:
        """No plan costs less than this either."""
        with self._lock:
            if self.bound is not None and bound <= self.bound:
                return
            was_good_enough = self.is_good_enough()
            self.bound = bound
            noticeable = self._told is None or bound - self._told >= WORTH_TELLING * abs(self.plan.cost)
            if noticeable or (self.is_good_enough() and not was_good_enough):
                self._tell()

    def _tell(self) -> None:
        self._told = self.bound
        for listener in list(self.listeners):
            listener(self.plan, self.bound)

    def is_proved(self, within: float = 0.0) -> bool:
        """Whether the plan is proved to cost no more than the share `within` of the bound above it."""
        return self.bound is not None and is_proved(self.plan.cost, self.bound + within * abs(self.bound))

    def is_good_enough(self) -> bool:
        return self.is_proved(self._gap)
