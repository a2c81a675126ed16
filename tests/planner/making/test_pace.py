from datetime import time

import pytest

from planner.making.pace import Pace
from planner.parts import Station
from tests.planner.making.makers import HOUR, NOW, SKILLS, make_floor, make_person

EVENING = ((time(18), time(21)),)


def pace(*people, **floor):
    return Pace(make_floor(people=people, **floor), NOW)


def test_the_longest_usual_stretch_is_the_longer_half_of_a_day():
    assert pace(make_person()).usual_stretch("router") == 6 * HOUR


def test_only_those_with_the_skill_count():
    sander = make_person("Bob", {"sanding"}, stretches=EVENING)
    assert pace(make_person("Ann", SKILLS - {"sanding"}), sander).usual_stretch("sanding") == 3 * HOUR


def test_a_station_that_closes_early_shortens_the_stretch():
    short = tuple((day * 24 * HOUR + 9 * HOUR, day * 24 * HOUR + 11 * HOUR) for day in range(28))
    floor = {"stations": (Station("the router", hours=short),), "roles": {"router": ("the router",)}}
    assert pace(make_person(), **floor).usual_stretch("router", "router") == 2 * HOUR


def test_one_long_day_in_many_is_not_usual():
    stretches = tuple((time(hour), time(hour + 1)) for hour in (6, 8, 10, 12, 14))
    assert pace(make_person(stretches=stretches)).usual_stretch("router") == HOUR


def test_where_nobody_can_do_it_nothing_limits_it():
    assert pace(make_person(skills=())).usual_stretch("router") >= 24 * HOUR


@pytest.mark.parametrize(("people", "elapsed"), [((make_person(stretches=EVENING),), 480), ((), 60)])
def test_work_takes_longer_by_the_calendar_where_the_workshop_is_seldom_open(people, elapsed):
    assert pace(*people).elapsed(60) == elapsed


def test_the_roomiest_station_of_a_role_is_the_one_that_counts():
    floor = {"stations": (Station("small", 4), Station("large", 12)), "roles": {"rack": ("small", "large")}}
    assert pace(make_person(), **floor).station("rack").id == "large"
