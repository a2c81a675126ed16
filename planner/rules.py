"""Judge any plan: which rules of the plan exchange it breaks, and what it costs.

Plain Python that takes nothing from the search, so that a mistake there cannot hide here. One look is lent to it, for
room left beside a plan (`judging.left_out.starts_left`): a test holds that one against trying every minute.
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.costing import cost, same_cost
from planner.judging.calendar import (
    changeovers_in_hours,
    hands_in_hours,
    in_station_hours,
    starts_after_now,
    watch_in_hours,
)
from planner.judging.form import (
    begun_steps_stay,
    each_step_stands_once,
    people_fit,
    stations_fit,
    steps_last_as_long_as_they_do,
)
from planner.judging.left_out import left_out_only_for_want_of_a_start, what_follows_is_left_out
from planner.judging.links import links_hold, lost_windows_are_listed
from planner.judging.places import capacity_is_kept, changeovers_are_worked, one_pair_of_hands
from planner.plan import Plan, Status
from planner.problem import Problem

FORM = (each_step_stands_once, begun_steps_stay, steps_last_as_long_as_they_do, people_fit, stations_fit)
RULES = (
    hands_in_hours,
    one_pair_of_hands,
    watch_in_hours,
    in_station_hours,
    capacity_is_kept,
    changeovers_are_worked,
    changeovers_in_hours,
    starts_after_now,
    links_hold,
    lost_windows_are_listed,
    what_follows_is_left_out,
    left_out_only_for_want_of_a_start,
)

__all__ = ["broken_rules", "cost"]


def broken_rules(problem: Problem, plan: Plan) -> list[str]:
    """Each rule of the plan exchange that `plan` breaks, as a sentence naming the steps; empty for a good plan.

    A plan whose rows do not fit the problem's steps at all is told so alone, as nothing else can be judged.
    """
    broken = [sentence for rule in FORM for sentence in rule(problem, plan)]
    if broken:
        return broken
    broken = [sentence for rule in RULES for sentence in rule(problem, plan)]
    return broken + list(_says_what_it_is(problem, plan))


def _says_what_it_is(problem: Problem, plan: Plan) -> Iterator[str]:
    """Cost, bound and status say the truth."""
    real = cost(problem, plan)
    if not same_cost(plan.cost, real):
        yield f"cost is said to be {plan.cost:g} but is {real:g}"
    if plan.bound is not None and plan.bound > real and not same_cost(plan.bound, real):
        yield f"bound {plan.bound:g} is above the cost {real:g}"
    if (plan.status is Status.PARTIAL) != bool(plan.unplaced):
        yield f"status is {plan.status.value} with {len(plan.unplaced)} steps left out"
    if plan.status is Status.OPTIMAL and (plan.bound is None or not _reaches(plan.bound, real)):
        yield f"status is optimal but the bound {plan.bound} does not reach the cost {real:g}"


def _reaches(bound: float, real: float) -> bool:
    return bound >= real or same_cost(bound, real)
