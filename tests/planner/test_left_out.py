"""What may be left out: nothing that, with all it must stand with, still has a start beside the rest of the plan."""

from itertools import pairwise

import pytest

from planner import Begun, Hold, Link, Order, Prices, Station, Unplaced, broken_rules, quick_plan
from tests.planner.makers import make_person, make_plan, make_problem, make_step, put


def judged(problem, *rows, out=()):
    return broken_rules(problem, make_plan(problem, *rows, unplaced=[Unplaced(step, "No time.") for step in out]))


def oil_and_wipe(*more, hours=((480, 1020), (1920, 2460)), most=960, **others):
    links = [Link("oil", "wipe", 720, most), *others.pop("links", ())]
    people = [make_person(hours=hours)]
    return make_problem(make_step("oil", 30), make_step("wipe", 10), *more, links=links, people=people, **others)


def test_two_steps_that_must_follow_in_time_are_not_left_out_together_where_both_have_a_start():
    broken = judged(oil_and_wipe(), out=["oil", "wipe"])
    assert broken == ["oil is left out though it could start at 930, with wipe at 1920"]


def test_they_are_where_no_start_of_the_one_leaves_a_start_to_the_other():
    assert judged(oil_and_wipe(most=800), out=["oil", "wipe"]) == []


def test_they_are_where_the_evening_is_taken():
    problem = oil_and_wipe(make_step("sand", 90))
    assert judged(problem, put(problem, "sand", 930), out=["oil", "wipe"]) == []
    assert len(judged(problem, put(problem, "sand", 600), out=["oil", "wipe"])) == 1


def test_a_chain_of_three_is_looked_for_as_a_whole():
    problem = oil_and_wipe(make_step("buff", 10), links=[Link("wipe", "buff", 0, 60)])
    assert judged(problem, out=["oil", "wipe", "buff"]) == [
        "oil is left out though it could start at 930, with wipe at 1920 and buff at 1930"
    ]


def test_what_waits_for_something_hopeless_is_left_out_with_it():
    problem = oil_and_wipe(make_step("pack", skill="magic"), links=[Link("wipe", "pack", 0, 60)])
    assert judged(problem, out=["oil", "wipe", "pack"]) == []


def test_two_that_follow_in_time_and_need_the_same_hands_are_looked_for_in_either_order():
    """Both must begin within 10 minutes of the cut, and ana, who alone can, is free from 600 on."""
    more = {
        "people": [make_person(hours=((600, 700),))],
        "links": [Link("cut", name, 0, 10) for name in ("oil", "wax")],
    }
    problem = make_problem(make_step("cut", 5, "alone"), make_step("oil", 8), make_step("wax", 8), **more)
    assert judged(problem, out=["cut", "oil", "wax"]) == [
        "cut is left out though it could start at 593, with oil at 600 and wax at 608"
    ]


def tied(*pairs):
    """Steps that must each follow in time on another, the last of which nobody can do."""
    names = sorted({name for pair in pairs for name in pair} - {"end"})
    steps = [*(make_step(name, 1) for name in names), make_step("end", 1, skill="magic")]
    return make_problem(*steps, links=[Link(*pair, 0, 60) for pair in pairs]), [*names, "end"]


def test_a_long_chain_to_a_step_that_nobody_can_do_is_seen_through_at_once():
    names = [f"s{number:04}" for number in range(1100)]
    problem, out = tied(*pairwise([*names, "end"]))
    assert judged(problem, out=out) == []


def test_so_is_one_with_many_ways_to_that_step():
    problem, out = tied(
        *((f"s{place:03}", f"{side}{place:03}") for place in range(100) for side in "ab"),
        *((f"{side}{place:03}", f"s{place + 1:03}") for place in range(100) for side in "ab"),
        ("s100", "end"),
    )
    assert judged(problem, out=out) == []


def test_twenty_stations_out_of_ten_each_are_not_combined_before_they_are_looked_at():
    stations = [Station(f"{need}-{place}") for need in range(20) for place in range(10)]
    needs = [[f"{need}-{place}" for place in range(10)] for need in range(20)]
    steps = [make_step("glue", at=needs), make_step("print", at=needs, skill="magic")]
    broken = judged(make_problem(*steps, stations=stations), out=["glue", "print"])
    assert broken == ["glue is left out though it could start at 480"]


def test_a_hold_whose_end_is_left_out_lasts_to_the_horizon():
    steps = [make_step("oil", 10), make_step("fetch", skill="magic"), make_step("dry", 30, "alone", at=["rack"])]
    rack = {"stations": [Station("rack")], "holds": [Hold("rack", 1, "oil", "fetch")], "links": [Link("oil", "fetch")]}
    problem = make_problem(*steps, **rack)
    oil = put(problem, "oil", 600)
    assert judged(problem, oil, put(problem, "dry", 570, None, "rack"), out=["fetch"]) == []
    assert len(judged(problem, oil, put(problem, "dry", 2400, None, "rack"), out=["fetch"])) == 1
    assert len(judged(problem, oil, put(problem, "dry", 2460, None, "rack"), out=["fetch"])) == 1  # it moves on


def test_what_holds_a_place_is_looked_for_with_the_step_that_gives_it_back():
    steps = [make_step("oil", 10), make_step("fetch", 10), make_step("dry", 30, "alone", at=["rack"])]
    rack = {"stations": [Station("rack")], "holds": [Hold("rack", 1, "oil", "fetch")], "links": [Link("oil", "fetch")]}
    problem = make_problem(*steps, **rack)
    broken = judged(problem, put(problem, "dry", 2440, None, "rack"), out=["oil", "fetch"])
    assert broken == ["oil is left out though it could start at 480, with fetch at 490"]


def test_a_step_that_frees_a_begun_hold_is_not_left_out():
    steps = [make_step("oil", 10, begun=Begun(400, "ana", ())), make_step("wipe", 10, "alone", at=["rack"])]
    rack = {"stations": [Station("rack", 2)], "holds": [Hold("rack", 1, "oil", "wipe")]}
    problem = make_problem(*steps, links=[Link("oil", "wipe", 60)], **rack)
    broken = judged(problem, put(problem, "oil", 400), out=["wipe"])
    assert broken == ["wipe is left out though it could start at 480"]


def test_where_nobody_has_hours_an_order_left_out_lasts_as_long_as_the_plan():
    """The plan exchange: the latest close of anyone's hours, or the plan's last end if that is later."""
    over = make_step("over", 30, begun=Begun(400, "ana", ()))
    orders = [Order("o", ("over", "sand"), 420)]
    prices = Prices(late_hour=6, unplaced=100)
    problem = make_problem(over, make_step("sand"), people=[make_person(hours=())], orders=orders, prices=prices)
    plan = quick_plan(problem)
    assert broken_rules(problem, plan) == []
    assert plan.cost == pytest.approx(100 + 1)
