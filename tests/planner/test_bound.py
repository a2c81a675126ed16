"""A lower bound that no plan goes below, and that comes near where people and places are short."""

import numpy as np
import pytest
from hypothesis import given, settings

from benchmarks.workshops import workshop
from planner import Begun, Hold, Link, Order, Person, Prices, Problem, Station, quick_plan
from planner.search.bound import bound_with_something_out, lower_bound
from planner.search.bound.alone import Alone
from planner.search.bound.crowding import Work, crowded_end
from planner.search.facts import Facts
from planner.search.listing import ListRule
from planner.search.pressing import PRIORITIES, Pressing
from planner.search.stop import Stop
from tests.planner.makers import make_person, make_problem, make_step, problems

DAY_AND_NIGHT = ((480, 100_000),)


def bound_of(problem: Problem, seconds: float = 1) -> float:
    return lower_bound(Facts(problem), stop=Stop(seconds))


def alone(problem: Problem) -> float:
    return lower_bound(Facts(problem))


def list_plans(problem: Problem):
    """Plans of several priorities, with and without patience."""
    rule = ListRule(problem)
    pressing = Pressing(rule.facts)
    return [rule.plan(priority(pressing), patience) for priority in PRIORITIES[:3] for patience in (0, 6)]


@settings(max_examples=150)
@given(problems())
def test_no_plan_costs_less_than_the_bound(problem: Problem):
    cheapest = min(plan.cost for plan in list_plans(problem))
    assert bound_of(problem) <= cheapest + 0.01


@pytest.mark.parametrize("tight", [3, 9])
def test_no_plan_of_a_workshop_costs_less_than_the_bound(tight):
    problem = workshop(200, seed=4, spare=1.1, tight=tight)
    cheapest = min(plan.cost for plan in list_plans(problem))
    assert alone(problem) < bound_of(problem) <= cheapest


def queue(**more) -> Problem:
    """Ten steps of an hour, each an order of its own that is due at once."""
    steps = [make_step(f"s{number}", 60, **more.pop("step", {"at": []})) for number in range(10)]
    orders = [Order(step.id, (step.id,), 480) for step in steps]
    return make_problem(*steps, orders=orders, prices=Prices(late_hour=1, **more.pop("prices", {})), **more)


def test_one_person_cannot_do_ten_things_at_once():
    problem = queue(people=[make_person(hours=DAY_AND_NIGHT)])
    assert alone(problem) == 10
    assert quick_plan(problem).cost == 55
    assert 44 < bound_of(problem) <= 55


def test_two_people_share_the_work():
    people = [make_person(hours=DAY_AND_NIGHT), make_person("ben", hours=DAY_AND_NIGHT)]
    assert 20 < bound_of(queue(people=people)) <= 30


def test_one_station_cannot_hold_ten_things_at_once():
    saw = Station("saw")
    steps = [make_step(f"s{number}", 60, "alone", at=["saw"]) for number in range(10)]
    orders = [Order(step.id, (step.id,), 480) for step in steps]
    problem = make_problem(*steps, orders=orders, prices=Prices(late_hour=1), stations=[saw])
    assert quick_plan(problem).cost == 55
    assert 40 < bound_of(problem) <= 55


def test_a_rack_fills_up():
    steps = [make_step(f"{kind}{n}", 10, "alone") for n in range(8) for kind in ("oil", "wipe")]
    links = [Link(f"oil{n}", f"wipe{n}", 580) for n in range(8)]
    holds = [Hold("rack", 1, f"oil{n}", f"wipe{n}") for n in range(8)]
    orders = [Order(f"o{n}", (f"wipe{n}",), 480) for n in range(8)]
    more = {"stations": [Station("rack", 2)], "links": links, "holds": holds, "orders": orders}
    people = [make_person(hours=((0, 10_000),))]
    problem = make_problem(*steps, people=people, prices=Prices(late_hour=1), **more)
    assert quick_plan(problem).cost == 2 * (10 + 20 + 30 + 40)
    assert 160 < bound_of(problem) <= 200


def test_the_whole_plan_takes_as_long_as_the_work():
    steps = [make_step(f"s{number}", 60) for number in range(10)]
    problem = make_problem(*steps, people=[make_person(hours=DAY_AND_NIGHT)], prices=Prices(makespan_hour=1))
    assert bound_of(problem) == 10


def test_each_bit_is_set_up_once():
    router = Station("router", 1, None, "a", {("a", "b"): 7, ("b", "c"): 4, ("a", "c"): 9}, 20)
    steps = [make_step(bit, 30, at=["router"], state_in=bit) for bit in "abc"]
    problem = make_problem(*steps, stations=[router], prices=Prices(changeover_minute=1))
    assert alone(problem) == quick_plan(problem).cost == 11


def test_the_first_bit_on_an_empty_spindle_is_free():
    steps = [make_step(bit, 30, at=["router"], state_in=bit) for bit in "ab"]
    router = Station("router", changeover_default=5)
    assert alone(make_problem(*steps, stations=[router], prices=Prices(changeover_minute=1))) == 5


def test_oiling_waits_for_an_evening_whose_wipe_falls_into_somebodys_hours():
    person = make_person(hours=((480, 1020), (1920, 2460)))
    problem = make_problem(
        make_step("oil", 30),
        make_step("wipe", 10),
        people=[person],
        links=[Link("oil", "wipe", 720, 960)],
        orders=[Order("o", ("oil",), 480)],
        prices=Prices(late_hour=1),
    )
    assert Alone(problem_facts := Facts(problem)).ends["oil"] == 960
    assert lower_bound(problem_facts) == quick_plan(problem).cost == 8


def test_an_order_over_before_the_origin_costs_less_than_nothing():
    begun = make_step("old", 30, begun=Begun(-1000, "ana", ()))
    orders = [Order("o", ("old",), -2000)]
    problem = make_problem(begun, make_step("cut", skill="magic"), orders=orders, prices=Prices(finish_hour=6))
    assert bound_of(problem) == quick_plan(problem).cost == pytest.approx(100_000 - 97)


def test_a_plan_that_leaves_something_out_may_cost_less_than_the_step_it_leaves_out():
    begun = make_step("old", 30, begun=Begun(-1000, "ana", ()))
    problem = make_problem(begun, make_step("cut"), orders=[Order("o", ("old",), -2000)], prices=Prices(finish_hour=6))
    assert bound_with_something_out(Facts(problem)) == pytest.approx(100_000 - 97)


def test_a_plan_that_leaves_out_a_step_need_not_keep_its_wait():
    """Last works only on the second morning, when cut must wait for it; without it cut is in time."""
    problem = make_problem(
        make_step("cut", 30),
        make_step("last", 10, at=["kiln"]),
        stations=[Station("kiln", hours=((1500, 1520),))],
        people=[make_person(hours=((480, 600), (1380, 2000)))],
        links=[Link("cut", "last", 0, 60, ((2880, None),))],
        orders=[Order("o", ("cut",), 500)],
        prices=Prices(late_hour=100, unplaced=1),
    )
    assert bound_of(problem) <= quick_plan(problem).cost == pytest.approx(1 + 100 / 6)


def test_what_a_hopeless_step_would_ask_for_is_asked_of_nobody():
    """Pack never comes, for nobody can print: so cut need not wait for the hours of pack's table."""
    problem = make_problem(
        make_step("cut", 30),
        make_step("print", skill="magic"),
        make_step("pack", 10, at=["table"]),
        stations=[Station("table", hours=((1500, 1520),))],
        people=[make_person(hours=((480, 600), (1380, 2000)))],
        links=[Link("cut", "pack", 0, 60, ((2880, None),)), Link("print", "pack")],
        orders=[Order("o", ("cut",), 500)],
        prices=Prices(late_hour=100),
    )
    assert bound_of(problem) == pytest.approx(quick_plan(problem).cost)


@pytest.mark.parametrize(("minutes", "end"), [(3e-8, 0), (20, 20), (40, 2010), (100, 100_000)])
def test_work_ends_no_earlier_than_its_minutes_can_be_found(minutes, end):
    supply, bounds = np.array([[30.0, 0, 0, 60.0, 0.0]]), np.array([0, 30, 1000, 2000, 100_000])
    assert crowded_end([Work(frozenset({0}), minutes, 0, 0)], supply, bounds) == end


def test_leaving_out_what_could_be_done_may_cost_nothing():
    problem = queue(people=[make_person(hours=((480, 560),))], prices={"unplaced": 0.0})
    assert bound_of(problem) <= quick_plan(problem).cost


def test_an_endless_wait_fills_no_memory():
    steps = [make_step("a", 10, "alone"), make_step("b", 10, "alone"), make_step("c", 10, "alone")]
    links = [Link("a", "b", 10**9, 10**12), Link("b", "c", 0, 10**9)]
    problem = make_problem(*steps, links=links, people=[Person("ana", frozenset(), ())], prices=Prices(makespan_hour=1))
    assert 0 < bound_of(problem) <= quick_plan(problem).cost
