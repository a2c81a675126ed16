from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import PlannerError
from planner.trade.outlines import outline_of

sides = st.floats(0.5, 40)


def area(outline):
    """By the shoelace formula: positive where the outline runs counter-clockwise."""
    return sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairwise([*outline, outline[0]])) / 2


def box(outline):
    xs, ys = zip(*outline, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def test_a_rectangle_without_a_radius_has_four_corners():
    assert outline_of("rectangle", 10, 6, 0, []) == ((0, 0), (10, 0), (10, 6), (0, 6))


def test_round_corners_take_away_what_a_circle_leaves_of_its_square():
    assert area(outline_of("rectangle", 10, 6, 1, [])) == pytest.approx(60 - (4 - 3.14159), abs=0.03)


def test_a_radius_larger_than_half_the_width_makes_round_ends():
    assert outline_of("rectangle", 10, 6, 50, []) == outline_of("rectangle", 10, 6, 3, [])


def test_an_oval_as_long_as_wide_is_a_circle():
    assert all((x - 5) ** 2 + (y - 5) ** 2 == pytest.approx(25) for x, y in outline_of("oval", 10, 10, 0, []))


def test_a_regular_hexagon_has_six_equal_sides():
    outline = outline_of("hexagon", 10, 10 * 3**0.5 / 2, 0, [])
    sides = [((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5 for (x1, y1), (x2, y2) in pairwise([*outline, outline[0]])]
    assert sides == pytest.approx([5] * 6)


def test_a_free_outline_is_scaled_to_its_size():
    assert outline_of("free", 10, 6, 0, [[0, 0], [1, 0], [0.5, 1]]) == ((0, 0), (10, 0), (5, 6))


@given(st.sampled_from(["rectangle", "oval", "hexagon"]), sides, sides, st.floats(0, 30))
def test_an_outline_fills_its_box_and_runs_counter_clockwise(shape, length_in, width_in, radius_in):
    outline = outline_of(shape, length_in, width_in, radius_in, [])
    assert box(outline) == pytest.approx((0, 0, length_in, width_in), abs=1e-9)
    assert 0.7 * length_in * width_in <= area(outline) <= length_in * width_in * 1.000001


@pytest.mark.parametrize(
    ("shape", "size", "points", "said"),
    [
        ("star", (5, 5), [], "“star” is no shape"),
        ("oval", (0, 5), [], "An outline of 0 × 5 in has no inside"),
        ("free", (5, 5), [[0, 0], [1, 1]], "3 points or more, not 2"),
        ("free", (5, 5), [[0, 0], [1, 1], [2, 0]], r"The point \[2, 0\]"),
        ("free", (5, 5), [[0, 0], [1, 1], [float("nan"), 0]], r"The point \[nan, 0\]"),
    ],
)
def test_an_outline_that_makes_no_sense_is_refused(shape, size, points, said):
    with pytest.raises(PlannerError, match=said):
        outline_of(shape, *size, 0, points)
