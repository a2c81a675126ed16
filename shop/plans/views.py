"""The planning run as a person sees it: ask for one, watch it, stop it."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_GET, require_POST

from shop.htmx import HtmxRequest, back_to, redrawn
from shop.plans import jobs
from shop.plans.models import Job
from shop.stations.access import owner_only

STRIP = "plans/_strip.html"


@require_POST
@owner_only
def run(request: HtmxRequest) -> HttpResponse:
    return _strip(request, jobs.ask(because="asked for by hand"))


@require_POST
@owner_only
def cancel(request: HtmxRequest, pk: int) -> HttpResponse:
    asked = get_object_or_404(Job, pk=pk)
    jobs.cancel(asked)
    asked.refresh_from_db()
    return _strip(request, asked)


@require_GET
def job(request: HtmxRequest, pk: int) -> HttpResponse:
    """Asked again every second by the strip; when the run ends, what the page says of the plan is read again."""
    asked = get_object_or_404(Job, pk=pk)
    return _strip(request, asked, tell="plan-changed" if asked.state == Job.State.DONE else "")


def _strip(request: HtmxRequest, asked: Job, *, tell: str = "") -> HttpResponse:
    return redrawn(request, STRIP, {"standing": {"job": asked}}, otherwise=back_to(request), tell=tell)
