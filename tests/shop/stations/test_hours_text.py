"""Hours as people write them."""

from datetime import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.stations.hours_text import HoursError, read_hours, say_hours


@pytest.mark.parametrize("text", ["8-12, 13-17:30", "8:00–12:00,13.00-17.30", "13 to 17:30; 8 to 12"])
def test_hours_are_read_however_they_are_written(text):
    assert read_hours(text) == [(time(8), time(12)), (time(13), time(17, 30))]


def test_nothing_is_a_day_without_work():
    assert read_hours("  ") == []


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("8", "“8” is no stretch of hours; write it like 8:00-12:00"),
        ("8-25", "“8-25” is not on the clock; hours go from 0:00 to 23:59"),
        ("12-8", "“12-8” ends before it begins"),
        ("8-12, 11-14", "two stretches overlap"),
    ],
)
def test_what_is_no_hours_has_a_reason(text, reason):
    with pytest.raises(HoursError, match=reason):
        read_hours(text)


@given(st.lists(st.times().map(lambda at: at.replace(second=0, microsecond=0)), unique=True, max_size=6))
def test_what_is_said_is_read_back(times):
    times = sorted(times)
    stretches = list(zip(times[::2], times[1::2], strict=False))
    assert read_hours(say_hours(stretches)) == stretches
