from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st

from planner.hours import open_intervals

UTC_ZONE = ZoneInfo("UTC")
MONDAY = date(2026, 3, 2)
MORNING = (time(8), time(12))
AFTERNOON = (time(13), time(17))


def hours(weekly, *, off=(), zone=UTC_ZONE, first_day=MONDAY, days=7):
    origin = datetime.combine(first_day, time(), tzinfo=zone)
    return open_intervals(weekly, set(off), zone, origin, first_day, days)


def test_a_morning_and_an_afternoon_are_two_intervals():
    assert hours([(0, *AFTERNOON), (0, *MORNING)]) == ((480, 720), (780, 1020))


def test_stretches_that_touch_or_overlap_are_one():
    assert hours([(0, time(8), time(12)), (0, time(12), time(14)), (0, time(13), time(17))]) == ((480, 1020),)


def test_nobody_works_on_a_day_off():
    assert hours([(0, *MORNING), (1, *MORNING)], off=[MONDAY]) == ((1440 + 480, 1440 + 720),)


def test_a_week_later_it_is_the_same_again():
    assert hours([(2, *MORNING)], days=14) == tuple((start, start + 240) for start in (2 * 1440 + 480, 9 * 1440 + 480))


def test_a_whole_day_ends_at_midnight_and_joins_the_next():
    assert hours([(0, time.min, time.max), (1, time.min, time(1))]) == ((0, 1440 + 60),)


def test_a_night_shift_ends_on_the_next_day():
    assert hours([(0, time(22), time(2))]) == ((22 * 60, 26 * 60),)


def test_minutes_before_the_origin_are_negative():
    origin = datetime(2026, 3, 3, tzinfo=UTC)
    assert open_intervals([(0, *MORNING)], set(), UTC_ZONE, origin, MONDAY, 1) == ((480 - 1440, 720 - 1440),)


def test_a_minute_begun_counts_as_not_yet_open():
    origin = datetime(2026, 3, 2, 0, 0, 30, tzinfo=UTC)
    assert open_intervals([(0, *MORNING)], set(), UTC_ZONE, origin, MONDAY, 1) == ((480, 720),)


@given(
    st.lists(st.tuples(st.integers(0, 6), st.times(), st.times()), max_size=6),
    st.sampled_from(["America/New_York", "Europe/London", "Australia/Lord_Howe", "Pacific/Auckland", "UTC"]),
    st.dates(date(2026, 1, 1), date(2027, 12, 1)),
    st.integers(0, 20),
)
def test_hours_are_sorted_disjoint_and_never_touch(weekly, zone, first_day, days):
    found = hours(weekly, zone=ZoneInfo(zone), first_day=first_day, days=days)
    assert all(opens < closes for opens, closes in found)
    assert all(before[1] < after[0] for before, after in pairwise(found))


@given(st.dates(date(2026, 1, 1), date(2027, 12, 1)))
def test_the_wall_shows_the_opening_time_on_every_day_of_the_year(day):
    zone = ZoneInfo("America/Chicago")
    ((opens, closes),) = hours([(day.weekday(), *MORNING)], zone=zone, first_day=day, days=1)
    midnight = datetime.combine(day, time(), tzinfo=zone).astimezone(UTC)
    walls = [(midnight + timedelta(minutes=minute)).astimezone(zone).time() for minute in (opens, closes)]
    assert walls == [time(8), time(12)]
