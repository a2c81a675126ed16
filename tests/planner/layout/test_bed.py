from itertools import combinations, permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import MakingError
from planner.layout.bed import Oblong, check_fits, lay_out

BED = (48.0, 24.0)
HAIR_IN = 1e-5
sizes = st.tuples(st.floats(2, 30), st.floats(2, 24))


def blanks(*sizes):
    return [Oblong(f"p{n}", "Gull tray", *size) for n, size in enumerate(sizes, start=1)]


def box(blank, place):
    length, width = (blank.width_in, blank.length_in) if place.turned else (blank.length_in, blank.width_in)
    return place.x_in, place.y_in, place.x_in + length, place.y_in + width


def apart(one, other):
    """How far two boxes are from each other, along the bed or across it."""
    return max(one[0] - other[2], other[0] - one[2], one[1] - other[3], other[1] - one[3])


@given(st.lists(sizes, min_size=1, max_size=9), st.floats(0, 2))
def test_blanks_lie_on_the_bed_and_keep_the_gap(wanted, gap_in):
    wanted = blanks(*wanted)
    places = lay_out(wanted, BED, gap_in)
    if places is None:
        return
    boxes = [box(blank, place) for blank, place in zip(wanted, places, strict=True)]
    assert [place.id for place in places] == [blank.id for blank in wanted]
    assert all(min(x, y) >= 0 and right <= 48 + HAIR_IN and high <= 24 + HAIR_IN for x, y, right, high in boxes)
    assert all(apart(one, other) >= gap_in - HAIR_IN for one, other in combinations(boxes, 2))


@given(st.floats(0.5, 60), st.floats(0.5, 60))
def test_a_single_blank_has_a_place_exactly_where_it_fits(length_in, width_in):
    (blank,) = blanks((length_in, width_in))
    fits = max(length_in, width_in) <= 48 and min(length_in, width_in) <= 24
    assert (lay_out([blank], BED, 0.75) is not None) == fits


@pytest.mark.parametrize(
    ("count", "size", "gap_in"),
    [(8, (11.25, 11.25), 1.0), (4, (16.5, 10.5), 0.75), (12, (11.5, 7.5), 0.5), (32, (6, 6), 0), (2, (24, 24), 0)],
)
def test_a_bed_that_can_be_full_is_full(count, size, gap_in):
    assert lay_out(blanks(*[size] * count), BED, gap_in)


def test_one_more_than_a_full_bed_has_no_place():
    assert lay_out(blanks(*[(6, 6)] * 33), BED, 0) is None


def test_a_blank_as_long_as_the_bed_is_wide_may_be_turned():
    wanted = blanks((24, 16), (24, 16), (24, 16))
    assert all(place.turned for place in lay_out(wanted, BED, 0))


def test_the_order_of_the_blanks_makes_no_difference():
    wanted = blanks((16, 10), (12, 12), (5, 5), (22, 7))
    layouts = {frozenset(lay_out(order, BED, 0.75)) for order in permutations(wanted)}
    assert len(layouts) == 1


def test_nothing_lies_on_the_bed_when_nothing_is_to_be_cut():
    assert lay_out([], BED, 0.75) == ()


@pytest.mark.parametrize("size", [(48, 24), (24, 48), (10, 48)])
def test_a_blank_that_fits_either_way_round_passes(size):
    check_fits(*blanks(size), BED)


def test_a_blank_larger_than_the_bed_is_refused_naming_the_design_and_the_bed():
    said = r"^Gull tray needs a blank of 50 1/2 × 10 in, which the bed of 48 × 24 in doesn't take either way round\.$"
    with pytest.raises(MakingError, match=said):
        check_fits(*blanks((50.5, 10)), BED)
