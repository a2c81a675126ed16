"""Replanning end to end: rows in, the real search in its own process, rows in force."""

from datetime import timedelta

import pytest

from planner import broken_rules, plan_from_json, problem_from_json
from shop.designs.models import Finish
from shop.floor import services as floor
from shop.floor.models import Step
from shop.plans import services
from shop.plans.models import Expectation, Job, Plan, PlannedStep, Rest
from shop.plans.search import search
from shop.stations.models import Workshop
from tests.shop.makers import (
    MONDAY,
    make_design,
    make_finish,
    make_line,
    make_order,
    make_person,
    make_workplaces,
)

pytestmark = pytest.mark.django_db
COATS = ("mask", "carve", "brush", "seal", "paint", "peel")


@pytest.fixture
def workshop(db):
    make_workplaces()
    return make_person("Ada")


def replan(at=MONDAY, seconds=0):
    return services.replan(seconds=seconds, search=search, at=at)


def kinds_of(line):
    return list(
        Step.objects.filter(pieces__line=line, dropped_at=None)
        .order_by("planned__starts_at")
        .values_list("kind", flat=True)
    )


def test_a_piece_takes_only_the_steps_that_its_design_has(workshop):
    plain = make_line(design=make_design())
    painted = make_line(design=make_design(is_glued=True, details=COATS, finish=make_finish(), sanding_minutes=7))
    replan()
    assert kinds_of(plain) == ["cut", "router", "sand", "pack"]
    assert kinds_of(painted) == ["rip", "glue", "unclamp", "flatten", "router", "sand", *COATS, "oil", "wipe", "pack"]


def test_the_plan_in_force_keeps_every_rule(workshop):
    make_line(design=make_design(is_glued=True, details=COATS, finish=make_finish()), quantity=4)
    plan = replan(seconds=1)
    assert broken_rules(problem_from_json(plan.problem), plan_from_json(plan.document)) == []


def test_oil_is_wiped_within_its_window(workshop):
    make_line(design=make_design(finish=make_finish()))
    replan()
    oil, wipe = (PlannedStep.objects.get(step__kind=kind) for kind in ("oil", "wipe"))
    finish = Finish.objects.get()
    waited = (wipe.starts_at - oil.ends_at) / timedelta(minutes=1)
    assert finish.soak_least_minutes <= waited <= finish.soak_most_minutes
    assert Rest.objects.get(before=oil.step, after=wipe.step).most_minutes == finish.soak_most_minutes


def test_a_window_is_planned_with_the_workshops_margin_and_shown_as_it_is(workshop):
    make_line(design=make_design(finish=make_finish(soak_least_minutes=720, soak_most_minutes=960)))
    Workshop.objects.update_or_create(pk=1, defaults={"window_margin_minutes": 45})
    plan = replan()
    assert [link["max_wait"] for link in plan.problem["links"] if link["max_wait"]] == [915]
    assert [rest.most_minutes for rest in Rest.objects.all() if rest.most_minutes] == [960]


@pytest.mark.parametrize(("wiped_after", "missed"), [(110, 0), (160, 40)])
def test_a_window_is_missed_only_where_it_really_is(workshop, wiped_after, missed):
    make_line(design=make_design(finish=make_finish(soak_least_minutes=20, soak_most_minutes=120)))
    replan()
    oil = Step.objects.get(kind="oil")
    floor.begin(oil, by=workshop, at=MONDAY, stations=floor.planned_stations(oil))
    floor.tick(oil, by=workshop, at=MONDAY + timedelta(minutes=5))
    replan(at=MONDAY + timedelta(minutes=5 + wiped_after))
    assert Rest.objects.get(before=oil).missed_minutes == missed


def test_each_order_is_told_when_it_will_be_ready(workshop):
    on_time, late = make_order(), make_order(due_at=MONDAY + timedelta(minutes=10))
    make_line(order=on_time)
    make_line(order=late)
    replan()
    assert Expectation.objects.get(order=on_time).late_minutes == 0
    expected = Expectation.objects.get(order=late)
    assert expected.late_minutes == (expected.ready_at - late.due_at) / timedelta(minutes=1) > 0


def test_a_begun_step_stays_where_it_began(workshop):
    make_line()
    replan()
    cut = Step.objects.get(kind="cut")
    floor.begin(cut, by=workshop, at=MONDAY + timedelta(minutes=3), stations=floor.planned_stations(cut))
    replan(at=MONDAY + timedelta(minutes=4))
    planned = PlannedStep.objects.get(step=cut)
    assert planned.starts_at == MONDAY + timedelta(minutes=3)


def test_work_taken_up_early_keeps_what_came_before_it_on_the_books(workshop):
    make_line()
    replan()
    floor.begin(Step.objects.get(kind="sand"), by=workshop, at=MONDAY + timedelta(minutes=3))
    plan = replan(at=MONDAY + timedelta(minutes=4))
    done = Step.objects.filter(tick__isnull=False, dropped_at=None)
    assert [step.kind for step in done.order_by("begun_at")] == ["cut", "router"]
    assert broken_rules(problem_from_json(plan.problem), plan_from_json(plan.document)) == []


def test_the_same_work_keeps_its_rows(workshop):
    make_line(quantity=3)
    replan()
    before = set(Step.objects.values_list("pk", flat=True))
    replan()
    assert set(Step.objects.values_list("pk", flat=True)) == before


def test_a_step_that_no_plan_wants_can_still_be_ticked_and_counts(workshop):
    line = make_line(quantity=1)
    replan()
    alone = Step.objects.get(kind="cut")
    make_line(design=line.design, species=line.species, order=line.order)
    replan()
    dropped = Step.objects.filter(pk=alone.pk, dropped_at__isnull=False)
    floor.tick(dropped.get() if dropped else alone, by=workshop, at=MONDAY + timedelta(minutes=5), minutes=5)
    replan(at=MONDAY + timedelta(minutes=6))
    piece = line.pieces.get()
    assert [step.pk for step in piece.steps.filter(kind="cut", dropped_at=None)] == [alone.pk]


def test_a_spoilt_piece_is_planned_again_from_the_start(workshop):
    line = make_line()
    replan()
    for kind in ("cut", "router"):
        floor.tick(Step.objects.get(kind=kind), by=workshop, at=MONDAY + timedelta(minutes=20), minutes=5)
    again = floor.spoil(line.pieces.get(), why="tear-out", at=MONDAY + timedelta(minutes=25))
    replan(at=MONDAY + timedelta(minutes=10))
    assert {step.kind for step in again.steps.all()} == {"cut", "router", "sand", "pack"}


def test_a_search_never_leaves_a_worse_plan_in_force(workshop):
    make_line(design=make_design(is_glued=True, details=COATS, finish=make_finish()), quantity=6)
    searched = replan(seconds=2)
    again = replan(seconds=0)
    assert again.cost <= searched.cost + 0.01


def test_a_plan_that_saw_the_shop_earlier_does_not_replace_a_later_one(workshop):
    make_line()
    later = replan(at=MONDAY + timedelta(hours=1))
    assert replan(at=MONDAY) == later == Plan.objects.in_force()


def test_spoiling_a_piece_marks_the_plan_stale_and_asks_for_another(workshop, django_capture_on_commit_callbacks):
    line = make_line()
    replan()
    with django_capture_on_commit_callbacks(execute=True):
        floor.spoil(line.pieces.get(), why="", at=MONDAY)
    assert Plan.objects.in_force().stale_because == f"{line.design} spoilt"
    assert Job.objects.filter(state=Job.State.QUEUED).count() == 1


@pytest.mark.parametrize(("hours", "said"), [((1, 2), "change 2"), ((-2, 1), "change 1"), ((-2, -1), "")])
def test_a_plan_stays_stale_over_a_change_that_came_after_the_shop_was_read(workshop, monkeypatch, hours, said):
    make_line()
    replan(at=MONDAY - timedelta(hours=3))
    for hour in hours:
        monkeypatch.setattr(services, "now", lambda hour=hour: MONDAY + timedelta(hours=hour))
        services.mark_stale(f"change {hour}")
    assert replan(at=MONDAY).stale_because == said
