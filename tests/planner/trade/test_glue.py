"""Clamps, glue, and how much of it at once."""

from math import nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import PlannerError
from planner.trade.glue import (
    Hardness,
    WaterClass,
    caul_width_in,
    clamp_pressure,
    clamps_for_panel,
    glue_grams,
    panels_in_minutes,
    panels_in_one_go,
    pressed_length_in,
)
from planner.trade.wood import wood_named

lengths_in = st.floats(1, 120)
widths_in = st.floats(1, 12)


@given(lengths_in, lengths_in)
def test_clamps_never_get_fewer_when_the_panel_gets_longer(one, other):
    short, long = sorted((one, other))
    assert clamps_for_panel(short) <= clamps_for_panel(long)


@given(lengths_in)
def test_clamps_are_no_farther_apart_than_the_spacing(length_in):
    assert length_in - 4 <= 10 * (clamps_for_panel(length_in) - 1) + 1e-3


@given(lengths_in, widths_in)
def test_with_its_caul_a_panels_clamps_press_all_of_its_joint(length_in, width_in):
    clamps = clamps_for_panel(length_in)
    caul_in = caul_width_in(length_in, clamps, width_in)
    assert clamps * pressed_length_in(width_in + caul_in) >= length_in - 1e-3
    assert caul_in == 0 or clamps * pressed_length_in(width_in) < length_in


def test_pounds_a_clamp_go_with_the_joint_and_against_the_clamps():
    pressure = clamp_pressure(Hardness.HARD)
    assert pressure.pounds_a_clamp(20, 1, 4) == (1000, 1500)
    assert pressure.pounds_a_clamp(20, 1, 2) == pressure.pounds_a_clamp(40, 1, 4)


@pytest.mark.parametrize(
    ("wood", "hardness"),
    [("Basswood", "soft"), ("Walnut", "medium"), ("Cherry", "medium"), ("Sugar maple", "hard"), ("White oak", "hard")],
)
def test_woods_are_as_hard_as_gluing_guides_sort_them(wood, hardness):
    """Common practice, no source."""
    assert wood_named(wood).hardness.value == hardness


def test_glue_goes_with_length_thickness_and_joints():
    assert glue_grams(20, 0.75, 3) == pytest.approx(6 * glue_grams(10, 0.75, 1))
    assert glue_grams(20, 0.75, 0) == 0


@pytest.mark.parametrize(
    ("open_minutes", "clamps", "panels", "why"),
    [(10, 99, 2, "glue"), (60, 13, 3, "clamps"), (3, 99, 0, "glue"), (60, 3, 0, "clamps"), (60, 0, 0, "clamps")],
)
def test_glue_or_clamps_say_how_many_panels_go_at_once(open_minutes, clamps, panels, why):
    answer = panels_in_one_go(
        open_minutes=open_minutes,
        minutes_to_spread_and_close_a_panel=4,
        clamps_free=clamps,
        clamps_a_panel=4,
    )
    assert answer.panels == panels
    assert answer.why.startswith(f"The {why}")


@given(st.floats(1, 60), st.floats(0.5, 20), st.integers(0, 40), st.integers(1, 9))
def test_what_goes_at_once_keeps_both_limits_and_one_more_would_not(open_minutes, each, free, a_panel):
    answer = panels_in_one_go(
        open_minutes=open_minutes,
        minutes_to_spread_and_close_a_panel=each,
        clamps_free=free,
        clamps_a_panel=a_panel,
    )
    more = answer.panels + 1
    assert answer.panels * each <= open_minutes + 1e-3
    assert answer.panels * a_panel <= free
    assert more * each > open_minutes - 1e-3 or more * a_panel > free


@pytest.mark.parametrize(("minutes", "panels"), [(4, 0), (5, 1), (10, 2), (74, 2), (75, 3), (80, 4), (150, 6)])
def test_the_next_go_waits_for_the_clamps(minutes, panels):
    found = panels_in_minutes(
        minutes=minutes, press_minutes=60, panels_in_a_go=2, minutes_to_spread_and_close_a_panel=5
    )
    assert found == panels


def test_harder_wood_wants_more_pressure_and_it_is_said_that_sources_disagree():
    ranges = [clamp_pressure(each) for each in (Hardness.SOFT, Hardness.MEDIUM, Hardness.HARD)]
    assert [each.from_psi for each in ranges] == sorted(each.from_psi for each in ranges)
    assert all("disagree" in each.note for each in ranges)


def test_water_classes_are_in_order():
    assert sorted(WaterClass) == [WaterClass.D1, WaterClass.D2, WaterClass.D3, WaterClass.D4]


@pytest.mark.parametrize(
    "refused",
    [
        lambda: clamps_for_panel(0),
        lambda: clamps_for_panel(nan),
        lambda: clamps_for_panel(20, from_end_in=-1),
        lambda: caul_width_in(20, 3, 0),
        lambda: clamp_pressure(Hardness.SOFT).pounds_a_clamp(20, 1, 0),
        lambda: glue_grams(20, 0.75, -1),
        lambda: panels_in_minutes(
            minutes=-1, press_minutes=60, panels_in_a_go=2, minutes_to_spread_and_close_a_panel=5
        ),
    ],
)
def test_what_makes_no_sense_is_refused(refused):
    with pytest.raises(PlannerError):
        refused()
