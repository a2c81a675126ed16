"""Steps that could change places with each other, and how they are put in turn."""

from planner import Hold, Link, Order, Station, quick_plan
from planner.search.cpsat.alike import groups_alike, in_blocks
from planner.search.cpsat.part import Part, whole
from planner.search.facts import Facts
from tests.planner.makers import make_plan, make_problem, make_step, put


def part_of(*steps, starts=(), **more) -> Part:
    problem = make_problem(*steps, **more)
    plan = make_plan(problem, *(put(problem, step, start) for step, start in starts)) if starts else quick_plan(problem)
    return whole(Facts(problem), plan)


def test_steps_that_wait_for_the_same_and_take_as_long_are_alike():
    packs = [make_step(f"pack-{number}") for number in range(3)]
    links = [Link("wipe", pack.id, 60) for pack in packs]
    part = part_of(make_step("wipe", 20), *packs, make_step("sign", 10), links=links)
    assert groups_alike(part) == [[["pack-0", "pack-1", "pack-2"]]]


def test_what_something_else_waits_for_or_holds_is_like_nothing():
    steps = [make_step(name) for name in ("plain", "led-on", "held", "next")]
    links, holds = [Link("led-on", "next")], [Hold("rack", 1, "held", "held")]
    part = part_of(*steps, links=links, holds=holds, stations=[Station("rack")])
    assert groups_alike(part) == []


def test_each_order_comes_as_a_block_the_one_ready_last_at_last():
    packs = [make_step(name) for name in ("a-1", "a-2", "b-1", "b-2")]
    orders = [Order("a", ("a-1", "a-2"), 900), Order("b", ("b-1", "b-2"), 900)]
    stand = [("b-1", 480), ("a-1", 510), ("b-2", 540), ("a-2", 570)]
    part = part_of(*packs, starts=stand, orders=orders)
    groups = groups_alike(part)
    assert groups == [[["b-1", "b-2"], ["a-1", "a-2"]]]
    assert [(step, row.start) for step, row in in_blocks(part, groups)] == [
        ("b-1", 480),
        ("b-2", 510),
        ("a-1", 540),
        ("a-2", 570),
    ]
