"""Finishes: amounts, clocks, windows, words."""

from datetime import date
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import PlannerError
from planner.trade.finish import (
    RAGS,
    RecoatWindow,
    amount_ml,
    coverage_m2_per_litre,
    cured_on,
    food_note,
    minutes_at,
    recoat_within_or_after,
    surface_in2,
)


def test_a_tray_is_oiled_on_both_faces_its_edge_and_its_walls():
    assert surface_in2(160, 52, 0.75, pocket_perimeter_in=46, pocket_depth_in=0.5) == 320 + 39 + 23


def test_so_many_coats_of_a_square_metre_take_so_much():
    assert amount_ml(1550.0031, 2, 10) == pytest.approx(200)


@given(st.floats(1, 5000), st.floats(-5, 40), st.floats(0, 10))
def test_in_the_cold_it_takes_longer(minutes, celsius, colder):
    assert minutes_at(minutes, 20, celsius - colder, -50) >= minutes_at(minutes, 20, celsius, -50)


def test_below_the_labels_least_warmth_nothing_is_promised():
    with pytest.raises(PlannerError, match="10 °C or more"):
        minutes_at(480, 20, 8, least_celsius=10)


def test_the_next_coat_goes_on_at_once_or_much_later():
    window = recoat_within_or_after(60, 48 * 60)
    assert [window.next_allowed(minutes) for minutes in (30, 300, 3000)] == [30, 2880, 3000]


def test_a_window_that_shut_is_told():
    with pytest.raises(PlannerError, match="sand and start anew"):
        RecoatWindow(((0, 60),)).next_allowed(61)


@pytest.mark.parametrize("intervals", [((60, 30),), ((0, 60), (30, 90)), ((-5, 10),), ((0, inf), (3, 4))])
def test_windows_follow_each_other(intervals):
    with pytest.raises(PlannerError, match="follow each other"):
        RecoatWindow(intervals)


def test_food_waits_for_the_full_cure_and_nut_oil_is_told():
    assert cured_on(date(2026, 12, 1), 30) == date(2026, 12, 31)
    assert "nut oil" in food_note("Walnut oil", 30, has_nut_oil=True)
    assert "nut" not in food_note("Tung oil", 30, has_nut_oil=False)


def test_no_word_promises_what_no_office_gave():
    assert all("approved" not in said.lower() for said in (RAGS, food_note("Oil", 30, has_nut_oil=True)))
    assert all(word in RAGS for word in ("Never pile", "metal can", "same day", "label"))


@pytest.mark.parametrize("make", [lambda: amount_ml(10, 1, 0), lambda: coverage_m2_per_litre(1.2, 100)])
def test_nonsense_is_refused(make):
    with pytest.raises(PlannerError):
        make()
