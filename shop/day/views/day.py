"""The day: who does what when, today and any other day."""

from __future__ import annotations

from datetime import date

from django import forms
from django.http import Http404, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_safe

from shop.day.hours import read_day
from shop.day.stretches import NEED_WORDS
from shop.htmx import HtmxRequest, drawn
from shop.plans.in_force import standing_of
from shop.stations.access import person_of

FIRST_YEAR, LAST_YEAR = 2000, 2200


class DayForm(forms.Form):
    day = forms.DateField()


@require_safe
def today(request: HtmxRequest) -> HttpResponse:
    return day(request, timezone.localdate())


@require_safe
def day(request: HtmxRequest, day: date) -> HttpResponse:
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise Http404(f"No workshop keeps its days of {day.year} here.")
    show = request.GET.get("who", "")
    read = read_day(standing_of(request).plan, day, person_of(request), timezone.now(), show=show)
    return drawn(request, "day/day.html", "day", {"day": read, "needs": NEED_WORDS})


@require_safe
def find(request: HtmxRequest) -> HttpResponse:
    """The day that somebody picked from the calendar."""
    form = DayForm(request.GET)
    return redirect("day:day", form.cleaned_data["day"]) if form.is_valid() else redirect("day:today")
