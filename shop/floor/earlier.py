"""What must have happened to pieces before a step can: steps of the plan in force that nobody said are done."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import accumulate

from django.db.models import F, Max, QuerySet

from shop.floor.models import Step


def undone_before(step: Step) -> list[Step]:
    """In the order of the plan; with those that other pieces of the same batches wait for in turn."""
    found: dict[int, Step] = {}
    look_before = [step]
    while look_before:
        new = [each for each in _just_before(look_before.pop()) if each.pk not in found]
        found |= {each.pk: each for each in new}
        look_before += new
    return sorted(found.values(), key=lambda each: each.planned_start)


def _just_before(step: Step) -> QuerySet[Step]:
    own = Step.objects.filter(pk=step.pk, planned__plan__is_in_force=True).values("planned__starts_at")
    in_force = Step.objects.filter(planned__plan__is_in_force=True, planned__starts_at__lt=own[:1])
    undone = in_force.filter(tick=None, dropped_at=None, pk__in=_steps_of_its_pieces(step))
    return undone.annotate(planned_start=F("planned__starts_at"))


def _steps_of_its_pieces(step: Step) -> QuerySet:
    through = Step.pieces.through.objects
    return through.filter(piece_id__in=through.filter(step=step).values("piece_id")).values("step_id")


def when_they_were(steps: Sequence[Step], until: datetime) -> list[tuple[datetime, datetime]]:
    """When each may have begun, and when its hands were done: one after another up to `until`, as planned.

    Closer together where their pieces began something so lately that there is no room for that.
    """
    if not steps:
        return []
    total = timedelta(minutes=sum(step.minutes for step in steps))
    begun = Step.objects.begun().filter(pieces__steps__in=steps, begun_at__lt=until)
    since = begun.aggregate(at=Max("begun_at"))["at"] or until - total
    share = min(1.0, (until - since) / total)
    starts = accumulate((share * timedelta(minutes=step.minutes) for step in steps), initial=until - share * total)
    hands = [share * timedelta(minutes=step.attended_minutes) for step in steps]
    return [(start, start + took) for start, took in zip(starts, hands, strict=False)]
