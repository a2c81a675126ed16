"""Compiled ruin and recreate: bits, prices and books are those of plain Python, and every plan keeps every rule."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from benchmarks.workshops import workshop
from planner import (
    Begun,
    Hold,
    Link,
    Order,
    Prices,
    Problem,
    Segment,
    Station,
    broken_rules,
    quick_plan,
    solve,
)
from planner.search.compiled import inside
from planner.search.facts import InForce
from planner.search.fast import standing, words
from planner.search.fast.annealing import anneal, keep
from planner.search.fast.clustering import clear_out, stand_at, take_out_cluster
from planner.search.fast.costing import price_everything
from planner.search.fast.entering import back_to
from planner.search.listing import ListRule
from planner.search.moves import compiled_moves
from tests.planner.makers import make_person, make_problem, make_step, problems
from tests.planner.search.shops import Standing, check, for_python, moved, rows_in, state_of

MINUTES = 3 * 64
SLOW = [HealthCheck.too_slow, HealthCheck.data_too_large]

set_bits, clear_bits = for_python(words.set_bits), for_python(words.clear_bits)
last_taken, next_free = for_python(words.last_taken), for_python(words.next_free)


@st.composite
def rows_of_bits(draw: st.DrawFn) -> list[bool]:
    """Stretches of free and of taken minutes, some whole words of one kind."""
    cuts = [0, *sorted(draw(st.sets(st.integers(0, MINUTES) | st.sampled_from([64, 128]), max_size=8))), MINUTES]
    free = draw(st.booleans())
    row: list[bool] = []
    for first, last in pairwise(cuts):
        row += [free] * (last - first)
        free = not free
    return row


STRETCHES = st.tuples(st.integers(0, MINUTES), st.integers(0, MINUTES)).map(sorted)


def packed(free: list[bool]) -> np.ndarray:
    return np.packbits(np.array(free, dtype=np.uint8), bitorder="little").view(np.uint64)


@given(rows_of_bits(), STRETCHES, st.booleans())
def test_a_stretch_is_freed_or_taken_and_nothing_beside_it(free, stretch, frees):
    row = packed(free)
    (set_bits if frees else clear_bits)(row, *stretch)
    first, last = stretch
    assert row.tolist() == packed([*free[:first], *[frees] * (last - first), *free[last:]]).tolist()


@given(rows_of_bits(), STRETCHES.filter(lambda stretch: stretch[0] < stretch[1]))
def test_the_last_minute_that_is_taken_is_found(free, stretch):
    taken = [minute for minute in range(*stretch) if not free[minute]]
    assert last_taken(packed(free), *stretch) == max(taken, default=-1)


@given(rows_of_bits(), st.integers(0, MINUTES + 70))
def test_the_next_free_minute_is_found_or_the_end_of_the_row(free, minute):
    assert next_free(packed(free), minute) == next((at for at in range(minute, MINUTES) if free[at]), MINUTES)


@settings(max_examples=60, suppress_health_check=SLOW)
@given(problems(), st.sampled_from([0, 6]))
def test_a_plan_costs_what_the_price_list_says(problem, patience):
    standing = Standing(problem, patience=patience)
    if standing.moves_nothing or standing.plan.unplaced:
        return  # what is left out costs the same wherever the others stand, and is not counted
    assert price_everything(standing.shop()) == pytest.approx(standing.plan.cost)


def test_a_begun_step_that_ends_last_is_how_long_the_plan_lasts():
    drying = make_step("dry", 900, "alone", begun=Begun(470, None, ()))
    problem = make_problem(drying, make_step("sand"), prices=Prices(makespan_hour=6))
    assert price_everything(Standing(problem).shop()) == pytest.approx(quick_plan(problem).cost)


@settings(max_examples=20, suppress_health_check=SLOW)
@given(problems())
def test_a_plan_costs_what_its_moves_from_the_plan_in_force_cost_too(problem):
    rows = {row.step: row for row in quick_plan(problem).placed if not problem.step[row.step].begun}
    in_force = InForce(rows, move_price=7)
    standing = Standing(problem, in_force, patience=6)
    if standing.moves_nothing or standing.plan.unplaced:
        return
    assert price_everything(standing.shop()) == pytest.approx(standing.plan.cost + in_force.moved(standing.plan))


@inside
def out_and_back(shop, cluster):
    """Take out a cluster and the one after it, and undo it."""
    shop.all[0].log = 0
    take_out_cluster(shop, cluster)
    take_out_cluster(shop, (cluster + 1) % shop.cluster.size)
    back_to(shop, 0)


out_and_back = for_python(out_and_back)


@settings(max_examples=40, suppress_health_check=SLOW)
@given(problems())
def test_what_is_taken_out_and_put_back_by_undoing_leaves_everything_as_it_was(problem):
    standing = Standing(problem)
    if len(standing.numbers.clusters) < 2:
        return
    shop = standing.shop()
    before = state_of(shop)
    for cluster in range(shop.cluster.size):
        out_and_back(shop, cluster)
        assert state_of(shop) == before


def test_a_hold_from_before_now_that_is_taken_out_and_put_back_leaves_those_after_it_their_place():
    held = make_step("oil", 30, begun=Begun(450, "ana", ()))
    problem = make_problem(
        held,
        make_step("wipe", 20),
        make_step("next", 30, at=["rack"]),
        stations=[Station("rack")],
        links=[Link("oil", "wipe")],
        holds=[Hold("rack", 1, "oil", "wipe")],
        orders=[Order("o", ("wipe",), 500)],
    )
    standing = Standing(problem)
    shop = standing.shop()
    before = state_of(shop)
    next_start = standing.plan["next"].start - standing.rule.facts.now
    assert shop.used[0, next_start] == 1
    for cluster in range(shop.cluster.size):
        out_and_back(shop, cluster)
        assert state_of(shop) == before


@settings(max_examples=40, suppress_health_check=SLOW)
@given(problems())
def test_a_shop_that_is_cleared_out_is_as_empty_as_at_first(problem):
    standing = Standing(problem)
    if standing.moves_nothing:
        return
    shop = standing.shop()
    clear_out(shop)
    assert state_of(shop) == state_of(standing.empty())
    stand_at(shop, standing.numbers.rows_of(standing.plan))
    assert state_of(shop) == state_of(standing.shop())


@settings(max_examples=60, suppress_health_check=SLOW)
@given(problems(most_steps=14), st.sampled_from([1e-6, 5.0, 1e6]))
def test_after_many_tries_the_books_are_those_of_the_plan_that_stands(problem, warmth):
    standing = Standing(problem)
    if standing.moves_nothing:
        return
    shop = standing.shop()
    shop.all[0]["cost"] = price_everything(shop)
    keep(shop)
    anneal(shop, 200, warmth, 30.0)
    again = standing.empty()
    stand_at(again, rows_in(shop))
    assert state_of(shop) == state_of(again)
    assert shop.all[0]["cost"] == pytest.approx(price_everything(again))
    assert shop.all[0]["best"] <= shop.all[0]["cost"] + 1e-6


@settings(max_examples=40, suppress_health_check=SLOW)
@given(problems(most_steps=14))
def test_whatever_the_problem_the_plans_keep_every_rule_and_tell_their_cost(problem):
    check(problem)


@pytest.mark.parametrize("seed", [1, 2])
def test_a_workshop_gets_cheaper_and_keeps_every_rule(seed):
    problem = workshop(90, seed, spare=1.1, tight=9)
    found = check(problem)
    assert broken_rules(problem, found[-1]) == []
    assert found[-1].cost < 0.97 * found[0].cost


def test_the_same_seed_gives_the_same_plan_and_another_goes_its_own_way():
    problem = workshop(60, 3)
    one, same, other = (moved(problem, seed=seed)[-1] for seed in (5, 5, 6))
    assert one.placed == same.placed
    assert one.placed != other.placed


ROUTER = Station("router", start_state="a", changeovers={("a", "b"): 20, ("b", "a"): 30}, changeover_default=5)
HOURS = ((480, 720), (780, 1020), (1920, 2460), (3360, 3900))


def routed(name: str, state: str | None, **more) -> object:
    return make_step(name, 40, at=["router"], state_in=state, **more)


def glued() -> Problem:
    """What is wiped at once, what is held on the rack meanwhile, and only one at a time, beside a step begun before."""
    names = ["p", "q", "r", "s"]
    steps = [step for n in names for step in (make_step(f"{n}-oil", 20), make_step(f"{n}-wipe", 10))]
    begun = make_step("old-oil", 30, begun=Begun(450, "ana", ()))
    links = [Link(f"{n}-oil", f"{n}-wipe", wait, wait) for n, wait in zip(names, (0, 0, 60, 90), strict=True)]
    loose = [make_step(f"loose{at}", 25 * at) for at in range(1, 6)]
    return make_problem(
        *steps,
        *loose,
        begun,
        make_step("old-wipe", 30),
        people=[make_person(hours=HOURS)],
        stations=[Station("rack", 2, ((480, 1100), (1900, 2500)))],
        links=[*links, Link("old-oil", "old-wipe", 30, 45, ((600, 2000),))],
        holds=[
            *(Hold("rack", 1, f"{n}-oil", f"{n}-wipe") for n in names),
            Hold("rack", 1, "old-oil", "old-wipe"),
        ],
        orders=[
            *(Order(n, (f"{n}-wipe",), 560 + 60 * at, 1 + at, at == 3) for at, n in enumerate(names)),
            *(Order(step.id, (step.id,), 900, 2) for step in loose),
        ],
        prices=Prices(300, 5, 20, 0.5, 0.1, 0.2),
    )


def changed_over() -> Problem:
    """Bits changed between turns; some take any bit, leave another or run unwatched, at a part-time router."""
    segments = (Segment(10, "hands"), Segment(25, "watch"), Segment(30, "alone"), Segment(5, "hands"))
    steps = [routed(f"{at}{state}", state) for at in range(3) for state in ("a", "b", None)]
    steps += [
        routed("leaves", "a", state_out="b"),
        routed("sets", None, state_out="a"),
        routed("late", "b", release=1000),
    ]
    steps.append(
        make_step("long", segments=[(each.minutes, each.need) for each in segments], at=["router"], state_in="b")
    )
    return make_problem(
        *steps,
        people=[make_person(hours=HOURS), make_person("ben", hours=((540, 900), (2000, 2400)))],
        stations=[Station("router", 1, ((480, 1000), (1900, 2400), (3300, 4000)), "a", ROUTER.changeovers, 5)],
        orders=[Order(step.id, (step.id,), 700 + 50 * at, 1 + at % 3) for at, step in enumerate(steps)],
        prices=Prices(300, 5, 20, 0.5, 0.1, 0.2),
    )


@pytest.mark.parametrize("make", [glued, changed_over])
def test_exact_waits_holds_begun_steps_and_changeovers_are_kept_and_bettered(make):
    problem = make()
    found = check(problem)
    assert found[-1].cost < found[0].cost


def test_a_calendar_too_long_to_hold_by_the_minute_is_left_to_the_solver(monkeypatch):
    monkeypatch.setattr(standing, "MOST_CELLS", 10)
    problem = workshop(100, 3, tight=6)
    rule, first = ListRule(problem), quick_plan(problem)
    assert compiled_moves(rule, first, seed=1) == []
    better = solve(problem, seconds=4)
    assert broken_rules(problem, better) == []
    assert better.cost < first.cost
