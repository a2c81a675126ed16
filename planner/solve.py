"""The door of the planner: a plan at once by the list rule, then a search for a better one until the stop."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

from planner.errors import PlannerError
from planner.plan import Plan, Status
from planner.problem import Problem
from planner.rules import broken_rules
from planner.search.stop import Stop

if TYPE_CHECKING:
    from planner.search.listing import ListRule

Observer = Callable[[float, Plan, float | None], None]
WHOLE_AT_MOST = 150  # steps that are thought through all at once before parts of them are
WHOLE_SHARE = {60: 1.0, WHOLE_AT_MOST: 0.4}  # of the seconds, up to so many steps
PROVED = 0.005  # a bound this near the cost reaches it; costs are compared within 0.01


def quick_plan(problem: Problem) -> Plan:
    """A valid plan by the list rule alone: 500 steps in well under a second."""
    return solve(problem, seconds=0)


def solve(
    problem: Problem,
    *,
    seconds: float = 10,
    workers: int = 2,
    start: Plan | None = None,
    observer: Observer | None = None,
    seed: int = 0,
    stop: Stop | None = None,
) -> Plan:
    """The best plan found in `seconds`; never worse than the list rule's, nor than `start` where that keeps the rules.

    `start` is the plan in force. `observer` is told (seconds, plan, bound) at each improvement; `stop` ends the
    search early. Raises `PlannerError` if no plan that keeps the rules was found, which is a fault of the planner.
    """
    from planner.search.listing import ListRule, list_plan

    stop = stop or Stop(seconds)
    rule = ListRule(problem)
    known = [list_plan(problem, rule, start), start]
    search = Search(rule, workers, random.Random(seed), stop, observer)  # noqa: S311 - a repeatable search, no secret
    search.take(_best_kept(problem, [plan for plan in known if plan is not None]))
    if not stop.reached():
        search.run()
    return search.plan_with_bound()


def _best_kept(problem: Problem, plans: list[Plan]) -> Plan:
    """The cheapest of the plans that keep every rule."""
    kept = [plan for plan in plans if not broken_rules(problem, plan)]
    if not kept:
        raise PlannerError("No plan that keeps every rule was found; this is a fault of the planner, please report it.")
    return min(kept, key=lambda plan: plan.cost)


class Search:
    """The best plan so far and the best bound on any plan, while both are being improved."""

    def __init__(
        self, rule: ListRule, workers: int, chance: random.Random, stop: Stop, observer: Observer | None
    ) -> None:
        self.rule, self.workers, self.chance, self.stop = rule, workers, chance, stop
        self.observer = observer
        self.best: Plan | None = None
        self.bound: float | None = None
        self.exact = False

    def take(self, plan: Plan) -> None:
        """A better plan, kept and told."""
        self.best = plan
        if self.observer:
            self.observer(self.stop.seconds_gone(), plan, self.bound)

    def plan_with_bound(self) -> Plan:
        """The best plan with what is known of it."""
        assert self.best is not None  # noqa: S101 - a plan is taken before anything else
        status = Status.OPTIMAL if self._is_proved(self.best) else self.best.status
        bound = None if self.bound is None else min(self.bound, self.best.cost)
        return replace(
            self.best,
            status=Status.PARTIAL if self.best.unplaced else status,
            bound=bound,
            seconds=self.stop.seconds_gone(),
        )

    def run(self) -> None:
        """Bound, then the whole where that is small, then parts of it until the stop."""
        from planner.search.bound import lower_bound
        from planner.search.cpsat.part import is_exact

        self.bound = lower_bound(self.rule.facts)
        self.exact = is_exact(self.rule.facts)
        if self.best is None or not any(step in self.best for step in self.rule.facts.steps):
            return
        steps = len(self.rule.facts.steps)
        share = next((share for most, share in WHOLE_SHARE.items() if steps <= most), None)
        if share is not None and not self._is_proved(self.best):
            self._place_what_is_left_out(share * self.stop.seconds_left() / 2)
            self._think_whole(share * self.stop.seconds_left())
        self._improve_parts()

    def _is_proved(self, plan: Plan) -> bool:
        return self.bound is not None and self.bound >= plan.cost - PROVED

    def _keeps_rules(self, plan: Plan) -> bool:
        return not broken_rules(self.rule.problem, plan)

    def _place_what_is_left_out(self, seconds: float) -> None:
        """Try all steps at once where the list rule found no start for some that may have one."""
        assert self.best is not None  # noqa: S101 - a plan is taken before anything else
        left_out = {left.step for left in self.best.unplaced} - self.rule.hopeless
        if left_out:
            self._think_whole(seconds, left_out)

    def _think_whole(self, seconds: float, also: Iterable[str] = ()) -> None:
        from planner.search.cpsat.model import think
        from planner.search.cpsat.part import whole

        assert self.best is not None  # noqa: S101 - a plan is taken before anything else
        thought = think(
            whole(self.rule.facts, self.best, also),
            seconds=seconds,
            workers=self.workers,
            seed=self.chance.randrange(1 << 30),
            stop=self.stop,
            watcher=self._hear_of,
        )
        if thought.plan:
            self._hear_of(thought.plan, thought.bound)

    def _hear_of(self, plan: Plan, bound: float) -> None:
        """A plan of the whole with a bound on it; the bound counts if the model knows every plan."""
        if self.exact and not plan.unplaced:
            one_left_out = self.rule.problem.prices.unplaced  # what a plan that leaves something out costs at least
            self.bound = max(min(bound, one_left_out), self.bound or 0.0)
        if self.best is None or (plan.cost < self.best.cost - 1e-9 and self._keeps_rules(plan)):
            self.take(plan)

    def _improve_parts(self) -> None:
        from planner.search.loop import improve
        from planner.search.moves import moves_for

        assert self.best is not None  # noqa: S101 - a plan is taken before anything else
        improve(
            self.best,
            moves_for(self.rule, self.workers),
            stop=self.stop,
            chance=self.chance,
            keeps_rules=self._keeps_rules,
            tell=self.take,
            good_enough=self._is_proved,
        )
