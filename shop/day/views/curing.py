"""Everything that cures, and the little warning of it that stands on top of the day."""

from __future__ import annotations

from django.http import HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_safe

from shop.day.curing import read_curing
from shop.htmx import HtmxRequest, drawn
from shop.plans.in_force import standing_of


@require_safe
def curing(request: HtmxRequest) -> HttpResponse:
    read = read_curing(standing_of(request).plan, timezone.now())
    return drawn(request, "day/curing.html", "curing", {"curing": read})


@require_safe
def slipping(request: HtmxRequest) -> HttpResponse:
    """The windows that are about to shut or have shut, for the day's page to show on top."""
    read = read_curing(standing_of(request).plan, timezone.now())
    return drawn(request, "day/curing.html", "slipping", {"curing": read})
