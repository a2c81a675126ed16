"""A plan in force: what is about to begin stays, what moves has a price; and searches that can be repeated."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from hypothesis import HealthCheck, given, settings

from benchmarks.workshops import workshop
from planner import Link, Order, Plan, Prices, Problem, Segment, Station, Status, broken_rules, quick_plan, solve
from tests.planner.makers import make_person, make_plan, make_problem, make_step, printed, problems, put

FROZEN = 24 * 60
TRIES = {"workers": 1, "iterations": 4, "seconds": 60}


@cache
def shop() -> Problem:
    return workshop(95, 4, spare=1.2, tight=9)


@cache
def in_force() -> Plan:
    return quick_plan(shop())


def near(problem: Problem, plan: Plan, minutes: int) -> set[str]:
    """The steps to be begun within some minutes from now."""
    return {
        row.step
        for row in plan.placed
        if row.start - row.changeover < problem.now + minutes and not problem.step[row.step].begun
    }


def kept(before: Plan, after: Plan) -> set[str]:
    """The steps that start as before."""
    return {row.step for row in before.placed if row.step in after and after[row.step].start == row.start}


def last_step(plan: Plan) -> str:
    return max(plan.placed, key=lambda row: row.start).step


def with_a_step_longer(problem: Problem) -> Problem:
    name = last_step(in_force())
    step = problem.step[name]
    longer = replace(step, segments=(*step.segments, Segment(35, step.segments[-1].need)))
    return replace(problem, steps=tuple(longer if each.id == name else each for each in problem.steps))


def with_somebody_away(problem: Problem) -> Problem:
    """Ben is away from the third day on."""
    ana, ben = problem.people
    here = tuple(hours for hours in ben.hours if hours[1] < 2 * 1440)
    return replace(problem, people=(ana, replace(ben, hours=here)))


def with_an_order_added(problem: Problem) -> Problem:
    steps = (make_step("new-cut", 45), make_step("new-oil", 20, skill="finish"))
    order = Order("new", ("new-cut", "new-oil"), problem.now + 1440, 50)
    return replace(
        problem,
        steps=(*problem.steps, *steps),
        links=(*problem.links, Link("new-cut", "new-oil", 30)),
        orders=(*problem.orders, order),
    )


CHANGES = [with_a_step_longer, with_somebody_away, with_an_order_added]


@pytest.mark.parametrize("change", CHANGES)
def test_what_is_about_to_begin_stays_when_something_else_changes(change):
    problem, before = change(shop()), in_force()
    after = solve(problem, start=before, frozen_minutes=FROZEN, **TRIES)
    assert broken_rules(problem, after) == []
    assert len(near(problem, before, FROZEN)) > 5
    assert near(problem, before, FROZEN) <= kept(before, after)


@pytest.mark.parametrize("change", CHANGES)
def test_with_a_price_on_moving_more_steps_stay(change):
    problem, before = change(shop()), in_force()
    free = solve(problem, start=before, **TRIES)
    priced = solve(problem, start=before, move_price=5, **TRIES)
    assert broken_rules(problem, priced) == []
    assert len(kept(before, priced)) > len(kept(before, free)) + 10


def test_moves_that_save_more_than_their_price_are_still_made():
    problem = with_an_order_added(shop())
    after = solve(problem, start=in_force(), move_price=0.02, **TRIES)
    assert after.cost + 0.02 * (len(in_force().placed) - len(kept(in_force(), after))) < in_force_with_new(problem)


def in_force_with_new(problem: Problem) -> float:
    """What it costs where nothing of the plan in force may move."""
    return solve(problem, start=in_force(), move_price=1000, **TRIES).cost


def test_a_better_plan_is_begun_from_and_never_made_worse():
    problem = shop()
    better = solve(problem, **TRIES)
    assert better.cost < quick_plan(problem).cost
    assert solve(problem, start=better, seconds=0).cost <= better.cost
    assert solve(problem, start=better, **TRIES).cost <= better.cost


def test_a_plan_that_is_begun_from_is_proved_anew_or_not_at_all():
    """The list rule gives what Ben alone can do to him after the rest; by hand Ana takes the rest."""
    problem = make_problem(
        make_step("cut", 100),
        make_step("oil", 30, skill="oil"),
        people=[make_person("ben", skills="wood oil"), make_person("ana", skills="wood pack")],
        orders=[Order("o", ("cut",), 400, 9), Order("q", ("oil",), 400)],
        prices=Prices(late_hour=1),
    )
    best = make_plan(problem, put(problem, "cut", 480, "ana"), put(problem, "oil", 480, "ben"))
    assert best.cost < quick_plan(problem).cost
    start = replace(best, status=Status.OPTIMAL, bound=best.cost)
    plans = [solve(problem, start=start, seconds=seconds) for seconds in (0, 5)]
    assert [plan.status for plan in plans] == [Status.FEASIBLE, Status.OPTIMAL]
    assert [broken_rules(problem, plan) for plan in plans] == [[], []]


def test_a_frozen_step_moves_where_it_can_no_longer_be_done():
    problem = make_problem(make_step("cut"), make_step("sand", 60), people=[make_person(hours=((480, 1020),))])
    before = quick_plan(problem)
    away = replace(problem, people=(make_person(hours=((700, 1020),)),))
    after = solve(away, start=before, frozen_minutes=120, **TRIES)
    assert broken_rules(away, after) == []
    assert min(row.start for row in after.placed) == 700


def test_a_plan_in_force_that_knows_other_steps_is_taken_for_what_it_says_of_ours():
    problem = shop()
    fewer = replace(
        problem,
        orders=problem.orders[1:],
        steps=tuple(step for step in problem.steps if step.id not in problem.orders[0].steps),
        links=tuple(link for link in problem.links if not {link.before, link.after} & set(problem.orders[0].steps)),
    )
    after = solve(fewer, start=in_force(), frozen_minutes=FROZEN, **TRIES)
    assert broken_rules(fewer, after) == []
    assert near(problem, in_force(), FROZEN) - set(problem.orders[0].steps) <= kept(in_force(), after)


@settings(max_examples=10, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(problems(most_steps=7))
def test_whatever_the_problem_the_frozen_steps_of_a_plan_that_keeps_the_rules_stay(problem):
    before = quick_plan(problem)
    after = solve(problem, start=before, frozen_minutes=600, move_price=1, workers=1, iterations=1)
    assert broken_rules(problem, after) == []
    assert near(problem, before, 600) <= kept(before, after)


def test_the_same_seed_and_iterations_give_the_same_plan():
    first, second = (solve(shop(), seed=3, **TRIES) for _ in range(2))
    assert first.placed == second.placed
    assert first.bound == second.bound


ALOUD = """
from benchmarks.workshops import workshop
from planner import solve
for row in solve(workshop(95, 4), seed=3, workers=1, iterations=4, seconds=60).placed:
    print(row)
"""


def test_the_same_seed_gives_the_same_plan_whatever_order_sets_come_in():
    first, second = printed(ALOUD, hash_seeds=("1", "2"))
    assert first.count("Placed(") >= 60
    assert first == second


def one_router(orders: int) -> Problem:
    steps = [make_step(f"s{at}", 20 + 7 * (at * 5 % 9), at=["bench"]) for at in range(orders)]
    return make_problem(
        *steps,
        stations=[Station("bench")],
        orders=[Order(step.id, (step.id,), 480, 1 + at % 3) for at, step in enumerate(steps)],
        prices=Prices(late_hour=1),
    )


def test_a_search_ends_once_the_plan_is_near_enough_to_the_bound():
    plan = solve(one_router(9), seconds=30, workers=1, gap=90)
    assert plan.seconds < 10
    assert plan.cost <= 1.9 * plan.bound + 0.01  # costs are compared within a cent
