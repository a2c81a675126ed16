"""A step as stretches by the clock."""

from datetime import timedelta

import pytest

from shop.day.stretches import Placed, stretches
from shop.floor.models import Step, Tick
from shop.floor.services import begin
from tests.shop.makers import MONDAY, make_step

pytestmark = pytest.mark.django_db
LOAD = ((12, "hands"), (30, "watch"), (6, "hands"))
MINUTE = timedelta(minutes=1)


def said(step: Step, *, at=MONDAY, changeover: int = 0) -> list[tuple[str, int, int]]:
    placed = Placed(step, step.begun_at or MONDAY, None, changeover)
    return [
        (each.need, (each.starts_at - MONDAY) // MINUTE, (each.ends_at - MONDAY) // MINUTE)
        for each in stretches(placed, at)
    ]


def test_a_planned_step_runs_through_its_stretches():
    assert said(make_step(segments=LOAD)) == [("hands", 0, 12), ("watch", 12, 42), ("hands", 42, 48)]


def test_the_bit_is_changed_before_the_step_starts():
    assert said(make_step(segments=LOAD), changeover=4)[0] == ("hands", -4, 12)


def test_a_begun_step_runs_from_when_it_was_begun():
    step = begin(make_step(segments=LOAD), by=None, at=MONDAY + 10 * MINUTE)
    assert said(step, at=MONDAY + 11 * MINUTE) == [("hands", 10, 22), ("watch", 22, 52), ("hands", 52, 58)]


def test_what_nobody_has_ticked_goes_on_until_now():
    step = begin(make_step(segments=LOAD), by=None, at=MONDAY)
    assert said(step, at=MONDAY + 70 * MINUTE)[-1] == ("hands", 42, 70)


def test_a_glue_up_that_nobody_ticked_stays_at_the_hands_until_now():
    step = begin(make_step(segments=((20, "hands"), (60, "alone"))), by=None, at=MONDAY)
    assert said(step, at=MONDAY + 30 * MINUTE) == [("hands", 0, 30), ("alone", 30, 90)]


def test_a_done_step_is_as_long_as_it_really_took_and_then_stands_alone():
    step = begin(make_step(segments=((20, "hands"), (60, "alone"))), by=None, at=MONDAY)
    Tick.objects.create(step=step, at=MONDAY + 33 * MINUTE, minutes=33)
    assert said(Step.objects.get(pk=step.pk)) == [("hands", 0, 33), ("alone", 33, 93)]


def test_the_buttons_stand_where_the_hands_are():
    waiting = stretches(Placed(make_step(segments=LOAD), MONDAY, None), MONDAY)
    step = begin(make_step(segments=LOAD), by=None, at=MONDAY)
    going = stretches(Placed(step, MONDAY, None), MONDAY)
    assert [each.holds_the_verbs for each in waiting] == [True, False, False]
    assert [each.holds_the_verbs for each in going] == [False, False, True]


def test_a_step_that_should_have_begun_is_late():
    assert Placed(make_step(), MONDAY, None).is_late(MONDAY + MINUTE)
    assert not Placed(make_step(), MONDAY, None).is_late(MONDAY)
