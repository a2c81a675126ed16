"""The day: who does what when, today and any other day."""

from django.http import HttpResponse

from shop.htmx import HtmxRequest, drawn


def today(request: HtmxRequest) -> HttpResponse:
    return drawn(request, "day/day.html", "day", {})
