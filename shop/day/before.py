"""What must be over before a step can begin: the last thing each of its pieces goes through, and the rest after it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from shop.day.of_a_step import OfAStep
from shop.floor.models import Step
from shop.plans.models import Plan, PlannedStep, Rest


@dataclass(frozen=True)
class Before(OfAStep):
    """A step that comes first, and the window in which the next may begin."""

    opens_at: datetime
    closes_at: datetime | None

    @property
    def is_done(self) -> bool:
        return self.step.ticked is not None

    def is_over(self, at: datetime) -> bool:
        """Said to be done, and rested as long as it must."""
        return self.is_done and self.opens_at <= at


def befores(plan: Plan, planned: Sequence[PlannedStep]) -> dict[int, list[Before]]:
    """For each of these placed steps, by its step's key in the database: what comes first. Three queries in all."""
    through = _through(plan, [each.step_id for each in planned])
    others = PlannedStep.objects.filter(plan=plan, step_id__in=through.steps, starts_at__isnull=False)
    by_step = {each.step_id: each for each in others.select_related("step__tick")}
    rests = {
        (rest.before_id, rest.after_id): rest
        for rest in Rest.objects.filter(plan=plan, after_id__in=[each.step_id for each in planned])
    }
    return {each.step_id: list(_before(each, through, by_step, rests)) for each in planned}


def end_of(planned: PlannedStep) -> datetime:
    """When a placed step ended, or will by what is known now."""
    step = planned.step
    if step.begun_at and not step.ticked:
        return step.begun_at + timedelta(minutes=step.minutes)
    return step.ended_at or planned.ends_at


@dataclass(frozen=True)
class _Through:
    """Which pieces go through which steps."""

    pieces_of: dict[int, set[int]]
    steps_of: dict[int, set[int]]

    @property
    def steps(self) -> list[int]:
        return list(self.pieces_of)


def _through(plan: Plan, steps: Iterable[int]) -> _Through:
    rows = Step.pieces.through.objects
    pieces = rows.filter(step_id__in=steps).values("piece_id")
    pairs = rows.filter(piece_id__in=pieces, step__planned__plan=plan).values_list("step_id", "piece_id")
    pieces_of, steps_of = defaultdict(set), defaultdict(set)
    for step, piece in pairs:
        pieces_of[step].add(piece)
        steps_of[piece].add(step)
    return _Through(dict(pieces_of), dict(steps_of))


def _before(
    planned: PlannedStep,
    through: _Through,
    by_step: dict[int, PlannedStep],
    rests: dict[tuple[int, int], Rest],
) -> Iterable[Before]:
    last = {
        _last_before(planned, through.steps_of[piece], by_step) for piece in through.pieces_of.get(planned.step_id, ())
    }
    for pk in sorted(pk for pk in last if pk is not None):
        rest = rests.get((pk, planned.step_id))
        end = end_of(by_step[pk])
        least, most = (rest.least_minutes, rest.most_minutes) if rest else (0, None)
        closes_at = None if most is None else end + timedelta(minutes=most)
        yield Before(by_step[pk], end + timedelta(minutes=least), closes_at)


def _last_before(planned: PlannedStep, steps: set[int], by_step: dict[int, PlannedStep]) -> int | None:
    earlier = [pk for pk in steps if pk in by_step and by_step[pk].starts_at < planned.starts_at]
    return max(earlier, key=lambda pk: by_step[pk].starts_at, default=None)
