"""The steps of a stretch of time read from the database, each in its place: planned, begun or done."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import F, FilteredRelation, Q, QuerySet

from shop.day.stretches import Placed
from shop.floor.models import Step
from shop.plans.models import Plan, PlannedStep


@dataclass(frozen=True)
class AtStation:
    """A station as far as a column needs it."""

    pk: int
    name: str
    capacity: int


def read_placed(plan: Plan | None, opens_at: datetime, closes_at: datetime) -> tuple[list[Placed], list[Placed]]:
    """Whatever is planned for that time, was begun in it, or is still under way; and what no time is left for."""
    steps = list(_steps(plan, opens_at, closes_at))
    return (
        [_placed(step) for step in steps if step.begun_at or step.planned_start],
        [_placed(step) for step in steps if not step.begun_at and not step.planned_start],
    )


def read_left_behind(plan: Plan | None, before: datetime) -> list[Placed]:
    """What was planned to be over by then, and nobody began: by its place in the plan. One query."""
    return [_placed(step) for step in _in_place(plan, Q(place__ends_at__lte=before, begun_at=None))]


def _steps(plan: Plan | None, opens_at: datetime, closes_at: datetime) -> QuerySet[Step]:
    left_out = Q(place__isnull=False, place__starts_at=None, begun_at=None)
    here = Q(place__starts_at__lt=closes_at, place__ends_at__gt=opens_at, begun_at=None)
    begun_here = Q(begun_at__lt=closes_at, begun_at__gte=opens_at)
    going = Q(begun_at__lt=closes_at, tick=None) | Q(begun_at__lt=closes_at, tick__at__gte=opens_at)
    return _in_place(plan, here | begun_here | going | left_out)


def _in_place(plan: Plan | None, wanted: Q) -> QuerySet[Step]:
    return (
        Step.objects.annotate(place=FilteredRelation("planned", condition=Q(planned__plan=plan)))
        .filter(wanted)
        .annotate(
            planned_start=F("place__starts_at"),
            planned_end=F("place__ends_at"),
            planned_person=F("place__person"),
            changeover=F("place__changeover_minutes"),
            why=F("place__why"),
        )
        .select_related("tick__by", "begun_by")
        .defer("about")
        .order_by("place__starts_at", "begun_at", "pk")
    )


def _placed(step: Step) -> Placed:
    return Placed(
        step=step,
        starts_at=step.begun_at or step.planned_start,
        person_id=step.begun_by_id or step.planned_person,
        changeover_minutes=0 if step.begun_at else step.changeover or 0,
        why=step.why or "",
    )


def read_stations(plan: Plan | None, placed: Sequence[Placed]) -> dict[AtStation, set[int]]:
    """Which of these steps stand where: begun ones where they were begun, others by the plan. One query."""
    begun = [one.step.pk for one in placed if one.step.begun_at]
    waiting = [one.step.pk for one in placed if not one.step.begun_at]
    by_plan = PlannedStep.stations.through.objects.filter(
        plannedstep__plan=plan, plannedstep__step__in=waiting
    ).values_list("plannedstep__step_id", "station_id", "station__name", "station__capacity")
    really = Step.begun_at_stations.through.objects.filter(step__in=begun).values_list(
        "step_id", "station_id", "station__name", "station__capacity"
    )
    found: dict[AtStation, set[int]] = defaultdict(set)
    for step, *station in by_plan.union(really):
        found[AtStation(*station)].add(step)
    return found


@dataclass(frozen=True)
class Held:
    """So much of a station kept occupied across steps: clamps on a panel, a place on the rack."""

    load: int
    starts_at: datetime
    ends_at: datetime


def read_holds(plan: Plan | None) -> dict[tuple[str, int], list[Held]]:
    """By station and its capacity, in the stations' order. One query, and only these parts of the plan's documents."""
    parts = ("problem__origin", "problem__stations", "problem__holds", "document__placed")
    found = Plan.objects.filter(pk=plan and plan.pk).values_list(*parts).first()
    if found is None or found[0] is None:
        return {}
    origin, stations, holds, placed = found
    times = {each["step"]: (each["start"], each["end"]) for each in placed}
    zero = datetime.fromisoformat(origin)
    held: dict[tuple[str, int], list[Held]] = {(each["id"], each["capacity"]): [] for each in stations}
    room = {name: (name, capacity) for name, capacity in held}
    for each in holds:
        if each["from"] in times and each["to"] in times:
            start, end = times[each["from"]][0], times[each["to"]][1]
            own = Held(each["load"], zero + timedelta(minutes=start), zero + timedelta(minutes=end))
            held[room[each["station"]]].append(own)
    return {station: own for station, own in held.items() if own}
