"""Sequences at one station: what the fast search says they cost is what the judge says; small ones are solved."""

from __future__ import annotations

import random
from itertools import permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner import Order, Person, Prices, Problem, Station, StationNeed, broken_rules
from planner.search.facts import Facts
from planner.search.sequences import sequence_moves
from planner.search.sequences.descent import BEST, search, trail_of
from planner.search.sequences.one_station import one_station
from planner.search.sequences.turn_numbers import Turns
from planner.search.stop import Stop
from tests.planner.makers import make_problem, make_step

MINUTES = st.integers(1, 60)
PRICE = st.sampled_from([0.0, 1.0, 7.5])
CHANCE = random.Random(1)  # noqa: S311 - not asked by these moves
EVER = ((0, 100_000),)


@st.composite
def one_station_problems(draw: st.DrawFn, most_steps: int = 6) -> Problem:
    """Steps at a router with bits: ready later, ordered alone or together, some already begun."""
    names = [f"s{number}" for number in range(draw(st.integers(2, most_steps)))]
    states = st.sampled_from("abc")
    may_wait, together = draw(st.booleans()), draw(st.booleans())
    by_hand = draw(st.booleans())
    steps = [
        make_step(
            name,
            draw(MINUTES),
            "hands" if by_hand else "alone",
            at=["router"],
            state_in=draw(states),
            state_out=draw(st.none() | states),
            release=draw(st.none() | st.integers(0, 400)) if may_wait else None,
        )
        for name in names
    ]
    parts = st.lists(st.sampled_from(names), min_size=1, max_size=3 if together else 1, unique=True)
    orders = [
        Order(
            f"o{number}", tuple(draw(parts)), draw(st.integers(-50, 500)), draw(st.integers(0, 9)), draw(st.booleans())
        )
        for number in range(draw(st.integers(0, 8)))
    ]
    table = draw(st.dictionaries(st.tuples(states, states), st.integers(0, 40), max_size=5))
    prices = Prices(draw(PRICE), draw(PRICE), 0, draw(PRICE), draw(PRICE), draw(PRICE))
    router = Station("router", 1, None, draw(st.none() | states), table, draw(st.integers(0, 30)))
    person = Person("ana", frozenset({"wood"}), EVER)
    return make_problem(*steps, now=100, people=[person], stations=[router], orders=orders, prices=prices)


def turns_of(problem: Problem) -> Turns:
    form = one_station(Facts(problem))
    assert form is not None
    return Turns(form)


def searched(turns: Turns, tries: int = 20_000, seed: int = 1) -> tuple[float, list[int]]:
    line = turns.line(turns.plan(list(range(len(turns.form.steps)))))
    trail = trail_of(line, seed)
    search(turns.work, line, trail, tries, 50)
    return float(trail.costs[BEST]), np.asarray(trail.best[1:-1]).tolist()


@settings(max_examples=60)
@given(one_station_problems(), st.randoms(use_true_random=False))
def test_any_sequence_keeps_the_rules_and_costs_what_the_judge_says_but_for_what_all_have_in_common(problem, chance):
    turns = turns_of(problem)
    plans = []
    for _ in range(3):
        seq = list(range(len(problem.steps)))
        chance.shuffle(seq)
        plans.append(turns.plan(seq))
        assert broken_rules(problem, plans[-1]) == []
    lines = [turns.line(plan).cost[0] for plan in plans]
    assert [plan.cost - plans[0].cost for plan in plans] == pytest.approx([line - lines[0] for line in lines], abs=1e-6)


@settings(max_examples=60)
@given(one_station_problems())
def test_no_sequence_is_better_than_the_one_that_the_search_finds(problem):
    turns = turns_of(problem)
    _, found = searched(turns)
    best = min(turns.plan(list(seq)).cost for seq in permutations(range(len(problem.steps))))
    assert turns.plan(found).cost == pytest.approx(best, abs=1e-6)


@settings(max_examples=25)
@given(one_station_problems(most_steps=14), st.integers(0, 1000))
def test_the_cost_that_the_search_tells_is_that_of_its_sequence(problem, seed):
    turns = turns_of(problem)
    cost, found = searched(turns, tries=3_000, seed=seed)
    assert cost == pytest.approx(turns.line(turns.plan(found)).cost[0], abs=1e-6)


def test_the_same_seed_and_budget_give_the_same_sequence():
    problem = make_problem(
        *(make_step(f"s{n}", 10 + n * 7 % 50, "alone", at=["m"]) for n in range(25)),
        people=(),
        stations=[Station("m")],
        orders=[Order(f"o{n}", (f"s{n}",), 480 + n * 31 % 400, 1 + n % 4) for n in range(25)],
        prices=Prices(late_hour=1),
    )
    turns = turns_of(problem)
    assert searched(turns, seed=5) == searched(turns, seed=5)


def test_a_move_gives_a_better_plan_than_the_one_it_is_given_or_none():
    problem = make_problem(
        *(make_step(name, minutes, "alone", at=["m"]) for name, minutes in (("a", 60), ("b", 10), ("c", 30))),
        people=(),
        stations=[Station("m")],
        orders=[Order(name, (name,), 0) for name in "abc"],
        prices=Prices(finish_hour=1),
    )
    move = sequence_moves(Facts(problem), 1)[0]
    worst = turns_of(problem).plan([0, 2, 1])
    better = move(worst, CHANCE, Stop(10))
    assert [row.step for row in better.placed] == ["b", "c", "a"]
    assert move(better, CHANCE, Stop(10)) is None


@pytest.mark.parametrize(
    "change",
    [
        {"stations": [Station("m", 2)]},
        {"stations": [Station("m", hours=((480, 530),))]},
        {"steps": (make_step("a", 600, "hands", at=["m"]), make_step("b", 30, "alone", at=["m"]))},
        {"steps": (make_step("a", 30, "alone", at=["m"]), make_step("b", 30, "alone"))},
        {
            "steps": (
                make_step("a", 30, "alone", at=["m"]),
                make_step("b", 30, "alone", stations=(StationNeed(("m", "n")),)),
            )
        },
        {"stations": [Station("m", start_state="x"), Station("n")]},
        {"steps": tuple(make_step(name, 30, "alone", stations=(StationNeed(("m",), 2),)) for name in "ab")},
        {"steps": tuple(make_step(name, need="alone", segments=[(10**9, "alone")] * 3, at=["m"]) for name in "ab")},
        {
            "steps": tuple(make_step(name, 1_500_000_000, "alone", at=["m"], state_in=name) for name in "ab"),
            "stations": [Station("m", changeover_default=10**9), Station("n")],
        },
    ],
)
def test_problems_with_more_to_them_are_left_to_others(change):
    plain = (make_step("a", 30, "alone", at=["m"]), make_step("b", 30, "alone", at=["m"]))
    stations = change.get("stations", [Station("m"), Station("n")])
    problem = make_problem(*change.get("steps", plain), stations=stations)
    assert sequence_moves(Facts(problem), 1) == []
