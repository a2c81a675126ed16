"""Each rule of the plan exchange with a plan that breaks it, and a neighbour that does not."""

from dataclasses import replace

import pytest

from planner import (
    Begun,
    Hold,
    Link,
    Missed,
    Order,
    Person,
    Placed,
    Prices,
    Station,
    Status,
    Unplaced,
    broken_rules,
    cost,
)
from tests.planner.makers import make_person, make_plan, make_problem, make_step, put

SAW = Station("saw")


def judged(problem, *rows, **more):
    """What is wrong with a plan of (step, start, *more) rows."""
    return broken_rules(problem, make_plan(problem, *rows, **more))


def only(broken, *words):
    """One rule broken, with these words in its sentence."""
    assert len(broken) == 1, broken
    assert all(word in broken[0] for word in words), broken
    return True


def test_a_good_plan_breaks_nothing():
    problem = make_problem(make_step("cut", at=["saw"]), stations=[SAW])
    assert judged(problem, put(problem, "cut", 480, "ana", "saw")) == []


def test_each_step_stands_once():
    problem = make_problem(make_step("cut"))
    assert only(judged(problem), "cut", "neither placed nor")
    assert only(judged(problem, put(problem, "cut", 480), put(problem, "cut", 600)), "cut", "2 times")
    assert only(judged(problem, put(problem, "cut", 480), Placed("ghost", 500, 530)), "ghost")


def test_a_step_lasts_as_long_as_its_segments():
    problem = make_problem(make_step("cut", 30))
    assert only(judged(problem, Placed("cut", 480, 500, "ana")), "takes 30 minutes, not 20")


def test_the_person_has_the_skill():
    problem = make_problem(make_step("cut"), people=[make_person(), make_person("ben", skills="paint")])
    assert only(judged(problem, put(problem, "cut", 480, "ben")), "ben cannot wood")
    assert only(judged(problem, put(problem, "cut", 480, None)), "somebody who can wood")


def test_a_step_without_a_skill_has_nobody():
    problem = make_problem(make_step("dry", need="alone"))
    assert judged(problem, put(problem, "dry", 480, None)) == []
    assert only(judged(problem, put(problem, "dry", 480, "ana")), "nobody's skill")


def test_stations_are_among_the_choices():
    problem = make_problem(make_step("cut", at=["saw"]), stations=[SAW, Station("bench")])
    assert only(judged(problem, put(problem, "cut", 480, "ana", "bench")), "cannot be done at bench")
    assert only(judged(problem, put(problem, "cut", 480, "ana")), "takes 1 stations, not 0")


def test_hands_lie_within_one_opening():
    problem = make_problem(make_step("cut", 60))
    assert judged(problem, put(problem, "cut", 960)) == []
    assert only(judged(problem, put(problem, "cut", 961)), "outside their hours")


def test_hours_that_touch_are_one():
    problem = make_problem(make_step("cut", 60), people=[make_person(hours=((480, 600), (600, 700)))])
    assert judged(problem, put(problem, "cut", 570)) == []


def test_one_person_has_one_pair_of_hands():
    problem = make_problem(make_step("cut", 30), make_step("sand", 30))
    assert judged(problem, put(problem, "cut", 480), put(problem, "sand", 510)) == []
    assert only(judged(problem, put(problem, "cut", 480), put(problem, "sand", 509)), "ana has cut until 510")


def test_hands_are_free_while_a_step_runs_alone():
    glue = make_step("glue", segments=((10, "hands"), (60, "alone"), (5, "hands")))
    problem = make_problem(glue, make_step("sand", 60))
    assert judged(problem, put(problem, "glue", 480), put(problem, "sand", 490)) == []
    assert only(judged(problem, put(problem, "glue", 480), put(problem, "sand", 495)), "ana has")


def test_a_watch_segment_needs_somebody_within_earshot_but_not_always_the_same():
    people = [make_person(hours=((480, 600),)), make_person("ben", skills="", hours=((600, 700),))]
    problem = make_problem(make_step("route", 100, "watch"), people=people)
    assert judged(problem, put(problem, "route", 590, None)) == []
    assert only(judged(problem, put(problem, "route", 601, None)), "within earshot")


def test_a_station_is_open_for_the_whole_step():
    problem = make_problem(make_step("dry", 30, "alone", at=["saw"]), stations=[Station("saw", hours=((500, 600),))])
    assert judged(problem, put(problem, "dry", 570, None, "saw")) == []
    assert only(judged(problem, put(problem, "dry", 571, None, "saw")), "outside its hours")


def test_a_station_holds_no_more_than_its_capacity():
    steps = [make_step(name, 30, "alone", at=["rack"]) for name in ("a", "b", "c")]
    problem = make_problem(*steps, stations=[Station("rack", 2)])
    rows = [put(problem, name, 480, None, "rack") for name in "ab"]
    assert judged(problem, *rows, put(problem, "c", 510, None, "rack")) == []
    assert only(judged(problem, *rows, put(problem, "c", 509, None, "rack")), "rack holds 2 but has 3 at minute 509")


def test_a_hold_takes_room_from_its_first_start_to_its_last_end():
    oil, wipe = make_step("oil", 10, "alone"), make_step("wipe", 10, "alone")
    other = make_step("other", 10, "alone", at=["rack"])
    more = {"stations": [Station("rack")], "links": [Link("oil", "wipe")], "holds": [Hold("rack", 1, "oil", "wipe")]}
    problem = make_problem(oil, wipe, other, **more)
    rows = [put(problem, "oil", 480, None), put(problem, "wipe", 600, None)]
    assert judged(problem, *rows, put(problem, "other", 610, None, "rack")) == []
    assert only(judged(problem, *rows, put(problem, "other", 609, None, "rack")), "the hold from oil to wipe")


def router(**more):
    return Station("router", 1, None, "bowl", {("bowl", "vee"): 7}, 9, **more)


def test_a_changeover_of_the_tables_minutes_comes_before_another_state():
    problem = make_problem(make_step("carve", at=["router"], state_in="vee"), stations=[router()])
    assert judged(problem, put(problem, "carve", 487, "ana", "router", changeover=7)) == []
    assert only(judged(problem, put(problem, "carve", 487, "ana", "router")), "changeover of 7 minutes, not 0")
    assert only(judged(problem, put(problem, "carve", 489, "ana", "router", changeover=9)), "7 minutes, not 9")


def test_a_step_without_states_leaves_the_state_as_it_was():
    steps = [make_step("sand", at=["router"]), make_step("carve", at=["router"], state_in="bowl")]
    problem = make_problem(*steps, stations=[router()])
    rows = [put(problem, "sand", 480, "ana", "router"), put(problem, "carve", 510, "ana", "router")]
    assert judged(problem, *rows) == []


def test_a_begun_step_still_running_overrides_the_state_and_one_that_is_over_does_not():
    for start, minutes in ((470, 9), (440, 0)):
        begun = make_step("old", at=["router"], state_out="vee", begun=Begun(start, "ana", ("router",)))
        problem = make_problem(begun, make_step("carve", at=["router"], state_in="bowl"), stations=[router()])
        rows = [put(problem, "old", start, "ana", "router")]
        assert judged(problem, *rows, put(problem, "carve", 520, "ana", "router", changeover=minutes)) == []
        assert only(judged(problem, *rows, put(problem, "carve", 520, "ana", "router", changeover=5)), "not 5")


def test_a_changeover_takes_its_person_and_lies_in_their_hours_after_now():
    carve = make_step("carve", at=["router"], state_in="vee")
    problem = make_problem(carve, make_step("sand", 10), stations=[router()])
    early = put(problem, "carve", 480, "ana", "router", changeover=7)
    broken = judged(problem, early, put(problem, "sand", 700))
    assert any("outside their hours" in each for each in broken)
    assert any("before now" in each for each in broken)
    late = put(problem, "carve", 500, "ana", "router", changeover=7)
    assert only(judged(problem, late, put(problem, "sand", 484)), "the changeover of carve")


def test_nothing_starts_before_its_release():
    problem = make_problem(make_step("cut", release=500))
    assert only(judged(problem, put(problem, "cut", 499)), "before its release at 500")


@pytest.mark.parametrize(
    ("start", "fine"), [(539, False), (540, True), (570, True), (571, False), (629, False), (630, True)]
)
def test_a_wait_lies_in_one_of_its_windows(start, fine):
    link = Link("oil", "wipe", 30, 60, ((120, None),))
    problem = make_problem(make_step("oil", 30, "alone"), make_step("wipe", 10), links=[link])
    broken = judged(problem, put(problem, "oil", 480, None), put(problem, "wipe", start))
    assert broken == [] if fine else only(broken, "allowed is 30 to 60 or 120 or more")


def lost_window():
    begun = make_step("oil", 30, "alone", begun=Begun(400, None, ()))
    prices = Prices(missed_window_hour=60)
    return make_problem(begun, make_step("wipe", 10), links=[Link("oil", "wipe", 60, 100)], prices=prices)


def test_the_window_of_a_begun_step_may_be_lost_if_it_is_listed_and_priced():
    problem = lost_window()
    rows = [put(problem, "oil", 400, None), put(problem, "wipe", 550)]
    plan = make_plan(problem, *rows, missed=[Missed("oil", "wipe", 20)])
    assert broken_rules(problem, plan) == []
    assert plan.cost == 20
    assert only(judged(problem, *rows), "exceeded by 20 minutes")
    assert len(judged(problem, *rows, missed=[Missed("oil", "wipe", 10)])) == 2


def test_the_least_wait_after_a_begun_step_is_not_soft():
    problem = lost_window()
    assert only(judged(problem, put(problem, "oil", 400, None), put(problem, "wipe", 485)), "55 minutes after oil")


def test_a_link_to_a_begun_step_is_history():
    steps = [make_step("a", 30, begun=Begun(470, "ana", ())), make_step("b", 30, begun=Begun(475, None, ()))]
    problem = make_problem(*steps, links=[Link("a", "b", 100)])
    assert judged(problem, put(problem, "a", 470), put(problem, "b", 475, None)) == []


def test_a_begun_step_stays_where_it_is():
    problem = make_problem(make_step("cut", begun=Begun(470, "ana", ())))
    assert only(judged(problem, put(problem, "cut", 480)), "is moved")
    assert only(judged(problem, unplaced=[Unplaced("cut", "no")]), "cannot be left out")


def test_begun_steps_may_overlap_but_new_work_may_not_add_to_it():
    begun = [make_step(name, 30, at=["saw"], begun=Begun(470, "ana", ("saw",))) for name in "ab"]
    problem = make_problem(*begun, make_step("dry", 10, "alone", at=["saw"]), stations=[SAW])
    rows = [put(problem, name, 470, "ana", "saw") for name in "ab"]
    assert judged(problem, *rows, put(problem, "dry", 500, None, "saw")) == []
    assert only(judged(problem, *rows, put(problem, "dry", 499, None, "saw")), "saw holds 1 but has 3")


def test_what_follows_a_step_left_out_is_left_out_and_so_is_what_it_had_to_follow():
    steps = [make_step("oil"), make_step("wipe", skill="magic"), make_step("pack")]
    links = [Link("oil", "wipe", 0, 60), Link("wipe", "pack")]
    problem = make_problem(*steps, links=links)
    all_out = [Unplaced(name, "why") for name in ("oil", "wipe", "pack")]
    assert judged(problem, unplaced=all_out) == []
    assert only(judged(problem, put(problem, "oil", 480), unplaced=all_out[1:]), "oil is placed though wipe")
    assert only(judged(problem, put(problem, "pack", 480), unplaced=all_out[:2]), "pack is placed though wipe")


def test_nothing_is_left_out_that_could_be_done():
    problem = make_problem(make_step("cut"), make_step("sand", 500))
    row = put(problem, "sand", 490)
    assert only(judged(problem, row, unplaced=[Unplaced("cut", "why")]), "cut is left out though it could start at 990")


def test_an_order_with_a_step_left_out_ends_with_the_plan_and_is_missed_if_hard():
    prices = Prices(missed_hard=500, late_hour=1, unplaced=1000)
    problem = make_problem(make_step("cut", skill="magic"), orders=[Order("o", ("cut",), 2400, 2, True)], prices=prices)
    plan = make_plan(problem, unplaced=[Unplaced("cut", "nobody")])
    assert plan.cost == 1000 + 2 * (500 + 1)  # the horizon is 2460, an hour after the due


def test_the_cost_follows_the_price_list():
    prices = Prices(500, 6, 0, 0.5, 0.6, 1.2)
    orders = [
        Order("late", ("carve",), 457, 2),
        Order("hard", ("carve",), 516, 1, True),
        Order("fine", ("carve",), 517),
    ]
    problem = make_problem(
        make_step("carve", at=["router"], state_in="vee"), stations=[router()], orders=orders, prices=prices
    )
    plan = make_plan(problem, put(problem, "carve", 487, "ana", "router", changeover=7))
    late, hard = 2 * 1 * 6, 500 + 6 / 60
    assert cost(problem, plan) == pytest.approx(late + hard + 4 * 517 / 60 * 0.6 + 3.5 + 37 / 60 * 1.2)


def test_cost_bound_and_status_say_the_truth():
    problem = make_problem(make_step("cut"), prices=Prices(makespan_hour=2))
    plan = make_plan(problem, put(problem, "cut", 480))
    assert plan.cost == 1
    assert broken_rules(problem, replace(plan, cost=1.009)) == []
    assert only(broken_rules(problem, replace(plan, cost=1.02)), "cost is said to be")
    assert only(broken_rules(problem, replace(plan, bound=1.02)), "above the cost")
    assert only(broken_rules(problem, replace(plan, status=Status.OPTIMAL)), "does not reach")
    assert broken_rules(problem, replace(plan, status=Status.OPTIMAL, bound=0.995)) == []
    assert only(broken_rules(problem, replace(plan, status=Status.PARTIAL)), "0 steps left out")


def test_one_person_does_all_hands_of_a_step():
    people = [make_person(hours=((480, 520),)), Person("ben", frozenset({"wood"}), ((520, 600),))]
    glue = make_step("glue", segments=((20, "hands"), (20, "alone"), (20, "hands")))
    problem = make_problem(glue, people=people)
    broken = judged(problem, put(problem, "glue", 480, "ana"))
    assert only(broken, "ana's hands from 520 to 540")
