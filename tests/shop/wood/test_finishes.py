"""How much finish the pieces still take: every coat that nobody has begun, and no other."""

from __future__ import annotations

import pytest
from django.utils.timezone import now

from shop.designs.costing import finish_ml
from shop.wood.finishes import finish_needs
from tests.shop.makers import make_design, make_finish, make_line, make_piece, make_step

pytestmark = pytest.mark.django_db


def test_every_coat_that_is_not_on_yet_is_needed():
    design = make_design(finish=make_finish(coats=3))
    line = make_line(design=design, quantity=2)
    one, other = make_piece(line, 1), make_piece(line, 2)
    a_coat = finish_ml(design) / 3
    assert [(need.pieces, need.ml) for need in finish_needs()] == [(2, pytest.approx(6 * a_coat))]
    make_step(one, other, stage="oil", begun_at=now())
    make_step(one, stage="oil 2", kind="oil", begun_at=now())
    make_step(other, stage="oil 2", kind="oil")
    assert [(need.pieces, need.ml) for need in finish_needs()] == [(2, pytest.approx(3 * a_coat))]


def test_a_piece_that_was_spoilt_takes_all_its_coats_again():
    design = make_design(finish=make_finish(coats=2))
    piece = make_piece(make_line(design=design))
    make_step(piece, stage="oil", begun_at=now())
    piece.spoilt_at = now()
    piece.save()
    assert [need.ml for need in finish_needs()] == [pytest.approx(finish_ml(design))]
