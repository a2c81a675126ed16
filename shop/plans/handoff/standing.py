"""Steps that have begun, as they really went: the planner works around them."""

from __future__ import annotations

from collections.abc import Iterable

from planner import Begun, Need, Segment, StandingStep
from shop.floor.models import Step
from shop.plans.handoff.clock import Clock

OVERRUN_MINUTES = 10
"""A step that should be over but isn't ticked is expected to take this much longer."""


def standing_steps(steps: Iterable[Step], clock: Clock, now: int) -> tuple[StandingStep, ...]:
    """Each begun step with its real start, person, stations and minutes."""
    return tuple(_standing(step, clock, now) for step in steps)


def _standing(step: Step, clock: Clock, now: int) -> StandingStep:
    # An instant rounds down to its minute, so that what happened lies before `now`.
    start = clock.minute(step.begun_at)
    return StandingStep(
        id=step.key,
        stage=step.stage,
        batch=step.batch.key,
        pieces=tuple(f"p{piece.pk}" for piece in step.pieces.all()),
        begun=Begun(start, step.begun_by and step.begun_by.name, tuple(str(s) for s in step.begun_at_stations.all())),
        segments=_as_it_went(step, start, clock, now),
        skill=step.skill or None,
        about=step.about,
    )


def _as_it_went(step: Step, start: int, clock: Clock, now: int) -> tuple[Segment, ...]:
    planned = tuple(Segment(minutes, Need(need)) for minutes, need in step.segments)
    if step.ticked:
        took = clock.minute(step.ticked.at) - start
        return _lasting(planned, max(1, took), step.alone_minutes)
    if start + step.attended_minutes <= now:
        return _lasting(planned, now + OVERRUN_MINUTES - start, step.alone_minutes)
    return planned


def _lasting(planned: tuple[Segment, ...], attended: int, alone: int) -> tuple[Segment, ...]:
    """The step with its attended part stretched or shortened to what it took; wood then stands alone as planned."""
    need = Need.HANDS if any(segment.need is Need.HANDS for segment in planned) else planned[0].need
    worked = Segment(attended, need)
    return (worked, Segment(alone, Need.ALONE)) if alone else (worked,)
