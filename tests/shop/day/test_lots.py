"""The paint and detail queue, as it is read: what can be done now, what waits, what comes next."""

from datetime import timedelta

import pytest

from shop.day.lots import read_detail
from shop.floor import services
from shop.orders.models import Line
from shop.plans.models import Plan
from tests.shop.makers import (
    MONDAY,
    make_line,
    make_person,
    make_piece,
    make_plan,
    make_planned,
    make_rest,
    make_step,
)

pytestmark = pytest.mark.django_db
MINUTE, HOUR = timedelta(minutes=1), timedelta(hours=1)


@pytest.fixture
def plan(db) -> Plan:
    return make_plan()


def make_lot(plan: Plan, kind: str = "paint", *pieces, at=MONDAY, minutes: int = 10, **about):
    step = make_step(*(pieces or [make_piece()]), stage=kind, segments=((minutes, "hands"),), about=about)
    make_planned(plan, step, at)
    return step


def steps(lots) -> list:
    return [lot.step for lot in lots]


def test_a_lot_that_waits_for_nothing_can_be_begun(plan):
    mask = make_lot(plan, "mask")
    assert steps(read_detail(plan, None, MONDAY).open) == [mask]


def test_paint_waits_until_the_seal_coat_is_done(plan):
    seal = make_lot(plan, "seal")
    paint = make_lot(plan, "paint", *seal.pieces.all(), at=MONDAY + HOUR)
    queue = read_detail(plan, None, MONDAY)
    assert steps(queue.waiting) == [paint]
    assert steps(queue.waiting[0].undone) == [seal]


def test_paint_waits_until_the_seal_coat_has_dried(plan):
    seal = make_lot(plan, "seal")
    paint = make_lot(plan, "paint", *seal.pieces.all(), at=MONDAY + HOUR)
    make_rest(plan, seal, paint, 60, 120)
    services.tick(seal, by=None, at=MONDAY)
    assert steps(read_detail(plan, None, MONDAY + 59 * MINUTE).waiting) == [paint]
    assert steps(read_detail(plan, None, MONDAY + 60 * MINUTE).open) == [paint]


def test_a_lot_says_in_which_window_it_may_be_touched(plan):
    paint = make_lot(plan, "paint")
    peel = make_lot(plan, "peel", *paint.pieces.all(), at=MONDAY + HOUR)
    make_rest(plan, paint, peel, 20, 120)
    services.tick(paint, by=None, at=MONDAY)
    lot = read_detail(plan, None, MONDAY + 30 * MINUTE).open[0]
    assert (lot.opens_at, lot.closes_at) == (MONDAY + 20 * MINUTE, MONDAY + 120 * MINUTE)


def test_a_lot_says_what_must_follow_and_when(plan):
    paint = make_lot(plan, "paint", minutes=10)
    peel = make_lot(plan, "peel", *paint.pieces.all(), at=MONDAY + HOUR)
    make_rest(plan, paint, peel, 20, 120)
    touch = read_detail(plan, None, MONDAY).open[0].touches[0]
    assert (touch.kind, touch.opens_at, touch.closes_at) == ("peel", MONDAY + 30 * MINUTE, MONDAY + 130 * MINUTE)


def test_begun_lots_come_first(plan):
    make_lot(plan, "mask")
    paint = make_lot(plan, "paint", at=MONDAY + HOUR)
    services.begin(paint, by=None, at=MONDAY)
    assert steps(read_detail(plan, None, MONDAY).open)[0] == paint


def test_a_lot_just_done_can_be_seen_for_half_a_day(plan):
    paint = make_lot(plan)
    services.tick(paint, by=None, at=MONDAY)
    assert steps(read_detail(plan, None, MONDAY + HOUR).done) == [paint]
    assert read_detail(plan, None, MONDAY + 13 * HOUR).done == ()


def test_pieces_of_one_line_are_told_together_with_their_text(plan):
    line = make_line(quantity=2, text="Ada & Finn")
    make_lot(plan, "paint", make_piece(line, 1), make_piece(line, 2), make_piece())
    alike = read_detail(plan, None, MONDAY).open[0].alike
    assert [(each.count, each.line.text) for each in alike] == [(2, "Ada & Finn"), (1, "")]


def test_artwork_that_is_only_wanted_is_said(plan):
    make_lot(plan, "laser", make_piece(make_line(artwork=Line.Artwork.WANTED)))
    make_lot(plan, "laser", make_piece(make_line(artwork=Line.Artwork.RECEIVED)))
    assert [lot.is_artwork_missing for lot in read_detail(plan, None, MONDAY).open] == [True, False]


def test_sanding_is_shown_to_whoever_is_planned_for_it(plan):
    person, other = make_person(), make_person()
    sand = make_step(make_piece(), stage="sand")
    make_planned(plan, sand, MONDAY, person=person)
    assert steps(read_detail(plan, person, MONDAY).open) == [sand]
    assert read_detail(plan, other, MONDAY).open == ()
    assert read_detail(plan, None, MONDAY).open == ()


def test_without_a_plan_there_is_nothing_to_paint():
    assert read_detail(None, None, MONDAY).open == ()


def test_fifty_lots_take_no_more_queries_than_five(plan, django_assert_num_queries):
    person = make_person()
    for _ in range(5):
        make_lot(plan)
    with django_assert_num_queries(6):
        read_detail(plan, person, MONDAY)
    for _ in range(45):
        make_lot(plan)
    with django_assert_num_queries(6):
        assert len(read_detail(plan, person, MONDAY).open) == 50
