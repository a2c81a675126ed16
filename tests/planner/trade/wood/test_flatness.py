"""One honest finding on flatness, and who rests before gluing."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import PlannerError
from planner.trade.wood import FlatnessFacts, flatness, moisture_findings, rest_days, wood_named
from planner.trade.wood.flatness import Level

CALM = FlatnessFacts(
    floor_in=0.75,
    length_in=14,
    width_in=9,
    strips=4,
    widest_strip_in=2.5,
    rings_alternate=True,
    wood=wood_named("walnut"),
    from_percent=8,
    to_percent=7,
)
ORDER = [Level.STAYS, Level.MAY_MOVE, Level.CUPS]


def test_a_thick_panel_of_narrow_strips_stays_flat():
    assert flatness(CALM).says == "stays flat"


def test_a_thin_floor_in_one_wide_board_cups():
    wide = replace(CALM, floor_in=0.35, strips=1, widest_strip_in=9, length_in=10)
    assert flatness(wide).says == "likely to cup: 0.35 in floor, one 9 in board"


def test_a_thin_floor_in_narrow_strips_may_move():
    assert flatness(replace(CALM, floor_in=0.35, length_in=10)).level is Level.MAY_MOVE


def test_rings_all_one_way_are_a_reason():
    assert "rings all one way" in flatness(replace(CALM, rings_alternate=False)).reasons


def test_a_dry_home_is_a_reason():
    assert any("drier at the customer's" in reason for reason in flatness(replace(CALM, to_percent=5)).reasons)


def test_a_quarter_sawn_board_is_not_held_against_its_width():
    board = replace(CALM, strips=1, widest_strip_in=9, is_quarter_sawn=True)
    assert flatness(board).level is Level.STAYS
    assert flatness(board).cup_in == 0


@given(st.floats(0.1, 1), st.floats(0.1, 1), st.floats(2, 12))
def test_a_thinner_floor_never_makes_it_lie_flatter(one, other, strip_in):
    thin, thick = sorted([one, other])
    facts = replace(CALM, widest_strip_in=strip_in)
    levels = [ORDER.index(flatness(replace(facts, floor_in=floor)).level) for floor in (thin, thick)]
    assert levels[0] >= levels[1]


@given(st.floats(1, 12), st.floats(1, 12))
def test_a_wider_board_cups_more_with_its_square(one, other):
    cups = [flatness(replace(CALM, widest_strip_in=width)).cup_in for width in (one, other)]
    assert cups[0] / cups[1] == pytest.approx((one / other) ** 2)


def test_a_floor_has_a_thickness():
    with pytest.raises(PlannerError, match="floor is more than 0"):
        replace(CALM, floor_in=0)


@pytest.mark.parametrize(("percent", "days"), [(7.5, 0), (8.4, 0), (10, 10), (12, 14), (20, 14), (4, 14)])
def test_boards_far_from_the_shops_moisture_rest_for_one_to_two_weeks(percent, days):
    assert rest_days(percent, 8) == days


def test_strips_of_unlike_moisture_are_told():
    said = moisture_findings([("board 1", 6.9), ("board 2", 9.4)], 8)
    assert any("2.5 points of moisture apart" in each for each in said)
    assert any("board 2 is at 9.4 %, 1.4 points wetter" in each for each in said)
    assert moisture_findings([("board 1", 7.9), ("board 2", 8.2)], 8) == ()
