"""The router's page: the loads of one day."""

from datetime import date

from django.http import HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_safe

from shop.day.queue import read_next_router_day, read_router_day
from shop.floor.cautions import caution_for
from shop.htmx import HtmxRequest, drawn
from shop.plans.in_force import standing_of


@require_safe
def router(request: HtmxRequest, day: date | None = None) -> HttpResponse:
    plan = standing_of(request).plan
    queue = read_router_day(plan, day) if day else read_next_router_day(plan, timezone.localdate())
    return drawn(request, "day/router.html", "queue", {"queue": queue, "caution": caution_for("router")})
