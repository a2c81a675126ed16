"""Begun steps as the planner hears of them: as they really went."""

from datetime import timedelta
from zoneinfo import ZoneInfo

import pytest

from planner import Need, Segment
from shop.floor import services
from shop.plans.handoff.clock import Clock
from shop.plans.handoff.standing import OVERRUN_MINUTES, standing_steps
from tests.shop.makers import MONDAY, make_person, make_piece, make_step

pytestmark = pytest.mark.django_db
CLOCK = Clock.starting(MONDAY, ZoneInfo("America/Chicago"))
NINE = CLOCK.minute(MONDAY)
GLUE = ((20, "hands"), (60, "alone"))


def begun(minutes_ago=0, done_after=None):
    step = make_step(make_piece(), segments=GLUE)
    services.begin(step, by=make_person(), at=MONDAY - timedelta(minutes=minutes_ago))
    if done_after:
        services.tick(step, by=None, at=MONDAY - timedelta(minutes=minutes_ago - done_after))
    step.refresh_from_db()
    [standing] = standing_steps([step], CLOCK, NINE)
    return standing


def test_a_step_that_goes_as_planned_keeps_its_minutes():
    assert begun(minutes_ago=5).segments == (Segment(20, Need.HANDS), Segment(60, Need.ALONE))


def test_a_ticked_step_took_what_it_took_and_then_stands_alone():
    assert begun(minutes_ago=50, done_after=35).segments == (Segment(35, Need.HANDS), Segment(60, Need.ALONE))


def test_a_step_that_should_be_over_is_expected_to_take_a_little_longer():
    worked, _ = begun(minutes_ago=45).segments
    assert worked.minutes == 45 + OVERRUN_MINUTES


def test_a_begun_step_says_when_it_began():
    assert begun(minutes_ago=5).begun.start == NINE - 5
