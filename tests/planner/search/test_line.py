"""The line in which orders are placed: sorted, placed again only where it changed, and bettered."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings

from benchmarks.workshops import workshop
from planner import Link, Order, Prices, broken_rules, quick_plan, solve
from planner.search.facts import InForce
from planner.search.fast.clustering import stand_at
from planner.search.fast.line import TRIED, clear_the_rest, search_line
from planner.search.fast.line_move import LineUp, LineUpThenRuin
from planner.search.fast.ruin_move import RuinAndRecreate
from planner.search.fast.table import LINED
from planner.search.listing import ListRule
from planner.search.stop import Stop
from tests.planner.makers import make_problem, make_step, problems
from tests.planner.search.shops import CHANCE, Standing, check, moved, rows_in, state_of

SLOW = [HealthCheck.too_slow, HealthCheck.data_too_large]


def lined_up(standing: Standing, tries: int, warmth: float = 5.0):
    shop = standing.empty()
    shop.all[0]["best"] = shop.all[0]["cost"] = 1e15
    search_line(shop, tries, warmth)
    return shop


@settings(max_examples=60, suppress_health_check=SLOW)
@given(problems(most_steps=14))
def test_whatever_the_problem_the_plans_keep_every_rule_and_tell_their_cost(problem):
    if problem.orders:
        check(problem, LineUp)


@settings(max_examples=60, suppress_health_check=SLOW)
@given(problems(most_steps=14))
def test_what_is_placed_again_from_where_a_line_changed_stands_as_if_all_of_it_were(problem):
    standing = Standing(problem)
    if standing.moves_nothing or not problem.orders:
        return
    shop = lined_up(standing, 100)
    lined = shop.lists[LINED, : shop.all[0]["lined"]].tolist()
    if len(lined) < shop.cluster.size:
        return  # the last line found no room
    again = standing.empty()
    again.all[0]["best"] = again.all[0]["cost"] = 1e15
    again.wish[:] = shop.wish[TRIED]
    again.taste[:] = shop.taste[TRIED]
    stand_at(again, rows_in(shop))
    assert state_of(again) == state_of(shop)
    assert lined == in_line(standing, shop)


def in_line(standing: Standing, shop) -> list[int]:
    """The clusters by when what they lead to is wanted, those before begun holds' ends first, each after its needs."""
    wish = shop.wish[TRIED].tolist()
    by_place = sorted(range(len(wish)), key=lambda cluster: shop.cluster[cluster]["place"])
    after = {c: [d for d, needs in enumerate(standing.numbers.waits_for) if c in needs] for c in by_place}
    for cluster in reversed(by_place):
        wish[cluster] = min([wish[cluster], *(wish[other] for other in after[cluster])])
    first = [not shop.cluster[cluster]["comes_first"] for cluster in range(len(wish))]
    line = sorted(by_place, key=lambda cluster: (first[cluster], wish[cluster]))
    assert all(line.index(one) < line.index(other) for one in line for other in after[one])
    return line


def test_the_order_that_is_dearer_when_late_comes_before_the_one_that_is_due_sooner():
    """By due dates the light order comes first and the heavy one is late (weighted tardiness, from memory)."""
    steps = [make_step("light", 120), make_step("heavy", 120)]
    orders = [Order("light", ("light",), 590, 1), Order("heavy", ("heavy",), 600, 50)]
    problem = make_problem(*steps, orders=orders, prices=Prices(late_hour=1))
    best = min(moved(problem, LineUp), key=lambda plan: plan.cost)
    assert best["heavy"].start < best["light"].start
    assert best.cost == pytest.approx(130 / 60)


def test_a_full_workshop_gets_far_cheaper_than_by_the_list_rule():
    found = check(workshop(260, 3, spare=1.1, tight=9), LineUp)
    assert min(plan.cost for plan in found) < found[0].cost


def test_the_same_seed_gives_the_same_plan():
    problem = workshop(120, 3, spare=1.1, tight=9)
    one, same = (moved(problem, LineUp, seed=5)[-1] for _ in range(2))
    assert one.placed == same.placed


def test_what_must_stay_and_what_it_waits_for_stand_where_they_were_while_all_else_is_lined_up():
    problem = workshop(120, 3, tight=9)
    plan = quick_plan(problem)
    rows = {row.step: row for row in plan.placed}
    late = max(rows.values(), key=lambda row: row.start).step
    rule = ListRule(problem, InForce(rows, frozenset({late})))
    move, stop = LineUp(rule, 1), Stop(60)
    stop.iterations = 2
    found = move(plan, CHANCE, stop)
    assert not move.is_hindered
    assert found is not None
    assert broken_rules(problem, found) == []
    needed = rule.facts.needed_for([late])
    assert len(needed) > 1
    assert all((found[step].start, found[step].person) == (rows[step].start, rows[step].person) for step in needed)
    assert any(found[step].start != rows[step].start for step in rows)


def test_where_there_is_no_room_to_change_over_before_what_stays_lines_are_left_to_ruin_and_recreate():
    from tests.planner.search.test_fast import ROUTER, routed

    steps = [routed("one", "b"), routed("two", "b"), make_step("hands", 20)]
    problem = make_problem(
        *steps,
        stations=[ROUTER],
        links=[Link("hands", "two", 0, 0)],
        orders=[Order(step.id, (step.id,), 700) for step in steps],
        prices=Prices(late_hour=1),
    )
    plan = quick_plan(problem)
    assert plan["two"].changeover == 0
    rule = ListRule(problem, InForce({row.step: row for row in plan.placed}, frozenset({"two"})))
    stop = Stop(60)
    stop.iterations = 4
    move = LineUpThenRuin(LineUp(rule, 1), RuinAndRecreate(rule, 1))
    for _ in range(2):
        move(plan, CHANCE, stop)
    assert move.line is None


def test_a_plan_in_force_is_bettered_beside_what_is_frozen():
    problem = workshop(260, 3, spare=1.1, tight=9)
    before = quick_plan(problem)
    frozen = 24 * 60
    after = solve(problem, seconds=60, start=before, frozen_minutes=frozen, iterations=6, workers=1)
    near = [row for row in before.placed if row.start - row.changeover < problem.now + frozen]
    assert broken_rules(problem, after) == []
    assert all(after[row.step].start == row.start for row in near)
    assert after.cost < before.cost


def test_nothing_is_left_standing_but_what_stays():
    standing = Standing(workshop(60, 1))
    shop = standing.shop()
    assert clear_the_rest(shop)
    assert state_of(shop) == state_of(standing.empty())
