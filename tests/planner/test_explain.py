"""Why a step stands where it stands, in a sentence."""

from datetime import UTC, datetime
from itertools import pairwise

import pytest

from planner import Begun, Hold, Link, PlanError, Station, distance_words, quick_plan, why
from planner.explain import causes
from planner.saying import between
from tests.planner.makers import make_person, make_plan, make_problem, make_step, put


def said(problem, step):
    return why(problem, quick_plan(problem), step)


def test_it_is_the_first_thing():
    assert "first thing" in said(make_problem(make_step("cut")), "cut")


def test_it_waits_for_what_comes_before():
    problem = make_problem(make_step("glue", 30), make_step("plane", 30), links=[Link("glue", "plane", 120)])
    assert said(problem, "plane") == "It waits for glue, which rests 2 hours, until Mon 2 Mar 10:30."


def test_steps_are_called_what_people_call_them():
    glue = make_step("glue-p1-7959b077", 30, about={"what": "Glue up 3 trays"})
    problem = make_problem(glue, make_step("sand", 20))
    plan = make_plan(problem, put(problem, glue.id, 480), put(problem, "sand", 510))
    assert why(problem, plan, "sand") == "ana is busy with “Glue up 3 trays” until Mon 2 Mar 08:30."


def test_its_person_does_not_work_earlier():
    problem = make_problem(make_step("cut"), people=[make_person(hours=((500, 600),))])
    assert said(problem, "cut") == "ana does not work in the minutes before Mon 2 Mar 08:20."


def test_its_person_is_busy():
    problem = make_problem(make_step("cut", 30), make_step("sand", 20))
    plan = make_plan(problem, put(problem, "cut", 480), put(problem, "sand", 510))
    assert why(problem, plan, "sand") == "ana is busy with cut until Mon 2 Mar 08:30."


@pytest.mark.parametrize(("first", "second"), [("cut 1", "sand 1"), ("11", "1"), ("to", "hold"), ("a b", "b")])
def test_steps_are_told_apart_whatever_their_ids(first, second):
    problem = make_problem(make_step(first, 30), make_step(second, 20))
    plan = make_plan(problem, put(problem, first, 480), put(problem, second, 510))
    (cause,) = causes(problem, plan, second)
    assert (cause.words, cause.step) == (f"ana is busy with {first} until Mon 2 Mar 08:30.", first)


def test_a_hold_of_steps_with_spaces_in_their_ids_is_named_by_both():
    steps = [make_step("oil it", 10, "alone"), make_step("wipe it", 10, "alone")]
    holds = [Hold("rack", 1, "oil it", "wipe it")]
    dry = make_step("dry it", 60, "alone", at=["rack"])
    problem = make_problem(*steps, dry, stations=[Station("rack")], holds=holds)
    rows = [put(problem, "oil it", 480, None), put(problem, "wipe it", 530, None)]
    plan = make_plan(problem, *rows, put(problem, "dry it", 540, None, "rack"))
    (cause,) = causes(problem, plan, "dry it")
    assert cause.words == "rack is busy with the hold from oil it to wipe it until Mon 2 Mar 09:00."
    assert cause.step == "wipe it"


def test_its_station_is_busy():
    steps = [make_step(name, 30, "alone", at=["router"]) for name in "ab"]
    problem = make_problem(*steps, stations=[Station("router")])
    plan = make_plan(problem, put(problem, "a", 480, None, "router"), put(problem, "b", 510, None, "router"))
    assert why(problem, plan, "b") == "router is busy with a until Mon 2 Mar 08:30."


def test_nobody_is_within_earshot_earlier():
    problem = make_problem(make_step("route", 30, "watch"), people=[make_person(hours=((500, 600),))])
    assert "within earshot before Mon 2 Mar 08:20" in said(problem, "route")


def test_it_stands_late_so_that_what_follows_falls_into_its_window():
    person = make_person(hours=((480, 1020), (1920, 2460)))
    problem = make_problem(
        make_step("oil", 30), make_step("wipe", 10), people=[person], links=[Link("oil", "wipe", 720, 960)]
    )
    assert "wipe" in said(problem, "oil")


def test_it_has_begun():
    assert said(make_problem(make_step("cut", begun=Begun(470, "ana", ()))), "cut") == "It began at Mon 2 Mar 07:50."


def test_it_is_left_out():
    assert said(make_problem(make_step("cut", skill="magic")), "cut") == "Nobody can do magic."


def test_an_unknown_step_is_refused():
    problem = make_problem(make_step("cut"))
    with pytest.raises(PlanError, match="ghost"):
        why(problem, quick_plan(problem), "ghost")


def test_its_station_is_changed_over_before_it():
    router = Station("router", 1, None, "a", {("a", "b"): 7})
    steps = [make_step("one", 30, at=["router"], state_in="a"), make_step("two", 30, at=["router"], state_in="b")]
    problem = make_problem(*steps, stations=[router])
    rows = [put(problem, "one", 480, "ana", "router"), put(problem, "two", 517, "ana", "router", changeover=7)]
    assert why(problem, make_plan(problem, *rows), "two") == (
        "ana is busy with one until Mon 2 Mar 08:30, then comes the changeover to b of 7 minutes."
    )


def test_it_waits_for_the_price_of_a_changeover():
    router = Station("router", 1, None, "a", {}, 10)
    steps = [make_step("one", 30, at=["router"], state_in="b"), make_step("two", 30, at=["router"], state_in="b")]
    problem = make_problem(*steps, stations=[router])
    rows = [put(problem, "one", 600, "ana", "router", changeover=10), put(problem, "two", 700, "ana", "router")]
    assert why(problem, make_plan(problem, *rows), "two") == (
        "It waits until router is set up for b anyway, after one."
    )


def test_it_may_not_start_sooner():
    assert said(make_problem(make_step("cut", release=600)), "cut") == "It may not start before Mon 2 Mar 10:00."


def test_what_it_will_hold_has_no_room_for_it():
    steps = [make_step("oil", 10, "alone"), make_step("wipe", 10, "alone"), make_step("dry", 60, "alone", at=["rack"])]
    rack = {"stations": [Station("rack")], "holds": [Hold("rack", 1, "oil", "wipe")], "links": [Link("oil", "wipe", 5)]}
    problem = make_problem(*steps, **rack)
    rows = [put(problem, "dry", 480, None, "rack"), put(problem, "oil", 540, None), put(problem, "wipe", 555, None)]
    assert why(problem, make_plan(problem, *rows), "oil") == (
        "rack has no room for it beside dry until Mon 2 Mar 09:00."
    )


def test_a_station_with_room_left_is_not_blamed():
    steps = [make_step(name, 30, "alone", at=["rack"]) for name in "ab"]
    problem = make_problem(*steps, stations=[Station("rack", 2)])
    rows = [put(problem, "a", 480, None, "rack"), put(problem, "b", 510, None, "rack")]
    assert why(problem, make_plan(problem, *rows), "b") == "Nothing keeps it from starting earlier."


def test_what_comes_after_the_last_year_is_said_in_minutes():
    chain = ["a", "b", "c", "d", "e", "f"]
    links = [Link(*pair, 10**9) for pair in pairwise(chain)]
    problem = make_problem(*(make_step(name, 30, "alone") for name in chain), links=links)
    assert said(problem, "f").endswith(" until minute 5,000,000,630.")


def test_an_hour_that_runs_over_the_last_day_there_is_ends_at_a_minute():
    assert between(datetime(9999, 12, 31, 23, tzinfo=UTC), 0, 60) == "Fri 31 Dec 23:00 to minute 60"
    assert between(datetime(9999, 12, 31, 22, tzinfo=UTC), 0, 60) == "Fri 31 Dec 22:00 to 23:00"


@pytest.mark.parametrize(
    ("cost", "bound", "words"),
    [
        (112, 100, "at most 12 % from the best possible"),
        (100.5, 100, "at most 1 % from the best possible"),
        (100.005, 100, "proved best"),
        (0, 0, "proved best"),
        (100, None, "how far from the best possible is not known"),
        (100, 0, "perhaps far from the best possible: little is known of it"),
    ],
)
def test_how_far_a_plan_is_from_the_best(cost, bound, words):
    assert distance_words(cost, bound) == words
