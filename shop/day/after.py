"""When a piece must be touched next: the rest after a step, as a window by the clock."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from shop.day.before import end_of
from shop.floor.models import Step
from shop.plans.models import Plan, PlannedStep, Rest


@dataclass(frozen=True)
class Touch:
    """The step that follows, and the window in which it may begin."""

    kind: str
    opens_at: datetime
    closes_at: datetime | None


def touch_after(planned: PlannedStep, rest: Rest, after: Step) -> Touch:
    """The window of a rest, from when the step before it ended or will end."""
    end = end_of(planned)
    closes_at = None if rest.most_minutes is None else end + timedelta(minutes=rest.most_minutes)
    return Touch(after.kind, end + timedelta(minutes=rest.least_minutes), closes_at)


def touches(plan: Plan | None, rows: Iterable[PlannedStep]) -> dict[int, list[Touch]]:
    """For each of these placed steps, by its key in the database: what follows, said once each. One query."""
    planned = {each.step_id: each for each in rows}
    found: dict[int, list[Touch]] = {}
    for rest in Rest.objects.filter(plan=plan, before_id__in=planned).select_related("after").order_by("pk"):
        touch = touch_after(planned[rest.before_id], rest, rest.after)
        known = found.setdefault(rest.before_id, [])
        if touch not in known:
            known.append(touch)
    return found
