"""The comparison: every planner is judged, and each is what its name says."""

import pytest
from hypothesis import given, settings

from planner import Order, Prices, Status
from planner.compare import PLANNERS, Effort, compare, first_come_first_served
from planner.shell.tables import line
from tests.planner.makers import make_problem, make_step, problems

QUICK = Effort(seconds=0.05, workers=1, seed=0)
LATE = Prices(late_hour=1)


def two_orders(*dues: int):
    steps = [make_step(f"step {number}", 60) for number in range(len(dues))]
    orders = [Order(f"o{number}", (step.id,), dues[number]) for number, step in enumerate(steps)]
    return make_problem(*steps, orders=orders, prices=LATE)


def test_who_comes_first_is_served_first_however_soon_the_other_is_due():
    plan = first_come_first_served(two_orders(1000, 540), QUICK)
    assert plan["step 0"].start < plan["step 1"].start


def test_the_rule_by_due_dates_serves_first_what_is_due_first():
    plan = PLANNERS["list rule by due dates"](two_orders(1000, 540), QUICK)
    assert plan["step 1"].start < plan["step 0"].start


def test_a_small_problem_is_proved_by_the_one_model():
    plan = PLANNERS["one CP-SAT model of the whole"](two_orders(540, 540), Effort(5, 1, 0))
    assert (plan.status, plan.cost, plan.bound) == (Status.OPTIMAL, pytest.approx(1), pytest.approx(1))


@settings(max_examples=25, deadline=None)
@given(problems(most_steps=5))
def test_every_plan_keeps_the_rules_and_the_engine_is_never_behind(problem):
    rows = list(compare(problem, seconds=0.05, workers=1))
    assert [row.planner for row in rows] == list(PLANNERS)
    assert not any(row.broken for row in rows)
    assert rows[-1].plan.cost <= min(row.plan.cost for row in rows[:3]) + 1e-6


def test_a_line_of_the_table_says_what_a_plan_costs_beside_the_first():
    rows = list(compare(two_orders(540, 480), seconds=0.05, workers=1))
    assert line(two_orders(540, 480), rows[1], rows[0]).split()[-7:] == ["2.0", "1.00", "1", "0", "-", "0.0", "kept"]
