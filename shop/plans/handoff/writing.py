"""From the planner's plan to rows, put in force in one transaction: a plan is wholly new or wholly old."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import timedelta

from django.db import transaction
from django.utils.timezone import now

from planner import Link, Placed, Plan, Problem, plan_to_json, problem_to_json, why
from planner import Order as OrderValue
from planner import Step as StepValue
from shop.floor.models import Batch, Piece, Step
from shop.orders.models import Order
from shop.plans.handoff.reading import Shop
from shop.plans.models import Expectation, PlannedStep, Rest
from shop.plans.models import Plan as PlanRow
from shop.stations.models import Person, Station

KEPT_PLANS = 20
KEPT_DROPPED = timedelta(days=7)
MANY = 500


@dataclass(frozen=True)
class Writing:
    """A plan on its way into rows: its own row, what it answers, and the row of every step by its id."""

    row: PlanRow
    shop: Shop
    plan: Plan
    steps: dict[str, Step]


@transaction.atomic
def write_plan(shop: Shop, plan: Plan) -> PlanRow:
    """Put a plan in force and return it, or the plan that is in force if that one has seen the shop later."""
    current = PlanRow.objects.select_for_update().filter(is_in_force=True).first()
    if current and current.read_at > shop.read_at:
        return current
    steps = _write_steps(shop.problem)
    PlanRow.objects.filter(is_in_force=True).update(is_in_force=False)
    row = PlanRow.objects.create(
        is_in_force=True,
        read_at=shop.read_at,
        problem=problem_to_json(shop.problem),
        document=plan_to_json(plan),
        cost=plan.cost,
        bound=plan.bound,
        **_unseen(current, shop),
    )
    writing = Writing(row, shop, plan, steps)
    _write_planned_steps(writing)
    _write_rests(writing)
    _write_expectations(writing)
    _sweep(steps)
    return row


def _unseen(current: PlanRow | None, shop: Shop) -> dict:
    """A change that came after the shop was read: the new plan doesn't know it any more than the one it replaces."""
    if current is None or current.stale_since is None or current.stale_since <= shop.read_at:
        return {}
    return {"stale_since": current.stale_since, "stale_because": current.stale_because}


def _write_steps(problem: Problem) -> dict[str, Step]:
    """A row for every step, kept by its key where it is known, so that a page from before can still be ticked."""
    batches = _batches(problem.steps)
    fresh = [_step_row(step, batches) for step in problem.steps if not step.begun]
    known = set(Step.objects.filter(key__in=[row.key for row in fresh]).values_list("key", flat=True))
    Step.objects.bulk_create([row for row in fresh if row.key not in known], batch_size=MANY)
    stored = Step.objects.in_bulk([step.id for step in problem.steps], field_name="key")
    Step.objects.bulk_update(
        [_as_now(stored[row.key], row) for row in fresh if row.key in known],
        ["batch", "what", "segments", "skill", "about", "dropped_at"],
        batch_size=MANY,
    )
    _write_pieces(problem.steps, stored, {row.key for row in fresh})
    return stored


def _batches(steps: Iterable[StepValue]) -> dict[str, Batch]:
    kinds = {step.about["batch"]: step.about["batch_kind"] for step in steps if not step.begun}
    Batch.objects.bulk_create(
        [Batch(key=key, kind=kind) for key, kind in kinds.items()], ignore_conflicts=True, batch_size=MANY
    )
    return Batch.objects.in_bulk(list(kinds), field_name="key")


def _step_row(step: StepValue, batches: dict[str, Batch]) -> Step:
    return Step(
        key=step.id,
        batch=batches[step.about["batch"]],
        stage=step.about["stage"],
        kind=step.about["kind"],
        what=step.about["what"],
        segments=[[segment.minutes, segment.need.value] for segment in step.segments],
        skill=step.skill or "",
        about=dict(step.about),
    )


def _as_now(stored: Step, fresh: Step) -> Step:
    stored.batch, stored.what, stored.segments = fresh.batch, fresh.what, fresh.segments
    stored.skill, stored.about, stored.dropped_at = fresh.skill, fresh.about, None
    return stored


def _write_pieces(steps: Iterable[StepValue], stored: dict[str, Step], fresh: set[str]) -> None:
    through = Step.pieces.through
    pieces = set(Piece.objects.values_list("pk", flat=True))
    wanted = [
        through(step_id=stored[step.id].pk, piece_id=int(piece.removeprefix("p")))
        for step in steps
        if step.id in fresh
        for piece in step.about["pieces"]
    ]
    through.objects.bulk_create(
        [each for each in wanted if each.piece_id in pieces], ignore_conflicts=True, batch_size=MANY
    )


def _write_planned_steps(writing: Writing) -> None:
    people = {person.name: person for person in Person.objects.all()}
    stations = {station.name: station.pk for station in Station.objects.all()}
    reasons = {unplaced.step: unplaced.why for unplaced in writing.plan.unplaced}
    planned = PlannedStep.objects.bulk_create(
        [
            _placed(writing, placed, people)
            if (placed := writing.plan.by_step.get(step.id))
            else _left_out(writing, step.id, reasons.get(step.id, ""))
            for step in writing.shop.problem.steps
        ],
        batch_size=MANY,
    )
    at = PlannedStep.stations.through
    at.objects.bulk_create(
        [
            at(plannedstep_id=each.pk, station_id=stations[name])
            for each in planned
            if each.step.key in writing.plan
            for name in writing.plan[each.step.key].stations
            if name in stations
        ],
        batch_size=MANY,
    )


def _left_out(writing: Writing, step: str, reason: str) -> PlannedStep:
    return PlannedStep(plan=writing.row, step=writing.steps[step], why=reason[:300])


def _placed(writing: Writing, placed: Placed, people: dict[str, Person]) -> PlannedStep:
    return PlannedStep(
        plan=writing.row,
        step=writing.steps[placed.step],
        starts_at=writing.shop.clock.instant(placed.start),
        ends_at=writing.shop.clock.instant(placed.end),
        changeover_minutes=placed.changeover,
        person=people.get(placed.person),
        why=why(writing.shop.problem, writing.plan, placed.step)[:300],
    )


def _write_rests(writing: Writing) -> None:
    missed = {(each.before, each.after): each.minutes for each in writing.plan.missed}
    Rest.objects.bulk_create(
        [
            Rest(
                plan=writing.row,
                before=writing.steps[link.before],
                after=writing.steps[link.after],
                least_minutes=link.min_wait,
                most_minutes=_really_shuts(link),
                missed_minutes=max(0, missed.get((link.before, link.after), 0) - link.margin),
            )
            for link in writing.shop.problem.links
            if _is_a_rest(link)
        ],
        batch_size=MANY,
    )


def _really_shuts(link: Link) -> int | None:
    """The end of the window itself, which people go by; the plan keeps a margin to it."""
    return None if link.max_wait is None else link.max_wait + link.margin


def _is_a_rest(link: Link) -> bool:
    return link.min_wait > 0 or link.max_wait is not None


def _write_expectations(writing: Writing) -> None:
    facts = writing.shop.problem.orders
    orders = Order.objects.in_bulk([order.id for order in facts], field_name="reference")
    Expectation.objects.bulk_create(
        [_expectation(writing, order, orders[order.id]) for order in facts if order.id in orders],
        batch_size=MANY,
    )


def _expectation(writing: Writing, order: OrderValue, row: Order) -> Expectation:
    if any(step not in writing.plan for step in order.steps):
        return Expectation(plan=writing.row, order=row)
    finish = max(writing.plan[step].end for step in order.steps)
    ready_at, late = writing.shop.clock.instant(finish), max(0, finish - order.due)
    return Expectation(plan=writing.row, order=row, ready_at=ready_at, late_minutes=late)


def _sweep(steps: dict[str, Step]) -> None:
    """Drop what no plan wants any more, and forget old plans."""
    wanted = [step.pk for step in steps.values()]
    waiting = Step.objects.waiting()
    waiting.exclude(pk__in=wanted).update(dropped_at=now())
    PlannedStep.objects.filter(plan__is_in_force=False).delete()
    Rest.objects.filter(plan__is_in_force=False).delete()
    Expectation.objects.filter(plan__is_in_force=False).delete()
    old = PlanRow.objects.filter(is_in_force=False).order_by("-pk").values_list("pk", flat=True)[KEPT_PLANS:]
    PlanRow.objects.filter(pk__in=list(old)).delete()
    Step.objects.filter(begun_at=None, dropped_at__lt=now() - KEPT_DROPPED).delete()
    Batch.objects.filter(steps=None).delete()
