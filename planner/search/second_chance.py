"""Steps that the list rule gave up with others are placed after all, wherever the judge sees a start left for them."""

from __future__ import annotations

from planner.judging.left_out import starts_left
from planner.plan import Plan
from planner.search.drafting import finished_plan
from planner.search.facts import Facts


def with_all_that_fits(facts: Facts, plan: Plan) -> Plan:
    """The plan with every step left out that still fits in beside it; nothing else is moved."""
    while places := next(starts_left(facts.problem, plan), None):
        rows = [row for row in plan.placed if row.step in facts.steps]
        out = {left.step for left in plan.unplaced} - {row.step for row in places}
        plan = finished_plan(facts, [*rows, *places], out)
    return plan
