"""The verbs of the floor: what a person says happened is kept, once."""

from datetime import timedelta

import pytest

from shop.floor import services
from shop.floor.models import Piece, Step, Tick
from shop.floor.services import FloorError
from shop.stock.models import Bit, Blank
from tests.shop.makers import (
    INCH,
    MONDAY,
    make_bit,
    make_line,
    make_person,
    make_piece,
    make_plan,
    make_planned,
    make_species,
    make_station,
    make_step,
)

pytestmark = pytest.mark.django_db
LATER = MONDAY + timedelta(minutes=25)


def test_every_unit_becomes_one_piece_however_often_one_asks():
    line = make_line(quantity=3)
    services.make_pieces([line])
    services.make_pieces([line])
    assert [piece.number for piece in line.pieces.all()] == [1, 2, 3]


def test_a_line_that_asks_for_fewer_keeps_only_what_has_begun():
    line = make_line(quantity=3)
    _, _, third = services.make_pieces([line])
    services.begin(make_step(third), by=make_person(), at=MONDAY)
    line.quantity = 1
    line.save()
    services.make_pieces([line])
    assert [piece.number for piece in line.pieces.all()] == [1, 3]


def test_of_two_people_who_begin_a_step_the_first_stands():
    first, second, step = make_person(), make_person(), make_step(make_piece())
    services.begin(step, by=first, at=MONDAY)
    services.begin(step, by=second, at=LATER)
    assert Step.objects.get(pk=step.pk).begun_by == first


def test_of_two_ticks_the_first_stands():
    person, step = make_person(), make_step(make_piece())
    services.begin(step, by=person, at=MONDAY)
    services.tick(step, by=person, at=LATER)
    services.tick(step, by=person, at=LATER + timedelta(hours=1))
    assert [(tick.at, tick.minutes) for tick in Tick.objects.all()] == [(LATER, 25)]


def test_minutes_that_a_person_gives_are_kept_as_given():
    assert services.tick(make_step(make_piece()), by=make_person(), at=MONDAY, minutes=33).minutes == 33


def test_a_step_ticked_without_a_start_began_as_long_ago_as_planned():
    step = make_step(make_piece(), segments=((20, "hands"), (60, "alone")))
    services.tick(step, by=make_person(), at=MONDAY)
    assert Step.objects.get(pk=step.pk).begun_at == MONDAY - timedelta(minutes=20)


def test_clamps_stay_on_after_the_hands_are_done():
    step = make_step(make_piece(), segments=((20, "hands"), (60, "alone")))
    services.tick(step, by=make_person(), at=MONDAY)
    assert Step.objects.get(pk=step.pk).ended_at == MONDAY + timedelta(minutes=60)


def test_undo_takes_back_the_tick_then_the_start():
    step = make_step(make_piece())
    services.tick(step, by=make_person(), at=MONDAY)
    assert services.undo(step).state == "going"
    assert services.undo(step).state == "waiting"


def test_a_step_that_work_went_on_after_is_not_undone():
    piece, person = make_piece(), make_person()
    sand, oil = make_step(piece), make_step(piece, stage="oil")
    services.tick(sand, by=person, at=MONDAY)
    services.begin(oil, by=person, at=LATER)
    with pytest.raises(FloorError, match="undo the later step first"):
        services.undo(sand)


def test_a_spoilt_piece_is_made_again_and_leaves_the_steps_that_wait():
    piece, other = make_piece(), make_piece()
    cut, sand = make_step(piece, other, stage="router"), make_step(piece, other)
    services.begin(cut, by=make_person(), at=MONDAY)
    again = services.spoil(piece, why="tear-out", at=LATER)
    assert (again.line, again.number, again.made_again_for) == (piece.line, piece.number, piece)
    assert list(sand.pieces.all()) == [other]
    assert set(cut.pieces.all()) == {piece, other}


def test_a_piece_is_spoilt_once():
    piece = make_piece()
    assert services.spoil(piece, why="", at=MONDAY) == services.spoil(piece, why="", at=LATER)
    assert Piece.objects.count() == 2


def test_a_blank_is_used_up_when_its_load_begins_and_comes_back_on_undo():
    piece = make_piece()
    blank = Blank.objects.create(
        species=make_species(), length_nm=INCH * 14, width_nm=INCH * 9, thickness_nm=INCH, quantity=2
    )
    step = make_step(piece, stage="router", about={"blanks": {f"p{piece.pk}": str(blank.pk)}})
    services.begin(step, by=make_person(), at=MONDAY)
    assert Blank.objects.get().quantity == 1
    services.undo(step)
    assert Blank.objects.get().quantity == 2


def test_the_last_bit_of_a_load_stays_in_the_spindle():
    router, bowl, cutter = make_station(), make_bit("bowl"), make_bit("cutter")
    step = make_step(make_piece(), stage="router", about={"bits": [bowl.name, cutter.name]})
    services.begin(step, by=make_person(), at=MONDAY, stations=[router])
    assert Bit.objects.get(spindle=router) == cutter


def test_undo_puts_the_bit_from_before_back_into_the_spindle():
    router, bowl, cutter = make_station(), make_bit("bowl"), make_bit("cutter")
    Bit.objects.filter(pk=bowl.pk).update(spindle=router)
    step = make_step(make_piece(), stage="router", about={"bits": [cutter.name]})
    services.undo(services.begin(step, by=make_person(), at=MONDAY, stations=[router]))
    assert Bit.objects.get(spindle=router) == bowl


def test_undo_leaves_a_bit_that_a_later_load_put_in():
    router, bowl, cutter = make_station(), make_bit("bowl"), make_bit("cutter")
    first, second = (make_step(make_piece(), stage="router", about={"bits": [bit.name]}) for bit in (bowl, cutter))
    for load in (first, second):
        services.begin(load, by=make_person(), at=MONDAY, stations=[router])
    services.undo(first)
    assert Bit.objects.get(spindle=router) == cutter


def test_undo_gives_back_no_blank_that_was_not_there_to_take():
    blank = Blank.objects.create(
        species=make_species(), length_nm=INCH * 14, width_nm=INCH * 9, thickness_nm=INCH, quantity=1
    )
    pieces = make_piece(), make_piece()
    step = make_step(*pieces, stage="router", about={"blanks": {f"p{piece.pk}": str(blank.pk) for piece in pieces}})
    services.undo(services.begin(step, by=make_person(), at=MONDAY))
    assert Blank.objects.get().quantity == 1


def chain(*pieces: Piece, stages: tuple[str, ...] = ("cut", "router", "sand", "pack")) -> list[Step]:
    """Steps of these pieces, planned an hour apart."""
    plan, steps = make_plan(), [make_step(*pieces, stage=stage) for stage in stages]
    for hour, step in enumerate(steps):
        make_planned(plan, step, MONDAY + timedelta(hours=hour))
    return steps


def state(*steps: Step) -> list[str]:
    return [Step.objects.get(pk=step.pk).state for step in steps]


def test_what_must_be_over_before_a_step_is_ticked_when_that_begins():
    cut, router, sand, pack = chain(make_piece())
    services.tick(cut, by=None, at=MONDAY)
    begun = services.begin(sand, by=make_person(), at=MONDAY + timedelta(hours=2))
    assert services.taken_as_done(begun) == [router]
    assert state(cut, router, sand, pack) == ["done", "done", "going", "waiting"]
    router.refresh_from_db()
    assert (router.tick.minutes, router.tick.at) == (20, MONDAY + timedelta(hours=2))


def test_a_step_under_way_is_ticked_when_the_next_begins():
    cut, router, *_ = chain(make_piece())
    services.begin(cut, by=None, at=MONDAY)
    services.begin(router, by=None, at=LATER)
    cut.refresh_from_db()
    assert (cut.tick.at, cut.tick.minutes) == (LATER, 25)


def test_what_another_piece_of_the_same_batch_waits_for_is_over_too():
    one, other = make_piece(), make_piece()
    cut, router = chain(other, stages=("cut", "router"))
    sand, pack = make_step(one, other), make_step(one, stage="pack")
    for hour, step in ((3, sand), (4, pack)):
        make_planned(cut.planned.get().plan, step, MONDAY + timedelta(hours=hour))
    services.tick(pack, by=None, at=MONDAY)
    assert state(cut, router, sand, pack) == ["done"] * 4


def test_undo_of_a_beginning_takes_back_what_was_ticked_with_it():
    cut, router, sand, pack = chain(make_piece())
    services.begin(cut, by=None, at=MONDAY)
    services.begin(pack, by=None, at=LATER)
    services.undo(Step.objects.get(pk=pack.pk))
    assert state(cut, router, sand, pack) == ["going", "waiting", "waiting", "waiting"]


def test_steps_taken_as_done_lie_between_what_was_said_before_and_the_present():
    cut, router, sand, pack = chain(make_piece())
    services.tick(cut, by=None, at=MONDAY, minutes=1)
    services.begin(pack, by=None, at=MONDAY + timedelta(minutes=9))
    begun = list(Step.objects.order_by("begun_at"))
    assert begun == [cut, router, sand, pack]
    assert [step.begun_at for step in begun[1:3]] == [MONDAY + timedelta(minutes=minute) for minute in (-1, 4)]
