"""The engine against trying everything: its best is the best there is, and each of its parts keeps every rule."""

import random

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from planner import Problem, Status, broken_rules, quick_plan, solve
from planner.search.bound import lower_bound
from planner.search.cpsat.part import is_exact
from planner.search.drafting import finished_plan
from planner.search.facts import Facts
from planner.search.listing import ListRule
from planner.search.moves import compiled_moves, rethinks
from planner.search.pressing import PRIORITIES, Pressing
from planner.search.second_chance import with_all_that_fits
from planner.search.stop import Stop
from tests.planner.exhaustive import Beside, Trying, odd_problems, problems_with_steps_alike, tiny_problems
from tests.planner.makers import problems

GIVEN_UP = "is left out though it could start"  # a move may give a step up: such a plan is not taken by the search
SLOW = [HealthCheck.too_slow, HealthCheck.data_too_large]


@settings(max_examples=16, suppress_health_check=SLOW)
@given(tiny_problems())
def test_the_engine_finds_the_best_of_all_plans_and_proves_it(problem):
    is_the_best_and_proved(problem)


@settings(max_examples=12, suppress_health_check=SLOW)
@given(problems_with_steps_alike())
def test_the_engine_finds_the_best_of_all_plans_of_steps_that_are_alike(problem):
    is_the_best_and_proved(problem)


def is_the_best_and_proved(problem: Problem) -> None:
    best = Trying(problem).walk()
    plan = solve(problem, seconds=5, workers=1)
    assert broken_rules(problem, plan) == []
    if best is None:
        assert plan.unplaced
    else:
        assert abs(plan.cost - best) <= 0.01
        assert plan.status is Status.OPTIMAL or not is_exact(Facts(problem))


@settings(max_examples=40, suppress_health_check=SLOW)
@given(tiny_problems())
def test_the_bound_is_not_above_the_best_of_all_plans(problem):
    best = Trying(problem).walk()
    bound = lower_bound(Facts(problem), known=quick_plan(problem).cost, stop=Stop(1))
    assert best is None or bound <= best + 0.01


@settings(max_examples=60, suppress_health_check=SLOW, deadline=None)
@given(odd_problems())
def test_the_bound_is_not_above_the_best_of_all_plans_those_that_leave_something_out_among_them(problem):
    best = Trying(problem, leaving_out=True).walk()
    bound = lower_bound(Facts(problem), known=quick_plan(problem).cost, stop=Stop(1))
    assert best is None or bound <= best + 0.01


@settings(max_examples=100, suppress_health_check=SLOW, deadline=None)
@given(odd_problems(), st.data())
def test_what_is_left_out_is_judged_as_trying_every_minute_would(problem, data):
    """But where one step left out would bring back the set-up that another takes away: that is not looked for."""
    facts, plan = Facts(problem), quick_plan(problem)
    given_up = data.draw(st.sets(st.sampled_from(sorted(step.id for step in problem.steps)), min_size=1))
    out = facts.dragged_out((given_up | {left.step for left in plan.unplaced}) & facts.steps.keys())
    plan = finished_plan(facts, [row for row in plan.placed if row.step in facts.steps and row.step not in out], out)
    broken = broken_rules(problem, plan)
    assume(all(GIVEN_UP in each for each in broken))
    has_start = Beside(problem, plan).walk() is not None
    set_ups = [step for step in out if problem.step[step].state_in is not None]
    assert bool(broken) is has_start or (has_start and len(set_ups) > 1)


@settings(max_examples=60)
@given(problems())
def test_every_priority_of_the_list_rule_keeps_every_rule(problem):
    rule = ListRule(problem)
    for priority in PRIORITIES:
        for patience in (0, 6):
            plan = rule.plan(priority(Pressing(rule.facts)), patience)
            assert broken_rules(problem, with_all_that_fits(rule.facts, plan)) == []


@settings(max_examples=8, suppress_health_check=SLOW, deadline=None)
@given(problems(most_steps=7))
def test_every_move_of_the_search_keeps_every_rule(problem):
    rule, chance = ListRule(problem), random.Random(1)  # noqa: S311 - a repeatable test
    if not any(step in quick_plan(problem) for step in rule.facts.steps):
        return  # nothing stands, so there is nothing to move
    for move in [*compiled_moves(rule, quick_plan(problem), 1), *rethinks(rule)]:
        plan = quick_plan(problem)
        for _ in range(2):
            found = move(plan, chance, Stop(0.5))
            if found is not None:
                assert [each for each in broken_rules(problem, found) if GIVEN_UP not in each] == []
                plan = found
