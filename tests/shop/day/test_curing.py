"""What cures, since when, and when it needs a hand."""

from datetime import timedelta

import pytest

from shop.day.curing import read_curing
from shop.day.gauge import State
from shop.floor.models import Piece, Step, Tick
from shop.floor.services import begin
from tests.shop.makers import MONDAY, make_piece, make_plan, make_planned, make_rest, make_step

pytestmark = pytest.mark.django_db
HOUR = timedelta(hours=1)
CLAMPED = ((20, "hands"), (60, "alone"))


def done(step: Step, at=MONDAY) -> Step:
    begin(step, by=None, at=at - timedelta(minutes=step.attended_minutes))
    Tick.objects.create(step=step, at=at, minutes=step.attended_minutes)
    return step


def oiled(plan, *, piece: Piece | None = None, at=MONDAY) -> tuple[Step, Step]:
    """An oiling done, and its wiping planned: no sooner than 12 h after, before 16."""
    piece = piece or make_piece()
    oil, wipe = done(make_step(piece, stage="oil"), at), make_step(piece, stage="wipe")
    make_planned(plan, oil, at)
    make_planned(plan, wipe, at + 13 * HOUR)
    make_rest(plan, oil, wipe, 720, 960)
    return oil, wipe


@pytest.mark.parametrize(
    ("hours", "part", "state"),
    [(1, "early", State.EARLY), (12, "touch", State.NOW), (16, "touch", State.NOW), (17, "touch", State.LATE)],
)
def test_oil_is_let_be_then_wiped_then_too_late(hours, part, state):
    plan = make_plan()
    _, wipe = oiled(plan)
    [wait] = getattr(read_curing(plan, MONDAY + hours * HOUR), part)
    assert (wait.then, wait.gauge.state, wait.place) == (wipe, state, "soaking")


def test_a_missed_window_says_what_to_do():
    plan = make_plan()
    oiled(plan)
    assert "fresh oil" in read_curing(plan, MONDAY + 17 * HOUR).touch[0].remedy
    assert read_curing(plan, MONDAY + 13 * HOUR).touch[0].remedy == ""


def test_the_next_band_to_shut_comes_first():
    plan = make_plan()
    _, later = oiled(plan, at=MONDAY)
    _, sooner = oiled(plan, at=MONDAY - 2 * HOUR)
    assert [wait.then for wait in read_curing(plan, MONDAY + 12 * HOUR).touch] == [sooner, later]


def test_what_is_wiped_is_no_longer_soaking():
    plan = make_plan()
    _, wipe = oiled(plan)
    done(wipe, MONDAY + 13 * HOUR)
    curing = read_curing(plan, MONDAY + 14 * HOUR)
    assert [curing.touch, curing.early, curing.ready] == [[], [], []]


def test_what_is_being_wiped_can_still_be_ticked_and_is_not_too_late():
    plan = make_plan()
    _, wipe = oiled(plan)
    begin(wipe, by=None, at=MONDAY + 15 * HOUR)
    [wait] = read_curing(plan, MONDAY + 17 * HOUR).touch
    assert (wait.then.state, wait.gauge.state) == ("going", State.NOW)


def glued(plan) -> tuple[Step, Step, Step]:
    piece = make_piece()
    glue = make_step(piece, stage="glue", segments=CLAMPED)
    unclamp, flatten = make_step(piece, stage="unclamp"), make_step(piece, stage="flatten")
    for step, hour in ((glue, 0), (unclamp, 2), (flatten, 20)):
        make_planned(plan, step, MONDAY + hour * HOUR)
    make_rest(plan, glue, flatten, 1080)
    return done(glue), unclamp, flatten


def test_a_glue_up_stands_in_clamps_for_an_hour_and_then_wants_them_off():
    plan = make_plan()
    _, unclamp, _ = glued(plan)
    [early] = read_curing(plan, MONDAY + HOUR / 2).early
    [open_] = read_curing(plan, MONDAY + HOUR).touch
    assert (early.place, early.then, open_.then) == ("in clamps", unclamp, unclamp)


def test_out_of_its_clamps_the_panel_rests_until_it_may_be_planed():
    plan = make_plan()
    _, unclamp, flatten = glued(plan)
    done(unclamp, MONDAY + 2 * HOUR)
    [wait] = read_curing(plan, MONDAY + 3 * HOUR).early
    assert (wait.place, wait.then, wait.gauge.opens_at) == ("resting", flatten, MONDAY + 19 * HOUR)
    [ready] = read_curing(plan, MONDAY + 20 * HOUR).ready
    assert ready.then == flatten


def test_a_glue_up_that_nobody_ticked_is_in_clamps_when_its_hands_should_be_off():
    glue = begin(make_step(make_piece(), stage="glue", segments=CLAMPED), by=None, at=MONDAY)
    plan = make_plan()
    assert read_curing(plan, MONDAY + timedelta(minutes=10)).early == []
    [wait] = read_curing(plan, MONDAY + timedelta(minutes=30)).early
    assert (wait.step, wait.gauge.since) == (glue, MONDAY + timedelta(minutes=20))


def test_what_is_dry_and_goes_nowhere_leaves_the_page():
    done(make_step(make_piece(), stage="wipe", segments=((5, "hands"), (240, "alone"))))
    plan = make_plan()
    assert read_curing(plan, MONDAY + HOUR).early
    curing = read_curing(plan, MONDAY + 5 * HOUR)
    assert not [*curing.touch, *curing.early, *curing.ready]


def test_one_coat_before_two_lots_is_one_gauge():
    plan = make_plan()
    oil, wipe = oiled(plan)
    other = make_step(make_piece(), stage="wipe")
    make_planned(plan, other, MONDAY + 14 * HOUR)
    make_rest(plan, oil, other, 720, 960)
    [wait] = read_curing(plan, MONDAY + HOUR).early
    assert (wait.then, wait.also_then) == (wipe, (other,))


def test_without_a_plan_what_stands_in_clamps_is_still_shown():
    done(make_step(make_piece(), stage="glue", segments=CLAMPED))
    assert len(read_curing(None, MONDAY).early) == 1
