"""Weekly hours over clock changes.

Sources: IANA time zone database 2026f (America/New_York leaves standard time on 2026-03-08 at 07:00 UTC and returns on
2026-11-01 at 06:00 UTC; Australia/Lord_Howe changes by half an hour on 2026-10-03 at 15:30 UTC);
RFC 5545, 3.3.5 (a local time that does not exist is read with the offset before the gap, one that occurs twice is the
first of the two).
"""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from planner.hours import open_intervals

pytestmark = pytest.mark.source("IANA time zone database 2026f; RFC 5545, 3.3.5")

NEW_YORK = ZoneInfo("America/New_York")
SATURDAY, SUNDAY = 5, 6


def instants(weekly, first_day, days=2, zone=NEW_YORK):
    origin = datetime.combine(first_day, time(), tzinfo=zone)
    found = open_intervals(weekly, set(), zone, origin, first_day, days)
    return [origin.astimezone(UTC) + timedelta(minutes=minute) for interval in found for minute in interval]


def utc(*when):
    return datetime(*when, tzinfo=UTC)


def test_after_the_spring_change_the_workshop_opens_an_hour_of_elapsed_time_sooner():
    weekly = [(day, time(18), time(19)) for day in (SATURDAY, SUNDAY)]
    saturday, _, sunday, _ = instants(weekly, date(2026, 3, 7))
    assert (saturday, sunday) == (utc(2026, 3, 7, 23), utc(2026, 3, 8, 22))


def test_after_the_autumn_change_the_workshop_opens_an_hour_of_elapsed_time_later():
    weekly = [(day, time(18), time(19)) for day in (SATURDAY, SUNDAY)]
    saturday, _, sunday, _ = instants(weekly, date(2026, 10, 31))
    assert (saturday, sunday) == (utc(2026, 10, 31, 22), utc(2026, 11, 1, 23))


def test_a_night_over_the_gap_is_an_hour_shorter():
    opens, closes = instants([(SUNDAY, time(0), time(6))], date(2026, 3, 8), days=1)
    assert closes - opens == timedelta(hours=5)


def test_a_night_over_the_overlap_is_an_hour_longer():
    opens, closes = instants([(SUNDAY, time(0), time(6))], date(2026, 11, 1), days=1)
    assert closes - opens == timedelta(hours=7)


def test_an_opening_time_that_the_clock_skips_is_read_with_the_offset_before_the_gap():
    assert instants([(SUNDAY, time(2, 30), time(5))], date(2026, 3, 8), days=1)[0] == utc(2026, 3, 8, 7, 30)


def test_an_opening_time_that_the_clock_shows_twice_is_the_first():
    assert instants([(SUNDAY, time(1, 30), time(5))], date(2026, 11, 1), days=1)[0] == utc(2026, 11, 1, 5, 30)


def test_hours_that_lie_wholly_in_the_gap_follow_the_offset_before_it():
    found = instants([(SUNDAY, time(2, 15), time(2, 45))], date(2026, 3, 8), days=1)
    assert found == [utc(2026, 3, 8, 7, 15), utc(2026, 3, 8, 7, 45)]


def test_hours_from_inside_the_gap_to_its_end_are_none():
    assert instants([(SUNDAY, time(2, 30), time(3, 15))], date(2026, 3, 8), days=1) == []


@pytest.mark.parametrize(("month", "day", "hours"), [(10, 4, 23.5), (4, 5, 24.5)])
def test_half_an_hour_of_change_is_half_an_hour(month, day, hours):
    opens, closes = instants([(SUNDAY, time.min, time.max)], date(2026, month, day), 1, ZoneInfo("Australia/Lord_Howe"))
    assert closes - opens == timedelta(hours=hours)
