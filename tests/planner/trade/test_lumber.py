"""Boards measured and bought."""

from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import PlannerError
from planner.trade.lumber import (
    QUARTERS,
    FinishedPart,
    board_feet,
    clear_fraction,
    in_grade,
    is_sold_so_thick,
    quarter_for,
    rough_in,
    surface_measure,
    surface_measures,
    to_buy,
    true_board_feet,
)

widths_in = st.integers(8, 200).map(lambda sixteenths: sixteenths / 16)
lengths_ft = st.floats(1, 20)


@given(widths_in, lengths_ft)
def test_surface_measure_is_within_half_a_foot_of_the_true_one(width_in, length_ft):
    assert abs(surface_measure(width_in, length_ft) - width_in * int(length_ft) / 12) <= 0.5


@given(st.lists(st.tuples(widths_in, st.integers(1, 20)), max_size=30))
def test_a_pile_measures_within_half_a_foot_a_board_and_halves_cancel(boards):
    halves = [(width, length) for width, length in boards if (width * length / 12) % 1 == 0.5]
    true = sum(width * length / 12 for width, length in halves)
    assert sum(surface_measures(halves)) - true == (0.5 if len(halves) % 2 else 0)


def test_only_halves_make_the_next_half_go_the_other_way():
    assert surface_measures([(9, 6), (8, 12), (9, 6), (9, 6)]) == (5, 8, 4, 5)


def test_part_of_a_foot_of_length_is_not_paid():
    assert surface_measure(12, 8.99) == 8


def test_thin_stock_is_paid_as_an_inch():
    assert board_feet(4, 0.5) == board_feet(4, 1) == 4
    assert true_board_feet(144, 1, 0.25) == 1


@given(st.floats(0.1, 3.75), st.floats(0, 0.25))
def test_the_quarter_for_a_thickness_gives_it_once_planed_and_the_next_thinner_does_not(thickness_in, planing_in):
    place = QUARTERS.index(quarter_for(thickness_in, planing_in=planing_in))
    assert is_sold_so_thick(thickness_in, planing_in=planing_in)
    assert rough_in(QUARTERS[place]) - planing_in >= thickness_in - 1e-5
    assert place == 0 or rough_in(QUARTERS[place - 1]) - planing_in < thickness_in


def test_more_planed_off_wants_thicker_boards():
    part = FinishedPart(144, 10, 0.75)
    assert to_buy([part], waste_fraction=0) == {"4/4": 10}
    assert to_buy([part], planing_in=0.3, waste_fraction=0) == {"5/4": 13}


def test_what_no_board_is_thick_enough_for_is_said_with_what_to_do():
    assert not is_sold_so_thick(4)
    with pytest.raises(PlannerError, match=r"thick enough for 4 in: .* 16/4 leaves 3 13/16 in; glue it up"):
        quarter_for(4)


@given(st.integers(1, 500), st.sampled_from(["FAS", "No. 1 Common", "No. 2 Common"]), st.floats(0, 1))
def test_a_grade_is_bought_until_it_promises_the_clear_wood_and_never_less_than_with_waste(feet, grade, waste):
    bought = in_grade(feet, grade, waste_fraction=waste)
    assert bought >= feet
    assert bought * clear_fraction(grade) >= feet / (1 + waste) - 1e-4
    assert bought - 1 < max(feet, feet / (1 + waste) / clear_fraction(grade))


def test_what_to_buy_is_told_by_quarter_with_waste_on_top():
    parts = [FinishedPart(144, 10, 0.75), FinishedPart(144, 10, 1.0, quantity=2), FinishedPart(10, 10, 1.5, quantity=0)]
    assert to_buy(parts, waste_fraction=0) == {"4/4": 10, "5/4": 25}
    assert to_buy(parts, waste_fraction=0.2) == {"4/4": 12, "5/4": 30}


@pytest.mark.parametrize(
    "refused",
    [
        lambda: surface_measure(0, 8),
        lambda: surface_measure(6, inf),
        lambda: board_feet(4, nan),
        lambda: true_board_feet(96, -1, 1),
        lambda: quarter_for(3.9),
        lambda: rough_in("3/4"),
        lambda: quarter_for(1, planing_in=-0.1),
        lambda: is_sold_so_thick(0),
        lambda: in_grade(10, "FAS", waste_fraction=-1),
        lambda: clear_fraction("Select and a bit"),
        lambda: FinishedPart(10, 10, 0),
        lambda: FinishedPart(10, 10, 1, -1),
        lambda: to_buy([], waste_fraction=-0.1),
    ],
)
def test_what_makes_no_sense_is_refused_in_one_sentence(refused):
    with pytest.raises(PlannerError, match=r"\.$"):
        refused()
