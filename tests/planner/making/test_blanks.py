from dataclasses import replace

import pytest

from planner.making.blanks import allot_blanks, blank_for, clamps_for
from planner.making.pieces import Blank, Piece
from tests.planner.making.makers import make_design

TRAY = make_design(size=(16, 10))


def piece(name, design=TRAY, species="walnut"):
    return Piece(name, "o1", "l1", design, species)


def blank(name="b", species="walnut", size=(16.5, 10.5), thickness_in=0.75, quantity=1):
    return Blank(name, species, *size, thickness_in, quantity)


def test_a_blank_is_as_large_as_the_outline_and_its_margin():
    wanted = blank_for(piece("p1"))
    assert (wanted.length_in, wanted.width_in) == (16.5, 10.5)


def test_a_workshop_with_a_wider_margin_wants_larger_blanks_and_clamps_for_them():
    tray = replace(TRAY, margin_in=1)
    assert blank_for(piece("p1", tray)).length_in == 18
    assert allot_blanks([piece("p1", tray)], [blank()]) == {}
    assert clamps_for(replace(tray, length_in=23)) == clamps_for(replace(TRAY, length_in=23)) + 1


def test_the_first_pieces_get_what_is_in_stock():
    assert allot_blanks([piece("p1"), piece("p2"), piece("p3")], [blank(quantity=2)]) == {"p1": "b", "p2": "b"}


def test_the_smallest_blank_that_will_do_is_taken():
    assert allot_blanks([piece("p1")], [blank("large", size=(20, 12)), blank("right")]) == {"p1": "right"}


@pytest.mark.parametrize(
    "other",
    [{"species": "maple"}, {"thickness_in": 1}, {"size": (16.4, 10.5)}, {"size": (10.5, 16.5)}, {"quantity": 0}],
)
def test_wood_thickness_size_and_grain_must_be_right(other):
    assert allot_blanks([piece("p1")], [blank(**other)]) == {}


@pytest.mark.parametrize(("length_in", "clamps"), [(3, 2), (13.5, 2), (13.6, 3), (23.5, 3), (24, 4)])
def test_a_longer_panel_takes_more_clamps(length_in, clamps):
    assert clamps_for(make_design(size=(length_in, 8))) == clamps
