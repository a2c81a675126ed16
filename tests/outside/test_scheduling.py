"""Scheduling problems with published answers, solved to the proof through the plan exchange."""

import pytest

from planner import Link, Order, Person, Prices, Station, StationNeed, Status, broken_rules
from tests.outside.shops import MINUTES, job_shop, job_shops, one_machine, solved_through_the_exchange
from tests.planner.makers import make_problem, make_step

JOB_SHOPS = job_shops()


def proved(problem, seconds=60):
    plan = solved_through_the_exchange(problem, seconds)
    assert broken_rules(problem, plan) == []
    assert plan.status is Status.OPTIMAL
    return plan


# ft06: Muth and Thompson 1963; la01 to la05: Lawrence 1984. The optima are those of the literature.
@pytest.mark.source("Muth and Thompson 1963, Lawrence 1984: job shops and their optima")
@pytest.mark.parametrize(
    ("name", "optimum"), [("ft06", 55), ("la01", 666), ("la02", 655), ("la03", 597), ("la04", 590), ("la05", 593)]
)
def test_job_shops_are_solved_to_their_published_optimum(name, optimum):
    assert proved(job_shop(JOB_SHOPS[name])).cost == pytest.approx(optimum)


# ft10: Muth and Thompson 1963; its optimum, 930, was proved by Carlier and Pinson 1989.
@pytest.mark.source("Muth and Thompson 1963; Carlier and Pinson 1989: ft10, 930")
def test_a_job_shop_that_stood_open_for_26_years_is_solved_within_a_hundredth_in_seconds():
    problem = job_shop(JOB_SHOPS["ft10"])
    plan = solved_through_the_exchange(problem, 4)
    assert broken_rules(problem, plan) == []
    assert 930 - 1e-6 <= plan.cost <= 1.01 * 930


# Johnson 1954 (two machines in a row). Data and makespans: the article on Johnson's rule in a free encyclopedia
# (20.5 hours, here tenths of hours), a lecture exercise (28), a textbook exercise (65), each checked by brute force.
@pytest.mark.source("Johnson 1954: two machines in a row")
@pytest.mark.parametrize(
    ("jobs", "makespan"),
    [
        ([(32, 42), (47, 15), (22, 50), (58, 40), (31, 28)], 205),
        ([(4, 2), (3, 5), (5, 1), (7, 3), (8, 6)], 28),
        ([(12, 22), (4, 5), (5, 3), (15, 16), (10, 8)], 65),
        ([(10, 2), (5, 4), (7, 5), (3, 6), (1, 7)], 28),
    ],
)
def test_two_machines_in_a_row_take_as_long_as_johnsons_rule_says(jobs, makespan):
    assert proved(job_shop([[(0, first), (1, second)] for first, second in jobs])).cost == pytest.approx(makespan)


# Moore 1968 (number of late jobs). First: Pinedo, Scheduling, section 3.3 (from memory, checked by brute force);
# second: an exercise of a course on scheduling, checked by brute force.
@pytest.mark.source("Moore 1968: number of late jobs")
@pytest.mark.parametrize(
    ("minutes", "dues", "late"),
    [
        ([7, 8, 4, 6, 6], [9, 17, 18, 19, 21], 2),
        ([19, 23, 5, 31, 17, 8, 32, 41, 26, 18], [48, 75, 170, 215, 205, 240, 85, 67, 100, 95], 2),
    ],
)
def test_as_few_jobs_are_late_as_moore_and_hodgson_find(minutes, dues, late):
    orders = [Order(f"o{n}", (str(n),), due, 1, hard=True) for n, due in enumerate(dues, start=1)]
    assert proved(one_machine(minutes, orders, Prices(missed_hard=1))).cost == pytest.approx(late)


# Weighted lateness on one machine: Pinedo, Scheduling, examples of sections 3.4 (equal weights) and 3.6, both from
# memory, checked by brute force.
@pytest.mark.source("Pinedo, Scheduling, 3.4 and 3.6 (from memory)")
@pytest.mark.parametrize(
    ("minutes", "weights", "dues", "cost"),
    [
        ([121, 79, 147, 83, 130], [1, 1, 1, 1, 1], [260, 266, 266, 336, 337], 370),
        ([12, 8, 15, 9], [4, 5, 3, 5], [16, 26, 25, 27], 67),
    ],
)
def test_weighted_lateness_is_as_small_as_published(minutes, weights, dues, cost):
    rows = zip(dues, weights, strict=True)
    orders = [Order(f"o{n}", (str(n),), due, weight) for n, (due, weight) in enumerate(rows, start=1)]
    assert proved(one_machine(minutes, orders, Prices(late_hour=60))).cost == pytest.approx(cost)


# Smith 1956 (weighted completion times): Kleinberg and Tardos, Algorithm Design, chapter 4, exercise 13: 18, not 46.
@pytest.mark.source("Smith 1956; Kleinberg and Tardos, Algorithm Design, ch. 4, ex. 13")
def test_weighted_finishes_come_in_smiths_order():
    orders = [Order("light", ("1",), 0, 10), Order("heavy", ("2",), 0, 2)]
    plan = proved(one_machine([1, 3], orders, Prices(finish_hour=60)))
    assert plan.cost == pytest.approx(18)
    assert plan["1"].start == 0


# Resource constrained project, 12 activities, capacities 6 and 8, optimum 21: the example in the documentation of
# the Python-MIP library, "Resource Constrained Project Scheduling".
@pytest.mark.source("Python-MIP documentation: resource constrained project of 12 activities")
def test_a_project_with_two_shared_resources_takes_21():
    minutes = [0, 3, 2, 5, 4, 2, 3, 4, 2, 4, 6, 0]
    use = [(0, 0), (5, 1), (0, 4), (1, 4), (1, 3), (3, 2), (3, 1), (2, 4), (4, 0), (5, 2), (2, 5), (0, 0)]
    arcs = {1: [4, 5], 2: [9, 10], 3: [8], 4: [6, 7], 5: [9, 10], 6: [8, 9], 7: [8]}
    steps = [make_step(str(number), minutes[number], "alone", stations=needs(*use[number])) for number in range(1, 11)]
    links = [Link(str(before), str(after)) for before, afters in arcs.items() for after in afters]
    stations = [Station("r1", 6), Station("r2", 8)]
    problem = make_problem(*steps, now=0, people=(), stations=stations, links=links, prices=MINUTES)
    assert proved(problem).cost == pytest.approx(21)


def needs(first, second):
    return tuple(StationNeed((name,), load) for name, load in (("r1", first), ("r2", second)) if load)


# A cure is 12 elapsed hours over either clock change of New York in 2026 (IANA time zone data: clocks go forward on
# 8 March at 07:00 UTC, back on 1 November at 06:00 UTC): glued at 18:00 it is ready at 07:00 and at 05:00.
@pytest.mark.source("IANA time zone database, New York 2026")
@pytest.mark.parametrize(("evening", "ready"), [((2026, 3, 7), 7), ((2026, 10, 31), 5)])
def test_a_cure_of_twelve_hours_is_twelve_hours_over_a_clock_change(evening, ready):
    from datetime import UTC, datetime, timedelta
    from zoneinfo import ZoneInfo

    zone = ZoneInfo("America/New_York")
    glued = datetime(*evening, 18, tzinfo=zone)
    always = Person("ana", frozenset({"wood"}), ((0, 2000),))
    problem = make_problem(
        make_step("glue", 30), make_step("plane", 10), now=0, people=[always], links=[Link("glue", "plane", 720)]
    )
    plan = solved_through_the_exchange(problem, 1)
    origin = glued.astimezone(UTC) - timedelta(minutes=plan["glue"].end)
    assert (origin + timedelta(minutes=plan["plane"].start)).astimezone(zone).hour == ready
