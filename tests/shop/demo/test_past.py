"""Whenever the demo is loaded, work is under way as if two people had been at it for days."""

from datetime import datetime, timedelta

import pytest

from planner import broken_rules, quick_plan
from shop.floor.models import Piece, Step, Tick
from shop.orders.models import Order
from shop.plans.handoff import read_shop
from shop.plans.models import Plan
from tests.shop.demo.conftest import CHICAGO, WEDNESDAY

MOMENTS = [
    WEDNESDAY,
    datetime(2026, 6, 1, 7, 31, tzinfo=CHICAGO),  # Monday, a minute after opening
    datetime(2026, 6, 7, 12, 0, tzinfo=CHICAGO),  # Sunday
    datetime(2026, 11, 3, 23, 30, tzinfo=CHICAGO),  # a night, two days after the clocks changed
]
pytestmark = [
    pytest.mark.django_db,  # or pytest-django makes no test database at all
    pytest.mark.usefixtures("demo"),
    pytest.mark.parametrize("demo", MOMENTS, indirect=True, ids="{:%A %H:%M}".format),
]


def test_panels_rest_before_they_are_machined(demo: datetime):
    problem = read_shop(demo).problem
    rests = [link for link in problem.links if link.min_wait and problem.step[link.before].begun]
    waiting = {link.before for link in rests if not problem.step[link.after].begun}
    assert sum(problem.step[step].about["kind"] == "glue" for step in waiting) >= 2


def test_wood_has_been_through_every_kind_of_work():
    done = set(Step.objects.filter(tick__isnull=False).values_list("kind", flat=True))
    assert {"glue", "router", "carve", "paint", "peel", "laser", "oil", "wipe", "pack"} <= done


def test_one_piece_is_spoilt_and_made_again():
    spoilt = Piece.objects.exclude(spoilt_at=None).get()
    assert spoilt.steps.filter(kind="router").exists()
    assert not spoilt.made_again_as.steps.filter(kind="pack").exists()


def test_nothing_happened_after_the_present(demo: datetime):
    assert not Step.objects.filter(begun_at__gt=demo).exists()
    assert not Tick.objects.filter(at__gt=demo).exists()
    assert not Order.objects.filter(placed_at__gt=demo).exists()


def test_what_began_before_and_should_be_over_is_ticked(demo: datetime):
    for step in Step.objects.going():
        assert step.begun_at <= demo < step.begun_at + timedelta(minutes=2 * step.attended_minutes)


def test_nobody_does_two_things_by_hand_at_once():
    for person in ("Maren", "Joss"):
        busy_until = None
        for step in Step.objects.filter(begun_by__name=person, tick__isnull=False).order_by("begun_at"):
            if all(need != "watch" for _, need in step.segments):
                assert busy_until is None or step.begun_at >= busy_until, step
                busy_until = step.tick.at


def test_the_book_is_still_full():
    open_orders = Order.objects.open().with_progress().filter(pieces_left__gt=0)
    assert open_orders.count() >= 40
    assert sum(order.pieces_left for order in open_orders) >= 120


def test_no_plan_is_in_force_until_somebody_asks():
    assert not Plan.objects.exists()
    assert not Step.objects.waiting().exists()


def test_a_plan_made_now_keeps_every_rule_and_nearly_every_date(demo: datetime):
    problem = read_shop(demo).problem
    plan = quick_plan(problem)
    assert broken_rules(problem, plan) == []
    assert not plan.unplaced
    late = [order.id for order in problem.orders if max(plan[step].end for step in order.steps) > order.due]
    assert len(late) <= len(problem.orders) / 20
