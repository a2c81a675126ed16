"""Minutes as bits, beside sets of minutes."""

from itertools import pairwise
from time import process_time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.search.bits import Calendar, intervals, lowest, runs, stretch

MINUTES = st.sets(st.integers(0, 90))
HOURS = st.lists(st.tuples(st.integers(-40, 60), st.integers(0, 40)).map(lambda each: (each[0], sum(each))), max_size=8)


def bits_of(minutes):
    return sum(1 << minute for minute in minutes)


def minutes_of(bits):
    return {minute for minute in range(bits.bit_length()) if bits >> minute & 1}


@given(HOURS, st.integers(-50, 50))
def test_the_minutes_of_intervals_are_those_from_the_base_on(hours, base):
    wanted = {minute - base for opens, closes in hours for minute in range(opens, closes) if minute >= base}
    assert minutes_of(Calendar.of(hours, base).bits) == wanted


@given(HOURS, st.integers(0, 100), st.integers(0, 60))
def test_a_look_at_a_calendar_shows_the_minutes_between(hours, start, length):
    calendar = Calendar.of(hours, 0)
    wanted = {minute - start for minute in minutes_of(calendar.bits) if start <= minute < start + length}
    assert minutes_of(calendar.between(start, start + length)) == wanted


@given(HOURS, st.integers(0, 100), st.integers(0, 60))
def test_what_is_cleared_is_taken_and_nothing_else(hours, start, length):
    calendar = Calendar.of(hours, 0)
    before = minutes_of(calendar.bits)
    calendar.clear(start, start + length)
    assert minutes_of(calendar.bits) == before - set(range(start, start + length))


@given(st.integers(0, 50), st.integers(1, 50))
def test_what_is_taken_of_a_copy_is_given_back_by_taking_it_again(start, length):
    hours = Calendar.of([(0, 100)], 0)
    mine = hours.copy()
    mine.flip(start, start + length)
    assert minutes_of(mine.bits) == set(range(100)) - set(range(start, start + length))
    mine.flip(start, start + length)
    assert mine.bits == hours.bits == stretch(0, 100)


@given(MINUTES, st.integers(1, 20))
def test_runs_begin_where_so_many_minutes_follow_on_each_other(minutes, length):
    wanted = {first for first in minutes if minutes.issuperset(range(first, first + length))}
    assert minutes_of(runs(bits_of(minutes), length)) == wanted


@given(MINUTES, st.integers(-100, 100))
def test_intervals_are_the_longest_runs_first_and_last_minute_included(minutes, base):
    found = intervals(bits_of(minutes), base)
    assert {minute - base for first, last in found for minute in range(first, last + 1)} == minutes
    assert all(last + 1 < opens for (_, last), (opens, _) in pairwise(found))


@given(MINUTES.filter(bool))
def test_the_lowest_is_the_least(minutes):
    assert lowest(bits_of(minutes)) == min(minutes)


@pytest.mark.parametrize(("start", "end", "minutes"), [(2, 5, {2, 3, 4}), (2, 2, set()), (5, 2, set())])
def test_a_stretch_is_half_open(start, end, minutes):
    assert minutes_of(stretch(start, end)) == minutes


def test_a_calendar_of_fifty_years_is_made_and_read_at_once():
    hours = [(opens, opens + 60) for opens in range(0, 26_000_000, 1300)]
    began = process_time()
    calendar = Calendar.of(hours, -26_000_000)
    assert intervals(calendar.bits, -26_000_000) == [(opens, closes - 1) for opens, closes in hours]
    assert process_time() - began < 5  # of this process; it takes a tenth of that
