"""Why an order is late, back to the first cause, and what would help."""

import pytest

from benchmarks.workshops import workshop
from planner import Begun, Link, Order, PlanError, Prices, Station, Unplaced, quick_plan, why_late
from tests.planner.makers import make_person, make_plan, make_problem, make_step, put

PRICES = Prices(late_hour=1)


def two_in_a_row(**more):
    """The tray waits for the bowl, the bowl for now; the bowl has time."""
    orders = [Order("tray", ("tray",), 570), Order("bowl", ("bowl",), 900)]
    problem = make_problem(make_step("bowl", 60), make_step("tray", 60), orders=orders, prices=PRICES, **more)
    return problem, make_plan(problem, put(problem, "bowl", 480), put(problem, "tray", 540))


def test_an_order_in_time_is_said_to_be():
    assert why_late(*two_in_a_row(), "bowl").sentences == ("bowl is in time.",)


def test_the_chain_leads_from_the_last_step_to_the_first_cause():
    late = why_late(*two_in_a_row(), "tray")
    assert late.headline == "tray is 30 minutes late: it was due Mon 2 Mar 09:30 and is complete Mon 2 Mar 10:00."
    assert late.chain == (
        "tray: ana is busy with bowl until Mon 2 Mar 09:00.",
        "bowl: It is the first thing that can be done from now on.",
    )


def test_another_order_that_has_time_is_taken_later():
    words = "Taking bowl later, which would still be in time, would make it in time, tried with the quick rule."
    assert why_late(*two_in_a_row(), "tray").help == words


def test_in_time_is_what_the_quick_rule_brings_in_time():
    problem, _ = two_in_a_row()
    idle_at_first = make_plan(problem, put(problem, "bowl", 570), put(problem, "tray", 630))
    words = "Taking bowl later, which would still be in time, would make it in time, tried with the quick rule."
    assert why_late(problem, idle_at_first, "tray").help == words


def behind_a_saw_and_a_bowl(*, tray_minutes, tray_due):
    """A short first day that the saw fills; on the second the tray stands behind the bowl."""
    person = make_person(hours=((480, 600), (1920, 2460)))
    steps = [make_step("saw", 100), make_step("bowl", 60), make_step("tray", tray_minutes)]
    orders = [Order("tray", ("tray",), tray_due), Order("bowl", ("bowl",), 2400)]
    problem = make_problem(*steps, people=[person], orders=orders, prices=PRICES)
    plan = make_plan(problem, put(problem, "saw", 480), put(problem, "bowl", 1920), put(problem, "tray", 1980))
    return problem, plan


def test_of_changes_that_bring_it_in_time_the_one_that_asks_least_is_told():
    words = "Taking bowl later, which would still be in time, would make it in time, tried with the quick rule."
    assert why_late(*behind_a_saw_and_a_bowl(tray_minutes=30, tray_due=1955), "tray").help == words


def test_where_nothing_brings_it_in_time_the_largest_gain_is_told():
    assert why_late(*behind_a_saw_and_a_bowl(tray_minutes=40, tray_due=500), "tray").help.endswith(
        " would make it about 1 hour earlier, tried with the quick rule."
    )


def test_an_hour_more_of_somebody_helps_where_a_night_lies_between():
    person = make_person(hours=((480, 600), (1920, 2460)))
    steps = [make_step("cut", 120), make_step("sand", 50)]
    orders = [Order("tray", ("sand",), 700)]
    problem = make_problem(*steps, people=[person], links=[Link("cut", "sand")], orders=orders, prices=PRICES)
    late = why_late(problem, quick_plan(problem), "tray")
    assert late.chain == (
        "sand: ana does not work in the minutes before Tue 3 Mar 08:00, and cut was not ready for it sooner.",
        "cut: It is the first thing that can be done from now on.",
    )
    assert late.help == (
        "One more hour of ana, Mon 2 Mar 10:00 to 11:00, would make it in time, tried with the quick rule."
    )


def test_a_station_open_longer_helps():
    laser = Station("laser", hours=((480, 540), (1920, 2400)))
    steps = [make_step(name, 60, "alone", at=["laser"]) for name in ("one", "two")]
    orders = [Order("signs", ("one", "two"), 700)]
    problem = make_problem(*steps, stations=[laser], orders=orders, prices=PRICES)
    late = why_late(problem, quick_plan(problem), "signs")
    assert late.chain[0] == "two: laser is closed before Tue 3 Mar 08:00."
    assert late.help == (
        "laser open an hour longer, Mon 2 Mar 09:00 to 10:00, would make it in time, tried with the quick rule."
    )


def test_what_a_break_lay_before_is_followed_further():
    person = make_person(hours=((480, 720), (780, 1020)))
    problem = make_problem(
        make_step("glue", 10),
        make_step("saw", 220),
        make_step("plane", 30),
        people=[person],
        orders=[Order("tray", ("plane",), 700)],
        links=[Link("glue", "plane", 210)],
    )
    rows = [put(problem, "glue", 480), put(problem, "saw", 490), put(problem, "plane", 780)]
    late = why_late(problem, make_plan(problem, *rows), "tray")
    assert late.chain == (
        "plane: ana does not work in the minutes before Mon 2 Mar 13:00, and glue was not ready for it sooner.",
        "glue: It is the first thing that can be done from now on.",
    )


def test_what_was_done_before_a_break_is_found_whatever_its_id():
    person = make_person(hours=((480, 600), (700, 1300)))
    orders = [Order("tray", ("cut 2",), 500)]
    problem = make_problem(make_step("step 0", 100), make_step("cut 2", 60), people=[person], orders=orders)
    late = why_late(problem, make_plan(problem, put(problem, "step 0", 480), put(problem, "cut 2", 700)), "tray")
    assert late.chain == (
        "cut 2: ana does not work in the minutes before Mon 2 Mar 11:40, and is busy with step 0 before the break.",
        "step 0: It is the first thing that can be done from now on.",
    )


def test_a_step_is_not_said_to_wait_for_itself_over_a_break():
    cut = make_step("cut", segments=[(60, "hands"), (100, "alone"), (60, "hands")])
    person = make_person(hours=((470, 545), (640, 1300)))
    problem = make_problem(cut, now=200, people=[person], orders=[Order("tray", ("cut",), 500)])
    late = why_late(problem, make_plan(problem, put(problem, "cut", 480)), "tray")
    assert late.chain == ("cut: ana does not work in the minutes before Mon 2 Mar 10:40.",)


def test_a_chain_ends_at_a_step_that_has_begun():
    old = make_step("old", 60, begun=Begun(470, "ana", ()))
    problem = make_problem(old, make_step("cut"), orders=[Order("tray", ("cut",), 500)], links=[Link("old", "cut")])
    late = why_late(problem, make_plan(problem, put(problem, "old", 470), put(problem, "cut", 530)), "tray")
    assert late.chain[-1] == "old: It began at Mon 2 Mar 07:50."


def test_an_order_that_cannot_be_completed_says_why():
    problem = make_problem(make_step("cut", skill="magic"), orders=[Order("tray", ("cut",), 500)])
    plan = make_plan(problem, unplaced=[Unplaced("cut", "Nobody can do magic.")])
    assert why_late(problem, plan, "tray").sentences == ("tray cannot be completed: Nobody can do magic.",)


def test_an_unknown_order_is_refused():
    with pytest.raises(PlanError, match="ghost"):
        why_late(*two_in_a_row(), "ghost")


def test_every_late_order_of_a_full_shop_is_explained():
    problem = workshop(80, seed=3, spare=1.0, tight=9)
    plan = quick_plan(problem)
    told = [why_late(problem, plan, order.id) for order in problem.orders]
    late = [each for each in told if not each.headline.endswith("in time.")]
    assert late
    assert all(each.chain and each.help and len(each.chain) <= 8 for each in late)
