"""Job shops: what the tabu search finds keeps the rules, is what it says, and is the best there is in small ones."""

from __future__ import annotations

import random
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner import Begun, Link, Order, Plan, Prices, Problem, Station, broken_rules
from planner.search.facts import Facts
from planner.search.sequences import sequence_bound, sequence_moves
from planner.search.sequences.job_shop import job_shop
from planner.search.sequences.shop import BEST, HERE, Schedule, schedule_of, settle, time_all
from planner.search.sequences.shop_numbers import ShopNumbers
from planner.search.sequences.shop_search import BetterShop
from planner.search.sequences.tabu import search
from planner.search.stop import Stop
from tests.planner.makers import make_problem, make_step

NOW = 100
CHANCE = random.Random(1)  # noqa: S311 - not asked by these moves


@st.composite
def job_shops(draw: st.DrawFn, most_steps: int = 6) -> Problem:
    """Steps on two or three machines or on none, with waits between some, ready later, one of them begun."""
    stations = [Station(name) for name in "xyz"[: draw(st.integers(1, 3))]]
    places = st.sampled_from([*(station.id for station in stations), None])
    names = [f"s{number}" for number in range(draw(st.integers(3, most_steps)))]
    steps = [make_step("first", 40, "alone", at=["x"], begun=Begun(NOW - draw(st.integers(0, 60)), None, ("x",)))]
    for name in names:
        place = draw(places)
        release = draw(st.none() | st.integers(0, 200))
        steps.append(make_step(name, draw(st.integers(1, 60)), "alone", at=[place] if place else [], release=release))
    pairs = [(one, other) for at, one in enumerate(["first", *names]) for other in ["first", *names][at + 1 :]]
    linked = draw(st.lists(st.sampled_from(pairs), max_size=6, unique=True))
    links = [Link(*pair, draw(st.sampled_from([0, 0, 25]))) for pair in linked]
    return make_problem(*steps, now=NOW, people=(), stations=stations, links=links, prices=Prices(makespan_hour=60))


def numbers_of(problem: Problem) -> ShopNumbers | None:
    """None where no machine has two steps."""
    form = job_shop(Facts(problem))
    return None if form is None else ShopNumbers(form)


def begun_by_chance(numbers: ShopNumbers, seed: int = 1) -> Schedule:
    schedule = schedule_of(numbers.shop, numbers.machines, numbers.places, seed)
    chance = random.Random(seed)  # noqa: S311 - a repeatable start
    settle(numbers.shop, schedule, numbers.machine, numbers.by_chance(chance))
    return schedule


def searched(numbers: ShopNumbers, moves: int = 300, seed: int = 1) -> tuple[Schedule, Plan]:
    schedule = begun_by_chance(numbers, seed)
    search(numbers.shop, schedule, moves, moves, 0)
    return schedule, numbers.plan(schedule.best)


def cheapest(problem: Problem, numbers: ShopNumbers) -> float:
    """By trying every order of the steps, each at its first start."""
    schedule = begun_by_chance(numbers)
    found = float("inf")
    for places in permutations(range(len(numbers.machine))):
        if all(places[one] < places[other] for other, one in _links(numbers)):
            settle(numbers.shop, schedule, numbers.machine, np.array(places, np.int64))
            found = min(found, numbers.plan(schedule.head).cost)
    return found


def _links(numbers: ShopNumbers) -> list[tuple[int, int]]:
    shop = numbers.shop
    return [
        (step, int(other))
        for step in range(len(shop.minutes))
        for other in shop.before[shop.before_at[step] : shop.before_at[step + 1]]
    ]


@settings(max_examples=60, deadline=None)
@given(job_shops(most_steps=12), st.integers(0, 99))
def test_what_is_found_keeps_the_rules_and_costs_what_it_says(problem, seed):
    numbers = numbers_of(problem)
    if numbers is None:
        return
    schedule, plan = searched(numbers, seed=seed)
    assert broken_rules(problem, plan) == []
    begun = max(step.begun.start + step.minutes for step in problem.steps if step.begun)
    assert plan.cost == pytest.approx(max(schedule.spans[BEST], begun - NOW))


@settings(max_examples=40, deadline=None)
@given(job_shops())
def test_no_order_is_better_than_the_one_that_is_found_and_none_goes_below_the_bound(problem):
    numbers = numbers_of(problem)
    if numbers is None:
        return
    best = cheapest(problem, numbers)
    assert min(searched(numbers, seed=seed)[1].cost for seed in range(1, 5)) == pytest.approx(best)
    assert sequence_bound(Facts(problem)) <= best + 1e-9


@settings(max_examples=40, deadline=None)
@given(job_shops(most_steps=14), st.integers(1, 60))
def test_what_is_timed_anew_after_a_move_is_what_all_timed_anew_would_be(problem, moves):
    numbers = numbers_of(problem)
    if numbers is None:
        return
    schedule, _ = searched(numbers, moves)
    span, heads, tails = schedule.spans[HERE], schedule.head.copy(), schedule.tail.copy()
    assert time_all(numbers.shop, schedule) == span
    assert (schedule.head == heads).all()
    assert (schedule.tail == tails).all()


def two_machines() -> Problem:
    jobs = [(32, 42), (47, 15), (22, 50), (58, 40), (31, 28)]
    steps = [
        make_step(f"{n}{place}", minutes, "alone", at=[place])
        for n, job in enumerate(jobs)
        for place, minutes in zip("xy", job, strict=True)
    ]
    return make_problem(
        *steps,
        people=(),
        stations=[Station("x"), Station("y")],
        links=[Link(f"{n}x", f"{n}y") for n in range(len(jobs))],
        prices=Prices(makespan_hour=60),
    )


def test_a_move_gives_a_better_plan_than_the_one_it_is_given_or_none():
    problem = two_machines()
    numbers = ShopNumbers(job_shop(Facts(problem)))
    worst = max((numbers.plan(begun_by_chance(numbers, seed).head) for seed in range(9)), key=lambda plan: plan.cost)
    move = sequence_moves(Facts(problem), 1)[0]
    better = move(worst, CHANCE, Stop(10))
    assert better.cost == pytest.approx(205)  # Johnson's rule
    assert move(better, CHANCE, Stop(10)) is None


def test_the_same_seed_gives_the_same_plan():
    problem = two_machines()
    first = ShopNumbers(job_shop(Facts(problem)))
    assert searched(first, seed=3)[1] == searched(first, seed=3)[1]


def test_a_search_ends_once_a_machine_alone_could_do_no_better():
    steps = [make_step(name, minutes, "alone", at=["x"]) for name, minutes in (("a", 30), ("b", 20), ("c", 10))]
    problem = make_problem(
        *steps,
        make_step("after", 50, "alone"),
        people=(),
        stations=[Station("x")],
        links=[Link("a", "after")],
        prices=Prices(makespan_hour=60),
    )
    move = BetterShop(job_shop(Facts(problem)), 1)
    worst = move.numbers.plan(np.array([30, 10, 0, 60], np.int64))
    assert move(worst, CHANCE, Stop(60)).cost == pytest.approx(80)
    assert move.elite.rows == []  # no search was begun anew


def test_a_machine_is_free_when_the_last_of_what_has_begun_there_ends():
    begun = [
        make_step(f"b{minutes}", minutes, "alone", at=["m"], begun=Begun(470, None, ("m",))) for minutes in (600, 50)
    ]
    steps = [make_step(name, 30, "alone", at=["m"]) for name in "xy"]
    problem = make_problem(*begun, *steps, stations=[Station("m")], people=(), prices=Prices(makespan_hour=60))
    assert job_shop(Facts(problem)).ready == {"x": 1070, "y": 1070}


@pytest.mark.parametrize(
    "change",
    [
        {"links": [Link("a", "b", 0, 30)]},
        {"links": [Link("a", "b", 0, 30, ((60, None),))]},
        {"orders": [Order("o", ("a",), 500)]},
        {"steps": [make_step("a", 30, at=["m"]), make_step("b", 30, "alone", at=["m"])]},
        {"stations": [Station("m", 2)]},
        {"stations": [Station("m", hours=((480, 500),))]},
        {"prices": Prices()},
    ],
)
def test_shops_where_more_counts_are_left_to_others(change):
    steps = [make_step("a", 30, "alone", at=["m"]), make_step("b", 30, "alone", at=["m"])]
    usual = {
        "links": [Link("a", "b")],
        "stations": [Station("m")],
        "prices": Prices(late_hour=1, makespan_hour=60),
    }
    changed = make_problem(*change.get("steps", steps), **(usual | {k: v for k, v in change.items() if k != "steps"}))
    assert job_shop(Facts(make_problem(*steps, **usual)))
    assert job_shop(Facts(changed)) is None
