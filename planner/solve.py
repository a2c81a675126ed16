"""The door of the planner: a plan at once by the list rule, then a search for a better one until the stop."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from planner.errors import PlannerError
from planner.plan import Plan
from planner.problem import Problem
from planner.rules import broken_rules
from planner.search.stop import Stop

if TYPE_CHECKING:
    from planner.search.course import Observer
    from planner.search.facts import InForce
    from planner.search.listing import ListRule


def quick_plan(problem: Problem) -> Plan:
    """A valid plan by the list rule alone: 500 steps in well under a second."""
    return solve(problem, seconds=0)


def solve(  # noqa: PLR0913 - each is a wish of its own, by name only
    problem: Problem,
    *,
    seconds: float = 10,
    workers: int = 2,
    start: Plan | None = None,
    observer: Observer | None = None,
    seed: int = 0,
    stop: Stop | None = None,
    frozen_minutes: int = 0,
    move_price: float = 0.0,
    iterations: int | None = None,
    gap: float = 0.0,
) -> Plan:
    """The best plan found in `seconds`; never worse than the list rule's, nor than `start` where that keeps the rules.

    `start` is the plan in force: what it begins within `frozen_minutes` from now stays, as far as the rules allow, and
    moving any other step of it costs the search `move_price`, so that with either the plan may cost more than `start`.
    `observer` is told (seconds, plan, bound) at each improvement, of a bound only when it has risen noticeably; `stop`
    ends the search early. The search also ends after `iterations`, then repeatable by `seed` with one worker, or once
    proved within `gap` percent of the best.
    Raises `PlannerError` if no plan that keeps the rules was found, which is a fault of the planner.
    """
    from planner.search.course import Search
    from planner.search.listing import ListRule, list_plans

    stop = stop or Stop(seconds)
    stop.iterations = iterations
    rule = ListRule(problem, _in_force(problem, start, frozen_minutes, move_price))
    known = [*list_plans(rule, start), *([] if start is None else [start])]
    search = Search(rule, _best_kept(rule, known), workers=workers, seed=seed, stop=stop, gap=gap / 100)
    search.told_to(observer)
    if not stop.reached():
        search.run()
    return search.plan_with_bound()


def _in_force(problem: Problem, start: Plan | None, frozen_minutes: int, move_price: float) -> InForce:
    """What of the plan in force is still to be begun, and what of that is to stay."""
    from planner.search.facts import InForce

    to_do = {step.id for step in problem.steps if not step.begun}
    rows = {row.step: row for row in (start.placed if start else ()) if row.step in to_do}
    near = {row.step for row in rows.values() if row.start - row.changeover < problem.now + frozen_minutes}
    return InForce(rows, frozenset(near) if frozen_minutes else frozenset(), move_price)


def _best_kept(rule: ListRule, plans: Iterable[Plan]) -> Plan:
    """Of the plans that keep every rule the one that moves least of what had better stay, then the cheapest."""
    from planner.search.second_chance import with_all_that_fits

    in_force, plans = rule.facts.in_force, list(plans)
    kept = _kept(rule, plans) or _kept(rule, (with_all_that_fits(rule.facts, plan) for plan in plans))
    if not kept:
        raise PlannerError("No plan that keeps every rule was found; this is a fault of the planner, please report it.")
    return min(kept, key=lambda plan: (-len(in_force.staying(plan)), plan.cost + in_force.moved(plan)))


def _kept(rule: ListRule, plans: Iterable[Plan]) -> list[Plan]:
    return [plan for plan in plans if not broken_rules(rule.problem, plan)]
