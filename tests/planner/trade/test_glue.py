"""Clamps, glue, and how much of it at once."""

from math import nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import PlannerError
from planner.trade.glue import (
    Hardness,
    WaterClass,
    clamp_pressure,
    clamps_by_cone,
    clamps_for_panel,
    glue_grams,
    panels_in_minutes,
    panels_in_one_go,
    pressed_length_in,
)

lengths_in = st.floats(1, 120)
widths_in = st.floats(1, 12)


@given(lengths_in, lengths_in, widths_in, widths_in)
def test_clamps_never_get_fewer_when_the_panel_gets_longer_or_its_strips_narrower(one, other, width, another):
    short, long = sorted((one, other))
    narrow, wide = sorted((width, another))
    assert clamps_for_panel(short, narrow) <= clamps_for_panel(long, narrow)
    assert clamps_for_panel(long, wide) <= clamps_for_panel(long, narrow)


@given(lengths_in, widths_in)
def test_clamps_are_enough_for_spacing_and_for_the_cones(length_in, width_in):
    clamps = clamps_for_panel(length_in, width_in)
    assert clamps * pressed_length_in(width_in) >= length_in - 1e-3
    assert length_in - 4 <= 10 * (clamps - 1) + 1e-3


def test_where_strips_are_wide_spacing_says_how_many_and_where_narrow_the_cones_do():
    assert clamps_for_panel(36) == clamps_for_panel(36, 6) == 5
    assert clamps_for_panel(36, 1.5) == clamps_by_cone(36, 1.5) == 12


def test_a_pad_spreads_the_force():
    assert clamps_by_cone(48, 2, pad_in=3.5) < clamps_by_cone(48, 2)


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
        lambda: clamps_for_panel(nan, 4),
        lambda: clamps_for_panel(20, 4, pad_in=-1),
        lambda: clamps_by_cone(20, 0),
        lambda: glue_grams(20, 0.75, -1),
        lambda: panels_in_minutes(
            minutes=-1, press_minutes=60, panels_in_a_go=2, minutes_to_spread_and_close_a_panel=5
        ),
    ],
)
def test_what_makes_no_sense_is_refused(refused):
    with pytest.raises(PlannerError):
        refused()
