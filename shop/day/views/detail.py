"""The paint and detail queue, for one thumb."""

from django.http import HttpResponse
from django.utils.timezone import now
from django.views.decorators.http import require_safe

from shop.day.lots import read_detail
from shop.htmx import HtmxRequest, drawn
from shop.plans.in_force import standing_of
from shop.stations.access import person_of

MOST_WAITING = 12
"""As many as the next day or so holds; the rest on request, so that a phone's page has an end."""


@require_safe
def detail(request: HtmxRequest) -> HttpResponse:
    most = None if "all" in request.GET else MOST_WAITING
    queue = read_detail(standing_of(request).plan, person_of(request), now(), most=most)
    return drawn(request, "day/detail.html", "lots", {"queue": queue})
