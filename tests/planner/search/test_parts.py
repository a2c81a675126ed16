"""Any part of any plan, thought through anew, gives a plan that keeps the rules and costs no more."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from benchmarks.workshops import workshop
from planner import Begun, Plan, Problem, broken_rules, quick_plan
from planner.search.cpsat.model import think
from planner.search.cpsat.part import Part
from planner.search.facts import Facts
from planner.search.neighbourhoods import span_of
from planner.search.stop import Stop
from tests.planner.makers import problems

SLOW = [HealthCheck.too_slow, HealthCheck.data_too_large]
GIVEN_UP = "is left out though it could start"  # what stands otherwise may leave room for it


def check(problem: Problem, plan: Plan, free: set[str]) -> None:
    """No plan may come of it when there is no time; but the plan there is always allows one."""
    facts = Facts(problem)
    part = Part(facts, plan, frozenset(free), span_of(plan, free, facts.now))
    thought = think(part, seconds=1, workers=1, seed=0, stop=Stop(5))
    assert thought.plan is not None or not thought.settled
    if thought.plan is not None:
        assert [each for each in broken_rules(problem, thought.plan) if GIVEN_UP not in each] == []
        assert thought.plan.cost <= plan.cost + 0.01
        assert thought.bound <= thought.plan.cost + 0.01


def begun_until(problem: Problem, plan: Plan, now: int) -> Problem:
    """The problem as it stands some time later, when what was to start before then has begun where it was to."""
    steps = [
        replace(step, begun=Begun(plan[step.id].start, plan[step.id].person, plan[step.id].stations))
        if step.id in plan and plan[step.id].start <= now
        else step
        for step in problem.steps
    ]
    return replace(problem, now=now, steps=tuple(steps))


@settings(max_examples=40, suppress_health_check=SLOW, deadline=None)
@given(problems(most_steps=30), st.data())
def test_any_steps_of_any_problem_find_a_place_no_dearer_than_theirs(problem, data):
    plan = quick_plan(problem)
    placed = sorted(row.step for row in plan.placed if not problem.step[row.step].begun)
    if placed:
        check(problem, plan, data.draw(st.sets(st.sampled_from(placed), min_size=1, max_size=10)))


@settings(max_examples=15, suppress_health_check=SLOW, deadline=None)
@given(st.integers(1, 5), st.integers(1, 4), st.data())
def test_so_do_any_of_a_workshop_that_is_under_way(seed, days, data):
    fresh = workshop(30, seed)
    problem = begun_until(fresh, quick_plan(fresh), fresh.now + days * 1440 + 300)
    plan = quick_plan(problem)
    placed = sorted(row.step for row in plan.placed if not problem.step[row.step].begun)
    if placed:
        check(problem, plan, data.draw(st.sets(st.sampled_from(placed), min_size=1, max_size=10)))
