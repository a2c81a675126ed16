"""What of a plan reaches the rows, where it can't place everything."""

from datetime import timedelta

import pytest

from shop.plans import services
from shop.plans.models import Expectation, PlannedStep
from shop.plans.search import search
from shop.stations.models import Skill
from tests.shop.makers import MONDAY, make_design, make_line, make_person, make_workplaces

pytestmark = pytest.mark.django_db


def test_what_nobody_can_do_is_written_with_its_reason_and_the_order_is_expected_never():
    make_workplaces()
    make_person("Ada").skills.filter(kind=Skill.Kind.PACKING).delete()
    make_line(design=make_design())
    services.replan(seconds=0, search=search, at=MONDAY)
    [left_out] = PlannedStep.objects.filter(starts_at=None)
    assert (left_out.step.kind, left_out.ends_at, left_out.person) == ("pack", None, None)
    assert left_out.why
    assert Expectation.objects.get().ready_at is None


def test_what_is_placed_is_written_with_its_person_its_stations_and_its_length():
    make_workplaces()
    ada = make_person("Ada")
    make_line(design=make_design())
    services.replan(seconds=0, search=search, at=MONDAY)
    router = PlannedStep.objects.get(step__kind="router")
    assert router.person == ada
    assert [station.role for station in router.stations.all()] == ["router"]
    assert router.ends_at - router.starts_at == timedelta(minutes=router.step.minutes)
