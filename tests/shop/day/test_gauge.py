"""The gauge: its level, its band, its words."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.day.gauge import HEIGHT, Gauge, State

SINCE = datetime(2026, 6, 1, 19, 40, tzinfo=UTC)
HOUR = timedelta(hours=1)


def oiled(hours_ago: float, *, opens: float = 12, closes: float | None = 16) -> Gauge:
    """An oiling that soaks 12 h and is wiped before 16."""
    return Gauge(SINCE, SINCE + opens * HOUR, closes and SINCE + closes * HOUR, SINCE + hours_ago * HOUR)


@pytest.mark.parametrize(
    ("hours", "state"), [(0, State.EARLY), (11.9, State.EARLY), (12, State.NOW), (16, State.NOW), (16.1, State.LATE)]
)
def test_both_edges_belong_to_the_band(hours, state):
    assert oiled(hours).state == state


def test_without_an_upper_edge_it_is_never_too_late():
    assert oiled(900, closes=None).state == State.NOW


@pytest.mark.parametrize(("hours", "minutes"), [(11, 60), (14, 120), (17, 60)])
def test_it_says_how_far_the_next_edge_is(hours, minutes):
    assert oiled(hours).minutes_to_edge == minutes


def test_an_hour_before_it_shuts_it_says_so():
    assert not oiled(14.9).shuts_soon
    assert oiled(15).shuts_soon
    assert not oiled(16.1).shuts_soon


def test_the_level_stands_at_the_edge_when_the_band_opens():
    assert oiled(12).level_y == oiled(12).opens_y


@given(st.floats(0, 100), st.floats(0, 100), st.floats(0.1, 100))
def test_the_level_only_rises_and_stays_in_the_tube(hours, later, opens):
    before, after = oiled(hours, opens=opens, closes=None), oiled(hours + later, opens=opens, closes=None)
    assert 0 <= after.level_y <= before.level_y <= HEIGHT
    assert before.below_level + before.level_y == pytest.approx(HEIGHT)
