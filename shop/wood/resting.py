"""Panels that rest after the clamps, until they may be machined."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from shop.floor.models import Step
from shop.plans.models import Plan, Rest

GLUED = ("glue", "unclamp")


@dataclass(frozen=True)
class Resting:
    """A glue-up, and when its panels may go on."""

    step: Step
    until: datetime


def resting_panels(plan: Plan | None, at: datetime) -> list[Resting]:
    """Glue-ups whose rest by the plan has begun and isn't over, the first to end first."""
    rests = Rest.objects.filter(
        plan=plan, before__kind__in=GLUED, before__tick__isnull=False, after__begun_at=None, after__dropped_at=None
    ).select_related("before__tick")
    until: dict[Step, datetime] = {}
    for rest in rests:
        ends_at = rest.before.ended_at + timedelta(minutes=rest.least_minutes)
        until[rest.before] = max(ends_at, until.get(rest.before, ends_at))
    found = [Resting(step, ends_at) for step, ends_at in until.items() if ends_at > at]
    return sorted(found, key=lambda each: each.until)
