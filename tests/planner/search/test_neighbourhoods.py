"""Which steps are thought through together: those it is said to be, with all they are tied to."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings

from planner import Begun, Link, Plan, Problem, Station, broken_rules, quick_plan
from planner.search.cpsat.model import think
from planner.search.cpsat.part import Part
from planner.search.drafting import finished_plan
from planner.search.listing import ListRule
from planner.search.neighbourhoods import (
    NEIGHBOURHOODS,
    Neighbours,
    a_persons_day,
    a_shared_bit,
    span_of,
    what_is_left_out,
)
from planner.search.stop import Stop
from tests.planner.makers import make_person, make_problem, make_step, problems, put

DAYS = ((480, 720), (780, 1020), (1920, 2460), (3360, 3900))


def near(problem: Problem) -> Neighbours:
    rule = ListRule(problem)
    return Neighbours(rule.facts, rule.clusters, rule.hopeless)


def chances(count: int = 20) -> list[random.Random]:
    return [random.Random(seed) for seed in range(count)]  # noqa: S311 - repeatable tests


def found(problem: Problem, neighbourhood, plan: Plan | None = None, size: int = 50) -> set[frozenset[str]]:
    """What the neighbourhood gives by one chance or another."""
    plan, neighbours = plan or quick_plan(problem), near(problem)
    return {frozenset(neighbourhood(neighbours, plan, chance, size)) for chance in chances()}


def test_a_persons_day_is_all_that_is_theirs_on_a_day_with_what_is_tied_to_it():
    people = [make_person(hours=DAYS), make_person("ben", skills="paint", hours=DAYS)]
    steps = [make_step(f"a{at}", 30) for at in range(2)] + [make_step("later", 30, release=1920)]
    cure = make_step("cure", 400, "alone")
    problem = make_problem(
        *steps, make_step("b", 30, skill="paint"), cure, people=people, links=[Link("a0", "cure", 0, 10)]
    )
    assert found(problem, a_persons_day) == {frozenset({"a0", "a1", "cure"}), frozenset({"later"}), frozenset({"b"})}


def test_a_shared_bit_is_every_turn_that_needs_it_at_that_station_with_what_is_linked():
    router = Station("router", start_state="x", changeover_default=10)
    steps = [make_step(f"{bit}{at}", 30, at=["router"], state_in=bit) for at in range(2) for bit in "xy"]
    rest = [make_step("sand"), make_step("any", 30, at=["router"]), make_step("free", 30)]
    problem = make_problem(
        *steps, *rest, stations=[router], people=[make_person(hours=DAYS)], links=[Link("x0", "sand")]
    )
    assert found(problem, a_shared_bit) == {frozenset({"x0", "x1", "sand"}), frozenset({"y0", "y1"})}


@pytest.mark.parametrize("neighbourhood", [a_persons_day, a_shared_bit])
def test_where_there_is_nobody_or_no_bit_it_is_some_stretch_of_time(neighbourhood):
    problem = make_problem(make_step("x", 30, "alone"), make_step("y", 30, "alone"))
    assert found(problem, neighbourhood) == {frozenset({"x", "y"})}


def test_what_is_left_out_comes_with_all_that_it_waits_for():
    steps = [make_step(name, 30) for name in ("first", "second", "tied", "beside", "old")]
    steps[-1] = make_step("old", 30, begun=Begun(400, "ana", ()))
    links = [Link("first", "second"), Link("first", "tied", 0, 60), Link("beside", "second"), Link("old", "second")]
    problem = make_problem(*steps, links=links)
    rule = ListRule(problem)
    plan = finished_plan(rule.facts, [put(problem, "beside", 480)], {"first", "second", "tied"})
    together = frozenset({"first", "second", "tied", "beside"})
    assert found(problem, what_is_left_out, plan) == {together}
    part = Part(rule.facts, plan, together, span_of(plan, together, rule.facts.now))
    assert broken_rules(problem, think(part, seconds=5, workers=1, seed=0, stop=Stop(10)).plan) == []


@settings(max_examples=60)
@given(problems())
def test_only_what_has_not_begun_is_thought_through_and_what_is_placed_comes_with_what_is_tied(problem):
    plan, neighbours = quick_plan(problem), near(problem)
    if not neighbours.rows(plan) or not problem.orders:
        return
    for neighbourhood in NEIGHBOURHOODS:
        steps = neighbourhood(neighbours, plan, random.Random(1), 4)  # noqa: S311 - a repeatable test
        assert steps <= neighbours.facts.steps.keys()
        assert not steps & neighbours.hopeless
        assert all(other in steps for step in steps for other in neighbours.together[step] if other in plan)
