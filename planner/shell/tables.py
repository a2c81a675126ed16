"""The table that `compare` prints."""

from __future__ import annotations

from planner.compare import Row
from planner.costing import late_orders
from planner.problem import Problem

HEAD = (
    f"{'planner':34} {'cost':>12} {'ratio':>6} {'late':>5} {'changeover min':>14} {'bound':>12} {'seconds':>8}  rules"
)


def line(problem: Problem, row: Row, reference: Row) -> str:
    """One planner's plan; its ratio is to the cost of the reference."""
    plan = row.plan
    bound = "-" if plan.bound is None else f"{plan.bound:,.1f}"
    changeover = sum(placed.changeover for placed in plan.placed)
    rules = f"{len(row.broken)} broken: {row.broken[0]}" if row.broken else "kept"
    return (
        f"{row.planner:34} {plan.cost:12,.1f} {_ratio(plan.cost, reference.plan.cost):>6}"
        f" {late_orders(problem, plan):5} {changeover:14,} {bound:>12} {row.seconds:8.1f}  {rules}"
    )


def _ratio(cost: float, reference: float) -> str:
    if reference <= 0:
        return "1.00" if cost <= 0 else "-"
    return f"{cost / reference:.2f}"
