"""Surface measure, board feet, quarters and grades, against the rules that yards go by."""

import pytest

from planner.trade.lumber import board_feet, clear_fraction, quarter_for, rough_in, surface_measure, surface_measures

NHLA = pytest.mark.source("NHLA rules for measuring hardwood: surface measure and board feet")
S2S = pytest.mark.source("standard thicknesses of hardwood lumber, surfaced two sides")


@NHLA
@pytest.mark.parametrize(
    ("width_in", "length_ft", "measure"), [(6.25, 8, 4), (8, 12, 8), (10, 13, 11), (6.4375, 10, 5)]
)
def test_surface_measure_is_rounded_to_the_nearest_whole_foot(width_in, length_ft, measure):
    assert surface_measure(width_in, length_ft) == measure


@NHLA
def test_two_inches_by_six_and_a_quarter_by_eight_feet_are_8_board_feet():
    assert board_feet(surface_measure(6.25, 8), 2) == 8


@pytest.mark.source("Wengert, rounding numbers when figuring lumber")
def test_of_two_boards_at_an_exact_half_one_goes_up_and_one_down():
    assert surface_measures([(13, 6), (7.5, 12)]) == (7, 7)
    assert surface_measures([(9, 10), (9, 10)]) == (8, 7)


@S2S
@pytest.mark.parametrize(
    ("quarter", "surfaced_in", "planing_in"),
    [
        ("4/4", 13 / 16, 3 / 16),
        ("5/4", 1 + 1 / 16, 3 / 16),
        ("6/4", 1 + 5 / 16, 3 / 16),
        ("8/4", 1.75, 1 / 4),
        ("12/4", 2.75, 1 / 4),
        ("16/4", 3.75, 1 / 4),
    ],
)
def test_a_quarter_gives_what_surfacing_leaves_of_it_and_no_more(quarter, surfaced_in, planing_in):
    assert quarter_for(surfaced_in, planing_in=planing_in) == quarter
    if quarter != "16/4":
        assert quarter_for(surfaced_in + 1 / 64, planing_in=planing_in) != quarter


@pytest.mark.source("Wengert, rough-sawn thickness")
@pytest.mark.parametrize(("quarter", "rough"), [("4/4", 1), ("5/4", 1.25), ("6/4", 1.5), ("8/4", 2)])
def test_a_quarter_is_a_quarter_of_an_inch_rough(quarter, rough):
    assert rough_in(quarter) == rough


@pytest.mark.source("NHLA grades: clear-face yield")
@pytest.mark.parametrize(
    ("grade", "percent"),
    [
        ("FAS", 83 + 1 / 3),
        ("No. 1 Common", 66 + 2 / 3),
        ("No. 2 Common", 50),
        ("No. 3A Common", 33 + 1 / 3),
        ("No. 3B Common", 25),
    ],
)
def test_a_grade_promises_its_share_of_clear_face(grade, percent):
    assert 100 * clear_fraction(grade) == pytest.approx(percent)
