"""The planning run as a person sees it: ask for one, watch it, stop it."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_GET, require_POST

from shop.htmx import HtmxRequest, back_to, redrawn
from shop.plans import jobs
from shop.plans.in_force import Standing, standing_of
from shop.plans.models import Job
from shop.stations.access import owner_only

STRIP = "plans/_strip.html"


@require_GET
def strip(request: HtmxRequest) -> HttpResponse:
    """How the plan stands now: read again when the floor changed, and every minute."""
    return _strip(request, standing_of(request))


@require_POST
@owner_only
def run(request: HtmxRequest) -> HttpResponse:
    return _strip(request, _of(jobs.ask(because="asked for by hand")))


@require_POST
@owner_only
def cancel(request: HtmxRequest, pk: int) -> HttpResponse:
    asked = get_object_or_404(Job, pk=pk)
    jobs.cancel(asked)
    asked.refresh_from_db()
    return _strip(request, _of(asked))


@require_GET
def job(request: HtmxRequest, pk: int) -> HttpResponse:
    """Asked again every second by the strip; when the run ends, what the page says of the plan is read again."""
    asked = get_object_or_404(Job, pk=pk)
    return _strip(request, _of(asked), tell="plan-changed" if asked.state == Job.State.DONE else "")


def _of(asked: Job) -> Standing:
    """A run to speak of, whatever plan is in force."""
    return Standing(None, asked)


def _strip(request: HtmxRequest, standing: Standing, *, tell: str = "") -> HttpResponse:
    return redrawn(request, STRIP, {"standing": standing}, otherwise=back_to(request), tell=tell)
