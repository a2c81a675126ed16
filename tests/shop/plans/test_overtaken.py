"""A plan that lies in the past says so, and another is asked for."""

from datetime import timedelta

import pytest
from django.utils.timezone import now

from shop.plans.models import Job, Plan
from shop.plans.overtaken import ask_if_overtaken
from tests.shop.makers import make_piece, make_plan, make_planned, make_step

pytestmark = pytest.mark.django_db
HOUR = timedelta(hours=1)


@pytest.fixture
def plan(db) -> Plan:
    return make_plan()


def planned(plan: Plan, hours_ago: float, **fields) -> None:
    make_planned(plan, make_step(make_piece(), **fields), now() - hours_ago * HOUR)


def test_the_strip_counts_what_should_have_begun(owner, plan):
    planned(plan, 30)
    planned(plan, 2)
    planned(plan, 2, begun_at=now())
    page = owner.get("/curing/").content.decode()
    assert "2 steps should have begun by now" in page
    assert "Plan again" in page


def test_a_plan_in_the_past_is_made_anew_and_asked_for_once(plan):
    planned(plan, 30)
    assert ask_if_overtaken().because == "time has overtaken the plan"
    assert ask_if_overtaken() is None


@pytest.mark.parametrize(("hours_ago", "fields"), [(0.5, {}), (-1, {}), (30, {"begun_at": now()})])
def test_a_little_late_or_begun_is_no_reason_to_plan_again(plan, hours_ago, fields):
    planned(plan, hours_ago, **fields)
    assert ask_if_overtaken() is None


def test_a_run_that_failed_is_tried_again_only_after_the_grace(plan):
    planned(plan, 30)
    Job.objects.create(state=Job.State.FAILED, finished_at=now())
    assert ask_if_overtaken() is None
    Job.objects.update(asked_at=now() - 2 * HOUR)
    assert ask_if_overtaken() is not None
