"""Designs: the list, one design with all that is reckoned of it, its changes, its outline from a file."""

from __future__ import annotations

from http import HTTPStatus
from typing import Any

from django.contrib import messages
from django.core import signing
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from planner import NM_PER_INCH, PlannerError
from shop.designs import services
from shop.designs.about import about_design, list_rows
from shop.designs.forms import DesignForm, DetailFormSet, DrawingForm, PassFormSet, SizeForm
from shop.designs.models import Design
from shop.designs.pictures import drawn
from shop.figures.models import Figures
from shop.forms import problems_of
from shop.htmx import HtmxRequest
from shop.stations.access import owner_only

GET_OR_POST = ["GET", "HEAD", "POST"]


@require_safe
@owner_only
def designs(request: HtmxRequest) -> HttpResponse:
    return render(request, "designs/list.html", {"rows": list_rows()})


@require_safe
@owner_only
def design(request: HtmxRequest, pk: int) -> HttpResponse:
    """One design: its drawing with what is wrong with it, its minutes, its finish and its price."""
    design = get_object_or_404(Design.objects.select_related("finish"), pk=pk)
    return render(request, "designs/design.html", about_design(design, request.GET))


@require_http_methods(GET_OR_POST)
@owner_only
def new(request: HtmxRequest) -> HttpResponse:
    return _design_form(request, Design())


@require_http_methods(GET_OR_POST)
@owner_only
def change(request: HtmxRequest, pk: int) -> HttpResponse:
    return _design_form(request, get_object_or_404(Design, pk=pk))


@require_http_methods(GET_OR_POST)
@owner_only
def work(request: HtmxRequest, pk: int) -> HttpResponse:
    """The passes and details of a design; what geometry says is worked out when they are kept."""
    design = get_object_or_404(Design, pk=pk)
    data = request.POST if request.method == "POST" else None
    passes = PassFormSet(data, instance=design, prefix="pass")
    details = DetailFormSet(data, instance=design, prefix="detail")
    problems: list[tuple[str, str]] = []
    if data is not None and passes.is_valid() & details.is_valid():
        try:
            services.keep_work(design, passes, details)
        except PlannerError as error:
            problems = [("", str(error))]
        else:
            messages.success(request, f"The work on {design} is written down; the plan is being made anew.")
            return redirect("designs:design", design.pk)
    elif data is not None:
        problems = [*problems_of(*passes, *details)] or [("", "The form came incomplete; open the page anew.")]
    context = {"design": design, "passes": passes, "details": details, "problems": problems}
    return render(request, "designs/work.html", context, status=_status(problems))


@require_http_methods(GET_OR_POST)
@owner_only
def outline(request: HtmxRequest, pk: int) -> HttpResponse:
    """A file is looked at and shown; nothing is kept before its size is confirmed."""
    design = get_object_or_404(Design, pk=pk)
    form = DrawingForm(request.POST or None, request.FILES or None)
    if not form.is_valid():
        return _upload(request, design, form)
    try:
        drawing, read = services.read_drawing(form.cleaned_data["drawing"].read())
    except PlannerError as error:
        form.add_error("drawing", str(error))
        return _upload(request, design, form)
    size = SizeForm(
        initial={
            "length": round(drawing.length_in * NM_PER_INCH),
            "pocket_depth": design.pocket_depth_nm,
        },
        has_pockets=bool(read.pockets),
    )
    return _check(request, design, read, size, says_its_size=drawing.says_its_size)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def keep_outline(request: HtmxRequest, pk: int) -> HttpResponse:
    """Keep what was looked at; who comes back to this address begins with the file."""
    design = get_object_or_404(Design, pk=pk)
    if request.method != "POST":
        return redirect("designs:outline", pk)
    try:
        read = services.Read.unsealed(request.POST.get("drawing", ""))
    except signing.BadSignature:
        messages.error(request, "That drawing was looked at too long ago; choose the file once more.")
        return redirect("designs:outline", pk)
    form = SizeForm(request.POST, has_pockets=bool(read.pockets))
    if not form.is_valid():
        return _check(request, design, read, form, says_its_size=True)
    said = form.cleaned_data
    try:
        services.take_outline(
            design, read, length_nm=said["length"], pocket_depth_nm=said["pocket_depth"], rim_nm=said["rim"]
        )
    except PlannerError as error:
        form.add_error("length", str(error))
        return _check(request, Design.objects.get(pk=pk), read, form, says_its_size=True)
    messages.success(request, f"{design} has its outline; its minutes are worked out from it.")
    return redirect("designs:design", pk)


@require_POST
@owner_only
def ease(request: HtmxRequest, pk: int) -> HttpResponse:
    """Corners as round as a sanding pad follows."""
    design = get_object_or_404(Design, pk=pk)
    try:
        services.ease_corners(design, Figures.get().sanding_radius_nm / NM_PER_INCH)
    except PlannerError as error:
        messages.error(request, str(error))
    else:
        messages.success(request, f"{design}: corners eased; the minutes follow.")
    return redirect("designs:design", pk)


def _design_form(request: HtmxRequest, design: Design) -> HttpResponse:
    form = DesignForm(request.POST or None, instance=design)
    if request.method == "POST" and form.is_valid():
        try:
            kept = services.keep_design(form)
        except PlannerError as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, f"{kept} is written down.")
            return redirect("designs:design", kept.pk)
    problems = list(problems_of(form))
    # A form that was refused has written what was said on the design; its name is still the one on the page.
    named = Design.objects.filter(pk=design.pk).first()
    return render(
        request, "designs/change.html", {"form": form, "design": named, "problems": problems}, status=_status(problems)
    )


def _upload(request: HtmxRequest, design: Design, form: DrawingForm) -> HttpResponse:
    problems = list(problems_of(form))
    context = {"design": design, "form": form, "problems": problems}
    return render(request, "designs/outline.html", context, status=_status(problems))


def _check(
    request: HtmxRequest, design: Design, read: services.Read, form: SizeForm, *, says_its_size: bool
) -> HttpResponse:
    problems = list(problems_of(form)) if form.is_bound else []
    context: dict[str, Any] = {
        "design": design,
        "form": form,
        "sealed": read.sealed(),
        "read": read,
        "picture": drawn(services.as_design(design, read)),
        "says_its_size": says_its_size,
        "problems": problems,
    }
    return render(request, "designs/check.html", context, status=_status(problems))


def _status(problems: list[tuple[str, str]]) -> int:
    return HTTPStatus.UNPROCESSABLE_ENTITY if problems else HTTPStatus.OK
