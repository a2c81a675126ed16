"""The workshop: who works when, what is out of order, the common minutes."""

from __future__ import annotations

from http import HTTPStatus
from typing import Any

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.db.models import Prefetch, Q
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from planner import grit_findings, grits_in
from shop.figures.forms import FiguresForm, MachineForm
from shop.figures.models import Figures
from shop.forms import problems_of
from shop.htmx import HtmxRequest
from shop.signals import tell_work_changed
from shop.stations import services
from shop.stations.access import is_owner, owner_only, person_of
from shop.stations.forms import DayOffForm, DownForm, MinutesForm, WeekForm
from shop.stations.models import DayOff, Person, Station, Workshop


@require_safe
def workshop(request: HtmxRequest) -> HttpResponse:
    return _workshop(request)


@require_http_methods(["GET", "HEAD", "POST"])
def hours(request: HtmxRequest, pk: int) -> HttpResponse:
    """A person's week and days off: one's own, and everybody's for the owner."""
    person = _mine_or_any(request, pk)
    form = WeekForm(request.POST if request.method == "POST" else None, person=person)
    if form.is_valid():
        services.set_hours(person, form.week())
        messages.success(request, f"{person}'s hours are written down; the plan is being made anew.")
        return redirect("stations:hours", person.pk)
    return _hours(request, person, week=form)


@require_POST
def days_off(request: HtmxRequest, pk: int) -> HttpResponse:
    person = _mine_or_any(request, pk)
    form = DayOffForm(request.POST, for_all=is_owner(request))
    if not form.is_valid():
        return _hours(request, person, off=form)
    said = form.cleaned_data
    whose = None if said.get("everybody") else person
    off = services.take_days_off(whose, said["first_day"], said["last_day"], said["why"])
    messages.success(request, f"Days off written down: {off}.")
    return redirect("stations:hours", person.pk)


@require_POST
def day_off_back(request: HtmxRequest, pk: int) -> HttpResponse:
    off = get_object_or_404(DayOff.objects.select_related("person"), pk=pk)
    mine = person_of(request)
    if not is_owner(request) and (mine is None or off.person_id != mine.pk):
        raise PermissionDenied("Only the owner changes other people's days off.")
    services.work_after_all(off)
    messages.success(request, f"Taken back: {off}.")
    back = off.person or mine
    return redirect("stations:hours", back.pk) if back else redirect("stations:workshop")


@require_POST
@owner_only
def down(request: HtmxRequest, pk: int) -> HttpResponse:
    """Out of order until some hour; with nothing said it is in order again."""
    station = get_object_or_404(Station, pk=pk)
    form = DownForm({} if "works" in request.POST else request.POST, instance=station, prefix=f"station-{pk}")
    if not form.is_valid():
        return _workshop(request, problems=list(problems_of(form)))
    services.set_down(station, form.cleaned_data["down_until"])
    messages.success(request, f"{station}: written down.")
    return redirect("stations:workshop")


@require_POST
@owner_only
def minutes(request: HtmxRequest) -> HttpResponse:
    form = MinutesForm(request.POST, instance=Workshop.get())
    if not form.is_valid():
        return _workshop(request, minutes_form=form, problems=list(problems_of(form)))
    form.save()
    tell_work_changed(Workshop, "the common minutes are new")
    messages.success(request, "The common minutes are written down; the plan is being made anew.")
    return redirect("stations:workshop")


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def figures(request: HtmxRequest) -> HttpResponse:
    """What the workshop reckons with: allowances, limits, the air, wages and fees."""
    form = FiguresForm(request.POST if request.method == "POST" else None, instance=Figures.get())
    if form.is_valid():
        form.save()
        tell_work_changed(Figures, "the figures are new")
        messages.success(request, "The figures are written down; prices and wood are reckoned with them from now on.")
        return redirect("stations:figures")
    machine = MachineForm(request.GET if "price_dollars" in request.GET else None)
    problems = list(problems_of(form, machine))
    context = {
        "form": form,
        "machine": machine,
        "machine_says": machine.says() if machine.is_valid() else "",
        "grit_notes": grit_findings(grits_in(Figures.get().grits)),
        "problems": problems,
    }
    return render(request, "stations/figures.html", context, status=_status(problems))


def _mine_or_any(request: HtmxRequest, pk: int) -> Person:
    mine = person_of(request)
    if not is_owner(request) and (mine is None or mine.pk != pk):
        raise PermissionDenied("Only the owner changes other people's hours.")
    return get_object_or_404(Person, pk=pk)


def _hours(
    request: HtmxRequest, person: Person, *, week: WeekForm | None = None, off: DayOffForm | None = None
) -> HttpResponse:
    problems = [*problems_of(*(form for form in (week, off) if form and form.is_bound))]
    context = {
        "whose": person,
        "week": week or WeekForm(person=person),
        "off_form": off or DayOffForm(for_all=is_owner(request)),
        "days_off": _coming_days_off(person),
        "problems": problems,
    }
    return render(request, "stations/hours.html", context, status=_status(problems))


def _workshop(
    request: HtmxRequest, *, minutes_form: MinutesForm | None = None, problems: list[tuple[str, str]] | None = None
) -> HttpResponse:
    context: dict[str, Any] = {"people": _people(request), "problems": problems or []}
    if is_owner(request):
        context["stations"] = [
            (each, DownForm(instance=each, prefix=f"station-{each.pk}")) for each in Station.objects.all()
        ]
        context["minutes_form"] = minutes_form or MinutesForm(instance=request.workshop)
    return render(request, "stations/workshop.html", context, status=_status(context["problems"]))


def _people(request: HtmxRequest) -> list[tuple[Person, WeekForm]]:
    """Everybody for the owner, else oneself."""
    people = Person.objects.filter(works_here=True)
    if not is_owner(request):
        people = people.filter(user=request.user)
    coming = DayOff.objects.filter(last_day__gte=timezone.localdate())
    read = people.prefetch_related("hours", "skills", Prefetch("days_off", coming, to_attr="coming_days_off"))
    return [(person, WeekForm(person=person)) for person in read]


def _coming_days_off(person: Person) -> Any:
    whose = Q(person=person) | Q(person=None)
    return DayOff.objects.filter(whose, last_day__gte=timezone.localdate()).select_related("person")


def _status(problems: list[tuple[str, str]]) -> int:
    return HTTPStatus.UNPROCESSABLE_ENTITY if problems else HTTPStatus.OK
