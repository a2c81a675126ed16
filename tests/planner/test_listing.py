"""The list rule where it has to look ahead: windows over the night, holds, chains, changeovers, begun work."""

from time import perf_counter

import pytest

from benchmarks.workshops import workshop
from planner import Begun, Hold, Link, Order, Prices, Station, broken_rules, quick_plan
from tests.planner.makers import DAY, make_person, make_problem, make_step

WEEK = [(day * DAY + 480, day * DAY + 1020) for day in range(7)]


def wait(plan, before, after):
    return plan[after].start - plan[before].end


def test_oiling_moves_to_the_hours_from_which_the_wipe_can_follow_in_time():
    problem = make_problem(
        make_step("oil", 30),
        make_step("wipe", 10),
        people=[make_person(hours=WEEK)],
        links=[Link("oil", "wipe", 720, 960)],
    )
    plan = quick_plan(problem)
    assert 720 <= wait(plan, "oil", "wipe") <= 960
    assert plan["oil"].end >= 960  # not first thing in the morning
    assert plan["wipe"].start == DAY + 480


def test_an_evening_hour_is_used_for_a_window():
    person = make_person(hours=[(480, 1020), (1200, 1260), (1920, 2460)])
    links = [Link("seal", "paint", 30, 240), Link("paint", "peel", 30, 240)]
    steps = [make_step("seal", 10, release=1000), make_step("paint", 30), make_step("peel", 10)]
    plan = quick_plan(make_problem(*steps, people=[person], links=links))
    assert [plan[name].start for name in ("seal", "paint", "peel")] == [1000, 1200, 1920] or (
        plan["seal"].start >= 1920
    )
    assert all(30 <= wait(plan, *pair) <= 240 for pair in (("seal", "paint"), ("paint", "peel")))


def test_a_second_coat_may_take_the_later_window():
    steps = [make_step("first", 30), make_step("second", 30, release=700)]
    problem = make_problem(
        *steps, people=[make_person(hours=WEEK)], links=[Link("first", "second", 0, 60, ((2880, None),))]
    )
    problem_with_work_between = make_problem(
        *steps, make_step("long", 100), people=[make_person(hours=WEEK)], links=problem.links
    )
    for each in (problem, problem_with_work_between):
        plan = quick_plan(each)
        assert wait(plan, "first", "second") <= 60 or wait(plan, "first", "second") >= 2880


def test_clamps_stay_taken_until_somebody_takes_them_off():
    steps = [make_step(f"{what}{n}", 10) for n in range(3) for what in ("glue", "off")]
    links = [Link(f"glue{n}", f"off{n}", 60) for n in range(3)]
    holds = [Hold("clamps", 2, f"glue{n}", f"off{n}") for n in range(3)]
    problem = make_problem(*steps, stations=[Station("clamps", 4)], links=links, holds=holds)
    plan = quick_plan(problem)
    assert broken_rules(problem, plan) == []
    assert sorted(plan[f"glue{n}"].start for n in range(3))[2] >= min(plan[f"off{n}"].end for n in range(3))


def test_loads_on_one_bit_follow_on_each_other():
    steps = [make_step(f"load{n}", 20, at=["router"], state_in="ab"[n % 2]) for n in range(6)]
    station = Station("router", 1, None, "a", {}, 15)
    plan = quick_plan(make_problem(*steps, stations=[station], prices=Prices(changeover_minute=1)))
    assert sum(row.changeover for row in plan.placed) == 15


def test_a_begun_oiling_is_wiped_first_and_its_lost_window_is_listed():
    begun = make_step("oil", 20, begun=Begun(-600, "ana", ()))
    steps = [begun, make_step("wipe", 10), *(make_step(f"cut{n}", 60) for n in range(3))]
    problem = make_problem(*steps, links=[Link("oil", "wipe", 720, 960)], prices=Prices(missed_window_hour=10))
    plan = quick_plan(problem)
    assert plan["wipe"].start == 480
    assert [missed.minutes for missed in plan.missed] == [100]


def test_what_nobody_can_do_is_left_out_with_all_that_needs_it():
    steps = [make_step("cut"), make_step("gild", skill="gold"), make_step("pack")]
    problem = make_problem(*steps, links=[Link("cut", "gild", 0, 60), Link("gild", "pack")])
    plan = quick_plan(problem)
    assert {left.step: left.why for left in plan.unplaced} == dict.fromkeys(
        ("cut", "gild", "pack"), "Nobody can do gold."
    )


@pytest.mark.parametrize(
    ("step", "why"),
    [
        (make_step("oil", skill="finish"), "Nobody can oil and wipe."),
        (make_step("s1", 600, about={"what": "Sand 3 trays"}), "“Sand 3 trays” needs 10 hours in one go, longer than"),
        (make_step("s1", at=["shut"]), "shut is not open at any time from now on, and s1 needs it."),
        (make_step("s1", at=["shut"], about={"impossible": "It is too large."}), "It is too large."),
    ],
)
def test_what_is_left_out_says_what_is_missing_in_plain_words(step, why):
    plan = quick_plan(make_problem(step, stations=[Station("shut", hours=())]))
    assert [left.why.startswith(why) for left in plan.unplaced] == [True]


def test_a_window_that_no_hours_fit_names_both_its_steps():
    steps = [make_step("oil", about={"what": "Oil 2 trays"}), make_step("wipe", about={"what": "Wipe 2 trays"})]
    plan = quick_plan(make_problem(*steps, links=[Link("oil", "wipe", 720, 725)]))
    why = "“Wipe 2 trays” must follow “Oil 2 trays” within 12 hours 5 minutes, and no time is left that fits both."
    assert [left.why for left in plan.unplaced] == [why, why]


def why_left_out(*steps, **more):
    return {left.step: left.why for left in quick_plan(make_problem(*steps, **more)).unplaced}


def test_a_release_after_all_hours_is_named():
    may_not = "may not start before Thu 5 Mar 11:20, when no hours of"
    laser = Station("laser", hours=((480, 1020),))
    left_out = why_left_out(
        make_step("cut", release=5000),
        make_step("route", need="watch", release=5000),
        make_step("burn", need="alone", at=["laser"], release=5000),
        stations=[laser],
    )
    assert left_out == {
        "cut": f"cut {may_not} anybody who can saw, glue and plane are known any more; enter more hours.",
        "route": f"route {may_not} anybody within earshot are known any more; enter more hours.",
        "burn": f"burn {may_not} laser are known any more; enter more hours.",
    }


def test_a_release_that_leaves_too_little_of_the_last_hours_is_named():
    assert why_left_out(make_step("cut", 60, release=2410)) == {
        "cut": "cut needs 1 hour in one go, longer than anybody who can saw, glue and plane works "
        "from Tue 3 Mar 16:10 on."
    }


def test_hours_that_are_over_are_said_to_be():
    assert why_left_out(make_step("cut"), now=3000) == {
        "cut": "cut needs hours of anybody who can saw, glue and plane, and none are known from now on; "
        "enter more hours."
    }


def test_a_hold_that_no_rack_is_large_enough_for_is_named():
    steps = [make_step("oil"), make_step("wipe")]
    more = {
        "links": [Link("oil", "wipe", 0, 60)],
        "holds": [Hold("rack", 3, "oil", "wipe")],
        "stations": [Station("rack", 2)],
    }
    assert set(why_left_out(*steps, **more).values()) == {"oil needs room for 3 at rack, more than there is."}


def test_people_and_places_that_are_never_there_at_once_are_named():
    laser = Station("laser", hours=((1020, 1900),))
    assert why_left_out(make_step("cut", at=["laser"]), stations=[laser]) == {
        "cut": "cut takes 30 minutes, and no hours of anybody who can saw, glue and plane and laser fit that; "
        "enter more hours."
    }


@pytest.mark.parametrize(
    ("link", "window"),
    [
        (Link("glue", "burn", 3000), "50 hours or more "),
        (Link("glue", "burn", 0, 60, also=((3000, None),)), "within 1 hour or 50 hours or more "),
        (Link("glue", "burn", 300, 450, also=((3000, None),)), "5 hours to 7 hours 30 minutes or 50 hours or more "),
        (Link("glue", "burn"), ""),
    ],
)
def test_a_wait_that_meets_no_hours_is_named(link, window):
    laser = Station("laser", hours=((480, 500), (1500, 1520)) if window else ((480, 500),))
    steps = [make_step("glue", 30), make_step("burn", 20, "alone", at=["laser"])]
    assert why_left_out(*steps, links=[link], stations=[laser]) == {
        "burn": f"burn must start {window}after glue, and no known hours fit that; enter more hours."
    }


def test_a_wait_that_would_meet_hours_but_for_others_is_not_blamed():
    laser = Station("laser", hours=((480, 530),))
    steps = [make_step("glue", 10), make_step("burn", 20, "alone", at=["laser"]), make_step("big", 50, at=["laser"])]
    orders = [Order("first", ("big",), 500, 9), Order("last", ("burn",), 9000, 0)]
    left_out = why_left_out(*steps, links=[Link("glue", "burn")], stations=[laser], orders=orders)
    assert set(left_out.values()) <= {
        f"All known hours and places are taken before {step} could start; enter more hours." for step in ("burn", "big")
    }
    assert left_out


def test_the_more_urgent_order_comes_first():
    steps = [make_step(name, 60) for name in ("slow", "fast")]
    orders = [Order("o1", ("slow",), 900), Order("o2", ("fast",), 540)]
    plan = quick_plan(make_problem(*steps, orders=orders, prices=Prices(late_hour=1)))
    assert plan["fast"].start == 480


def test_five_hundred_steps_are_planned_within_two_seconds():
    problem = workshop(500, seed=5)
    began = perf_counter()
    plan = quick_plan(problem)
    assert perf_counter() - began < 2
    assert broken_rules(problem, plan) == []
    assert not plan.unplaced
