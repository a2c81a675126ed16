"""Instants to minutes and back, over both clock changes of 2026 in New York (IANA tz database 2026f)."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from shop.plans.handoff.clock import Clock

NEW_YORK = ZoneInfo("America/New_York")


@pytest.mark.parametrize(
    ("evening", "same_wall_next_day", "minutes"),
    [
        (datetime(2026, 3, 7, 18, tzinfo=NEW_YORK), datetime(2026, 3, 8, 18, tzinfo=NEW_YORK), 23 * 60),
        (datetime(2026, 10, 31, 18, tzinfo=NEW_YORK), datetime(2026, 11, 1, 18, tzinfo=NEW_YORK), 25 * 60),
        (datetime(2026, 6, 1, 18, tzinfo=NEW_YORK), datetime(2026, 6, 2, 18, tzinfo=NEW_YORK), 24 * 60),
    ],
)
def test_a_day_has_as_many_minutes_as_elapse(evening, same_wall_next_day, minutes):
    clock = Clock.starting(evening, NEW_YORK)
    assert clock.minute(same_wall_next_day) - clock.minute(evening) == minutes


def test_minute_0_is_midnight_in_the_workshop():
    clock = Clock.starting(datetime(2026, 6, 2, 1, 30, tzinfo=UTC), NEW_YORK)
    assert clock.instant(0) == datetime(2026, 6, 1, tzinfo=NEW_YORK)


def test_what_happened_rounds_down_and_what_is_to_come_rounds_up():
    clock = Clock(datetime(2026, 6, 1, tzinfo=UTC))
    at = clock.origin + timedelta(minutes=7, seconds=20)
    assert (clock.minute(at), clock.next_minute(at)) == (7, 8)
