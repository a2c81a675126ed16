"""Bits as keys and beds to scale: what a person must be able to tell at a glance."""

import re

import pytest

from shop.day.drawings.bed import bed_of
from shop.day.drawings.bits import key_of, unknown_key
from shop.designs.models import Design
from shop.floor.models import Piece
from shop.orders.models import Line
from shop.stock.models import Bit, Species
from tests.shop.makers import INCH, MONDAY

NUMBER = r"-?\d+\.?\d*"


def bit(shape: str = Bit.Shape.BOWL, diameter_nm: int = INCH * 3 // 4) -> Bit:
    return Bit(name="bit", shape=shape, diameter_nm=diameter_nm)


def piece(pk: int = 1, length: int = 12, width: int = 8, **fields) -> Piece:
    design = Design(pk=pk, name="Gull tray", length_nm=length * INCH, width_nm=width * INCH, shape="rectangle")
    return Piece(pk=pk, line=Line(design=design, species=Species(name="Maple", grain="pores")), **fields)


def bed(*places: dict, **pieces: Piece):
    return bed_of(48 * INCH, 24 * INCH, places, {each.pk: each for each in pieces.values()})


def place(x_in: float = 0, y_in: float = 0, *, turned: bool = False, piece: str = "p1") -> dict:
    return {"piece": piece, "x_in": x_in, "y_in": y_in, "turned": turned}


def corners(points: str) -> set[tuple[float, float]]:
    return {tuple(float(value) for value in point.split(",")) for point in points.split()}


def test_no_two_shapes_of_bit_look_alike():
    keys = [key_of(bit(shape)) for shape in Bit.Shape]
    assert len({(key.outline, key.flutes) for key in keys}) == len(Bit.Shape)


@pytest.mark.parametrize("shape", Bit.Shape)
@pytest.mark.parametrize("sixteenths", [1, 2, 4, 8, 12, 16, 48])
def test_every_bit_stays_inside_its_frame(shape, sixteenths):
    key = key_of(bit(shape, INCH * sixteenths // 16))
    across = [float(x) for x in re.findall(rf"[MLH]({NUMBER})", key.outline)]
    assert min(across) >= 0
    assert max(across) <= 40


def test_a_wider_bit_is_drawn_wider():
    assert key_of(bit(diameter_nm=INCH)).outline != key_of(bit(diameter_nm=INCH // 2)).outline


def test_a_bit_that_left_the_rack_still_has_its_name_and_no_size():
    key = unknown_key("old bit")
    assert (key.name, key.size_nm) == ("old bit", 0)


def test_a_piece_lies_where_the_plan_puts_it_with_the_near_edge_of_the_bed_down():
    drawn = bed(place(2, 3), it=piece()).pieces[0]
    assert corners(drawn.points) == {(20, 210), (140, 210), (140, 130), (20, 130)}


def test_a_turned_piece_takes_its_width_along_the_bed_and_its_grain_turns_with_it():
    drawn = bed(place(2, 3, turned=True), it=piece()).pieces[0]
    assert corners(drawn.points) == {(20, 210), (100, 210), (100, 90), (20, 90)}
    assert drawn.grain_line == "M60 186L60 114"


def test_a_number_stands_in_the_middle_of_its_piece():
    assert bed(place(2, 3), it=piece()).pieces[0].middle == (80, 170)


def test_a_piece_that_is_gone_leaves_its_number_free():
    drawn = bed(place(piece="p1"), place(20, piece="p2"), it=piece(2))
    assert [each.number for each in drawn.pieces] == [2]


def test_a_spoilt_piece_is_struck_out_on_the_drawing():
    assert bed(place(), it=piece(spoilt_at=MONDAY)).pieces[0].is_spoilt
