"""Everything that cures: in clamps, soaking, drying, between coats; since when, ready when, what it waits for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import groupby

from django.db.models import F

from shop.day.following import following
from shop.day.gauge import Gauge, State
from shop.floor.cautions import caution_for, remedy_for
from shop.floor.models import Step
from shop.plans.models import Plan, Rest

LOOK_BACK = timedelta(days=10)
"""Nothing in a workshop like this one stands alone for longer."""


@dataclass(frozen=True)
class Wait:
    """Wood that nobody may touch yet, or that somebody should touch now."""

    step: Step
    gauge: Gauge
    then: Step | None
    planned_at: datetime | None
    also_then: tuple[Step, ...] = ()
    is_alone: bool = False  # in the stretch at the end of the step itself, not in a rest after it

    @property
    def place(self) -> str:
        """How it stands, in a word."""
        if self.is_alone:
            return {"glue": "in clamps"}.get(self.step.kind, "drying")
        return {"glue": "resting", "oil": "soaking"}.get(self.step.kind, "drying")

    @property
    def blocks_something(self) -> bool:
        """It lies in clamps that others need, though it can't be too late for it."""
        return self.step.kind == "glue" and self.then is not None and self.then.kind == "unclamp"

    @property
    def caution(self) -> str:
        return caution_for(self.then.kind) if self.then else ""

    @property
    def remedy(self) -> str:
        """What to do when its window has been missed."""
        return remedy_for(self.then.kind) if self.then and self.gauge.state == State.LATE else ""

    @property
    def needs_a_hand(self) -> bool:
        has_an_end = self.gauge.closes_at is not None or self.blocks_something
        return self.gauge.state != State.EARLY and has_an_end


@dataclass(frozen=True)
class Curing:
    """The page's three parts, each in the order in which a hand is needed."""

    now: datetime
    touch: list[Wait]
    early: list[Wait]
    ready: list[Wait]


def read_curing(plan: Plan | None, at: datetime) -> Curing:
    """Four queries, however much is curing."""
    alone = list(_alone(plan, at))
    shown = {wait.step.pk for wait in alone}
    waits = [*alone, *(wait for wait in _resting(plan, at) if wait.step.pk not in shown)]
    early = [wait for wait in waits if wait.gauge.state == State.EARLY]
    touch = [wait for wait in waits if wait.needs_a_hand]
    ready = [wait for wait in waits if wait not in early and wait not in touch]
    return Curing(
        now=at,
        touch=sorted(
            touch, key=lambda wait: (wait.gauge.closes_at is None, wait.gauge.closes_at or wait.gauge.opens_at)
        ),
        early=sorted(early, key=lambda wait: wait.gauge.opens_at),
        ready=sorted(ready, key=lambda wait: wait.planned_at or wait.gauge.opens_at),
    )


def _alone(plan: Plan | None, at: datetime) -> Iterator[Wait]:
    """Steps in the stretch at their end that may be left alone, until the next thing is done with their wood."""
    begun = Step.objects.begun().filter(begun_at__gte=at - LOOK_BACK).select_related("tick").defer("about")
    standing = {step.pk: step for step in begun if step.alone_minutes and _attended_until(step) <= at}
    after = following(plan, standing)
    for pk, step in standing.items():
        since, then = _attended_until(step), after.get(pk)
        gauge = Gauge(since, since + timedelta(minutes=step.alone_minutes), None, _looked_at(then and then.step, at))
        if then is None and gauge.state == State.EARLY:
            yield Wait(step, gauge, None, None, is_alone=True)
        elif then and not then.step.ticked:
            yield Wait(step, gauge, then.step, then.starts_at, is_alone=True)


def _attended_until(step: Step) -> datetime:
    """The tick; where nobody ticked, when its hands were planned to be off it."""
    return step.ticked.at if step.ticked else step.begun_at + timedelta(minutes=step.attended_minutes)


def _looked_at(then: Step | None, at: datetime) -> datetime:
    """The wait is over when the next step begins, whatever the clock says after."""
    return then.begun_at if then and then.begun_at else at


def _resting(plan: Plan | None, at: datetime) -> Iterator[Wait]:
    """Rests of the plan that have begun and not ended, what waits for the same told once."""
    rests = (
        Rest.objects.filter(
            plan=plan,
            before__tick__isnull=False,
            after__tick=None,
            after__dropped_at=None,
            after__planned__plan=plan,
        )
        .annotate(planned_at=F("after__planned__starts_at"))
        .select_related("before__tick", "after__tick")
        .order_by("before_id", "least_minutes", "most_minutes", "planned_at", "pk")
    )
    for _, alike in groupby(rests, key=lambda rest: (rest.before_id, rest.least_minutes, rest.most_minutes)):
        wait = _wait(list(alike), at)
        if wait.gauge.since <= at:
            yield wait


def _wait(rests: Sequence[Rest], at: datetime) -> Wait:
    first, *others = rests
    since = first.before.ended_at
    closes_at = None if first.most_minutes is None else since + timedelta(minutes=first.most_minutes)
    gauge = Gauge(since, since + timedelta(minutes=first.least_minutes), closes_at, _looked_at(first.after, at))
    return Wait(first.before, gauge, first.after, first.planned_at, _steps(others))


def _steps(rests: Iterable[Rest]) -> tuple[Step, ...]:
    return tuple(rest.after for rest in rests)
