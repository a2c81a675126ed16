"""What a plan costs by the problem's price list, when two costs are the same, and when a bound proves one."""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil

from planner.plan import Plan
from planner.problem import Order, Problem

NEAR, NEAR_SHARE = 0.01, 1e-6  # costs so near each other are the same
SURELY = 0.99  # of that is all that is made use of, for nobody who reckons otherwise by a hair is to disagree


def cost(problem: Problem, plan: Plan) -> float:
    """The cost of `plan` by the plan exchange; lower is better.

    Lateness, finish and makespan are priced by the hour, changeovers by the minute.
    """
    prices = problem.prices
    ends = {placed.step: placed.end for placed in plan.placed}
    end_of_plan = horizon(problem, plan)
    return (
        sum(order_cost(problem, order, ends, end_of_plan) for order in problem.orders)
        + prices.changeover_minute * sum(placed.changeover for placed in plan.placed)
        + prices.missed_window_hour * sum(missed.minutes for missed in plan.missed) / 60
        + prices.makespan_hour * max(0, max(ends.values(), default=problem.now) - problem.now) / 60
        + prices.unplaced * len(plan.unplaced)
    )


def order_cost(problem: Problem, order: Order, ends: Mapping[str, int], end_of_plan: int) -> float:
    """What one order adds, given the ends of the steps that stand; a step without one makes it end with the plan."""
    complete = all(step in ends for step in order.steps)
    finish = max(ends[step] for step in order.steps) if complete else end_of_plan
    late = max(0, finish - order.due) / 60
    missed = order.hard and (late > 0 or not complete)
    prices = problem.prices
    return order.weight * (late * prices.late_hour + missed * prices.missed_hard + finish / 60 * prices.finish_hour)


def late_orders(problem: Problem, plan: Plan) -> int:
    """How many orders end after their due, or not at all."""
    ends = {placed.step: placed.end for placed in plan.placed}
    return sum(any(ends.get(step, order.due + 1) > order.due for step in order.steps) for order in problem.orders)


def horizon(problem: Problem, plan: Plan) -> int:
    """The latest close of anyone's hours, or the plan's last end if that is later."""
    return max([problem.latest_close, *(placed.end for placed in plan.placed)])


def same_cost(one: float, other: float) -> bool:
    """Whether two costs are the same within a cent or a millionth."""
    return abs(one - other) <= max(NEAR, NEAR_SHARE * max(abs(one), abs(other)))


def is_proved(cost: float, bound: float | None) -> bool:
    """Whether no plan can cost less than this one, as costs are compared."""
    if bound is None:
        return False
    return cost - bound <= SURELY * max(NEAR, NEAR_SHARE * min(abs(cost), abs(bound)))


def distance_words(cost: float, bound: float | None) -> str:
    """How far a plan can be from the best one: `proved best`, `at most 12 % from the best possible`.

    In per cent of the bound, rounded up; above tenfold, or where nothing is known, it says just that.
    """
    if bound is None:
        return "how far from the best possible is not known"
    if is_proved(cost, bound):
        return "proved best"
    if bound <= 0 or cost > 10 * bound:
        return "perhaps far from the best possible: little is known of it"
    return f"at most {max(1, ceil(100 * (cost - bound) / bound - 1e-9))} % from the best possible"
