"""What the page of a day reads."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone

from shop.day.hours import STATIONS, Day, Filling, bounds_of, read_day
from shop.floor.models import Tick
from shop.floor.services import begin, planned_stations
from shop.stations.models import Station
from tests.shop.makers import (
    MONDAY,
    make_person,
    make_plan,
    make_planned,
    make_station,
    make_step,
)

pytestmark = pytest.mark.django_db
CHICAGO = ZoneInfo("America/Chicago")
MINUTE, HOUR = timedelta(minutes=1), timedelta(hours=1)


@pytest.fixture(autouse=True)
def _in_chicago():
    with timezone.override(CHICAGO):
        yield


def read(plan, me=None, *, at=MONDAY, day=date(2026, 6, 1), **how) -> Day:
    return read_day(plan, day, me, at, **how)


def words(day: Day, column: str) -> list[str]:
    """What stands in a column, from top to bottom."""
    cells = [cell.what for row in day.rows for cell in row.cells if cell.column.name == column and cell.what]
    return [
        f"{what.placed.step.what} {what.need}" if not isinstance(what, Filling) else str(what.load) for what in cells
    ]


def test_a_load_is_hands_and_earshot_for_its_person_and_both_at_the_router():
    plan, ada, router = make_plan(), make_person("Ada"), make_station(name="Router")
    load = make_step(stage="load", segments=((12, "hands"), (30, "watch"), (6, "hands")))
    make_planned(plan, load, MONDAY, router, person=ada)
    assert words(read(plan), "Ada") == words(read(plan), "Router") == ["load hands", "load watch", "load hands"]


def test_other_work_fits_into_the_time_within_earshot():
    plan, ada = make_plan(), make_person("Ada")
    make_planned(plan, make_step(stage="load", segments=((12, "hands"), (30, "watch"), (6, "hands"))), person=ada)
    make_planned(plan, make_step(stage="sand"), MONDAY + 15 * MINUTE, person=ada)
    assert words(read(plan), "Ada") == ["load hands", "sand hands", "load hands"]


def test_a_place_for_several_says_how_many_lots_stand_there():
    plan, table = make_plan(), make_station(Station.Role.PAINT, name="Table", capacity=8)
    for start in (0, 30):
        make_planned(plan, make_step(stage="paint", segments=((40, "hands"),)), MONDAY + start * MINUTE, table)
    assert words(read(plan), "Table") == ["1", "2", "1"]


def test_clamps_say_how_many_of_them_hold_something_until_somebody_takes_them_off():
    placed = [("glue", 540, 550), ("glue 2", 600, 610), ("unclamp", 660, 665), ("unclamp 2", 720, 725)]
    problem = {
        "origin": "2026-06-01T00:00:00-05:00",
        "stations": [{"id": "Saw", "capacity": 1}, {"id": "Clamps", "capacity": 16}],
        "holds": [
            {"station": "Clamps", "load": 9, "from": "glue", "to": "unclamp"},
            {"station": "Clamps", "load": 4, "from": "glue 2", "to": "unclamp 2"},
            {"station": "Clamps", "load": 4, "from": "left out", "to": "never"},
        ],
    }
    document = {"placed": [{"step": step, "start": start, "end": end} for step, start, end in placed]}
    plan, ada = make_plan(problem=problem, document=document), make_person("Ada")
    make_planned(plan, make_step(segments=((240, "hands"),)), MONDAY, person=ada)
    day = read(plan)
    assert words(day, "Clamps") == ["9", "13", "4"]
    assert [column.name for column in day.columns] == ["Ada", "Clamps"]


def test_mine_comes_first_and_is_what_a_phone_shows():
    plan, _, bo = make_plan(), make_person("Ada"), make_person("Bo")
    assert [column.name for column in read(plan, bo).columns] == ["Bo", "Ada"]
    assert read(plan, bo).shown == "Bo"


@pytest.mark.parametrize(("asked", "shown"), [("Ada", "Ada"), (STATIONS, STATIONS), ("nobody", "Bo")])
def test_a_phone_shows_the_column_asked_for(asked, shown):
    plan, _, bo = make_plan(), make_person("Ada"), make_person("Bo")
    assert read(plan, bo, show=asked).shown == shown


def test_what_is_under_way_comes_before_what_is_next():
    plan, ada = make_plan(), make_person("Ada")
    first, second = make_step(stage="first"), make_step(stage="second")
    make_planned(plan, first, MONDAY, person=ada)
    make_planned(plan, second, MONDAY + HOUR, person=ada)
    begin(second, by=ada, at=MONDAY)
    assert [act.placed.step.what for act in read(plan, ada).mine] == ["second", "first"]


def test_work_begun_by_another_stands_in_the_others_column():
    plan, ada, bo = make_plan(), make_person("Ada"), make_person("Bo")
    step = make_step(stage="sand")
    make_planned(plan, step, MONDAY, person=ada)
    begin(step, by=bo, at=MONDAY)
    assert words(read(plan), "Bo") == ["sand hands"]
    assert words(read(plan), "Ada") == []


def test_what_was_done_today_stays_on_the_day_when_a_new_plan_knows_it_no_more():
    ada, bench = make_person("Ada"), make_station(Station.Role.SANDING, name="Bench")
    step = begin(make_step(stage="sand"), by=ada, at=MONDAY, stations=[bench])
    Tick.objects.create(step=step, at=MONDAY + 20 * MINUTE, minutes=20)
    day = read(make_plan())
    assert words(day, "Ada") == words(day, "Bench") == ["sand hands"]


def test_a_begun_step_stands_where_it_was_begun():
    plan, ada = make_plan(), make_person("Ada")
    saw, other = make_station(Station.Role.SAW, name="Saw"), make_station(Station.Role.SAW, name="Other saw")
    step = make_step(stage="rip")
    make_planned(plan, step, MONDAY, saw, person=ada)
    assert planned_stations(step) == [saw]
    begin(step, by=ada, at=MONDAY, stations=[other])
    assert [column.name for column in read(plan).columns] == ["Ada", "Other saw"]


def test_a_day_counts_only_its_own_part_of_work_nobody_ticked():
    plan, ada = make_plan(), make_person("Ada")
    make_planned(plan, make_step(stage="sand", begun_by=ada, begun_at=MONDAY - 48 * HOUR), person=ada)
    make_planned(plan, make_step(stage="oil"), MONDAY - HOUR, person=ada)
    assert read(plan).columns[0].hands_minutes == 60 + 20  # from the full hour of the first step until now


def test_yesterdays_work_is_not_todays():
    plan, ada = make_plan(), make_person("Ada")
    make_planned(plan, make_step(), MONDAY, person=ada)
    assert read(plan, day=date(2026, 6, 2)).is_empty


def test_what_no_time_is_left_for_is_told_apart():
    plan = make_plan()
    make_planned(plan, make_step(stage="carve"), None, why="Nobody can run the router.")
    day = read(plan)
    assert [(one.step.what, one.why) for one in day.left_out] == [("carve", "Nobody can run the router.")]
    assert day.is_empty


def test_a_caution_is_said_once_a_person():
    plan, ada = make_plan(), make_person("Ada")
    for hour in range(2):
        make_planned(plan, make_step(stage="oil"), MONDAY + hour * HOUR, person=ada)
    cautions = [cell.what.placed.caution for row in read(plan).rows for cell in row.cells if cell.what]
    assert "fire" in cautions[0]
    assert cautions[1] == ""


@pytest.mark.parametrize(
    ("day", "hours"),
    [(date(2026, 3, 8), 23), (date(2026, 6, 1), 24), (date(2026, 11, 1), 25)],
)
def test_a_day_is_as_long_as_its_clock_makes_it(day, hours):
    opens_at, closes_at = bounds_of(day)
    assert closes_at - opens_at == hours * HOUR


def test_the_margin_says_full_hours_over_a_clock_change():
    plan, ada = make_plan(), make_person("Ada")
    night = datetime.combine(date(2026, 11, 1), time(0, 30), CHICAGO).astimezone(UTC)
    make_planned(plan, make_step(segments=((180, "hands"),)), night, person=ada)
    rows = read(plan, day=date(2026, 11, 1)).rows
    hours = [timezone.localtime(row.starts_at).hour for row in rows if row.is_hour]
    assert hours == [0, 1, 1, 2]  # one o'clock comes twice that night: RFC 9636's zones of the tz database


def test_what_earlier_days_left_undone_stands_on_today_and_on_no_other_day():
    plan = make_plan()
    undone, begun = make_step(what="sand 4 gull trays"), make_step(begun_at=MONDAY - 48 * HOUR)
    for step in (undone, begun):
        make_planned(plan, step, MONDAY - 48 * HOUR)
    make_planned(plan, make_step(), MONDAY - HOUR)
    today = MONDAY.date()
    assert [one.step for one in read_day(plan, today, None, MONDAY).left_behind] == [undone]
    assert read_day(plan, today + timedelta(days=1), None, MONDAY).left_behind == []
