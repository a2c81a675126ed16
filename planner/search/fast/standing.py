"""A problem's records for compiled code, made from a plan: whether it can be done, and how far they reach in time."""

from __future__ import annotations

from planner.plan import Plan
from planner.search.fast.filling import Filling
from planner.search.fast.numbers import Numbers
from planner.search.fast.table import Shop
from planner.search.listing import ListRule
from planner.search.pressing import PRIORITIES, Pressing

MOST_CELLS = 50_000_000  # minutes of all stations together that are held one by one


def shop_of(rule: ListRule, plan: Plan, seed: int) -> tuple[Numbers, Shop]:
    """The numbers of what a plan has placed, and all records, in which only what has begun stands yet."""
    pressing = Pressing(rule.facts)
    numbers = Numbers(rule.facts, plan, rule.clusters)
    filling = Filling(numbers, rule.new_draft().books, horizon_of(rule, plan))
    filling.first = {step for each in rule.clusters if each.number in rule.first for step in each.steps}
    filling.keys = [key(pressing) for key in PRIORITIES]
    return numbers, filling.shop(seed)


def can_stand(rule: ListRule, plan: Plan) -> bool:
    """Whether anything placed may move, wherever it stands is known, and the calendar can be held by the minute."""
    placed = [row for row in plan.placed if row.step in rule.facts.steps]
    known = all(row.stations in rule.facts.steps[row.step].choices for row in placed)
    return bool(placed) and known and _cells(rule, plan) <= MOST_CELLS


def _cells(rule: ListRule, plan: Plan) -> float:
    problem = rule.problem
    several = sum(station.capacity > 1 for station in problem.stations)
    rows = 1 + len(problem.people) + len(problem.stations) - several
    rows += sum(station.hours is not None for station in problem.stations)
    return horizon_of(rule, plan) * (several + rows / 32)  # 32-bit loads; bits by the minute


def horizon_of(rule: ListRule, plan: Plan) -> int:
    """Minutes from now on in which plans are made: all known hours, and half as long again as the plan lasts."""
    problem = rule.problem
    ends = max((row.end for row in plan.placed), default=problem.now)
    closes = [close for station in problem.stations for _, close in station.hours or ()]
    last = max([problem.latest_close, ends + (ends - problem.now) // 2, *closes])
    return last - problem.now + 1
