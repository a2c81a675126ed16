"""A plan that time has overtaken: it has steps that should have begun, and nobody began them."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.db.models import Q
from django.utils.timezone import now

from shop.plans import jobs
from shop.plans.models import Job, PlannedStep

GRACE = timedelta(hours=1)
"""Nobody begins to the minute; a step so long overdue shows that the day went another way."""


def should_have_begun(at: datetime) -> Q:
    """Which planned steps time has overtaken."""
    return Q(starts_at__lt=at - GRACE, step__begun_at=None)


def ask_if_overtaken() -> Job | None:
    """Ask for a planning run where the plan in force lies in the past; after one, let the grace go by first."""
    at = now()
    asked_lately = Job.objects.filter(jobs.OPEN | Q(asked_at__gt=at - GRACE))
    overtaken = PlannedStep.objects.filter(should_have_begun(at), plan__is_in_force=True)
    if asked_lately.exists() or not overtaken.exists():
        return None
    return jobs.ask(because="time has overtaken the plan")
