from itertools import combinations
from math import floor, hypot, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.layout.rows import round_rows

ALL = 10_000


@given(st.floats(1, 5), st.floats(0.5, 20), st.floats(0.5, 20))
def test_rounds_in_rows_lie_inside_and_apart(diameter, length, width):
    corners = round_rows(diameter, (length, width), ALL)
    assert all(0 <= x <= length - diameter + 1e-5 and 0 <= y <= width - diameter + 1e-5 for x, y in corners)
    assert all(hypot(a[0] - b[0], a[1] - b[1]) >= diameter - 1e-5 for a, b in combinations(corners, 2))


@given(st.floats(1, 5), st.floats(5, 25), st.floats(5, 25))
def test_rows_hold_no_fewer_than_a_grid_and_no_fewer_either_way_round(diameter, length, width):
    count = len(round_rows(diameter, (length, width), ALL))
    assert count >= floor(length / diameter) * floor(width / diameter)
    assert count == len(round_rows(diameter, (width, length), ALL))


@pytest.mark.parametrize("rows", [2, 3, 5, 8])
def test_as_many_rows_as_the_width_holds(rows):
    width = 2 + (rows - 1) * sqrt(3)
    assert len(round_rows(2, (21, width), ALL)) >= 10 * rows


def test_no_more_than_wanted_and_near_the_end_of_the_zone():
    corners = round_rows(2, (40, 10), 7)
    assert len(corners) == 7
    assert max(x for x, _ in corners) <= 4


@pytest.mark.parametrize(("zone", "wanted"), [((1.9, 10), 5), ((10, 1.9), 5), ((10, 10), 0)])
def test_where_none_fits_or_is_wanted_there_is_none(zone, wanted):
    assert round_rows(2, zone, wanted) == []
