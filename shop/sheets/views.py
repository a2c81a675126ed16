"""Sheets of paper: the day and the router's run, as PDF."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.timezone import now
from django.views.decorators.http import require_safe

from shop.day.queue import read_router_day
from shop.day.stretches import NEED_WORDS
from shop.floor.cautions import caution_for
from shop.plans.in_force import standing_of
from shop.sheets.checks import BEFORE_THE_FIRST_LOAD
from shop.sheets.day_rows import read_day_sheet
from shop.sheets.paper import PAPERS, PaperError, print_sheet


@require_safe
def day(request: HttpRequest, day: date) -> HttpResponse:
    plan = standing_of(request).plan
    context = {"sheet": read_day_sheet(plan, day), "plan": plan, "needs": NEED_WORDS.items()}
    return _sheet(request, "sheets/day.html", "Day sheet", day, context)


@require_safe
def router(request: HttpRequest, day: date) -> HttpResponse:
    queue = read_router_day(standing_of(request).plan, day)
    context = {
        "queue": queue,
        "plan": queue.plan,
        "checks": BEFORE_THE_FIRST_LOAD,
        "caution": caution_for("router"),
    }
    return _sheet(request, "sheets/router.html", "Router", day, context)


def _sheet(request: HttpRequest, template: str, name: str, day: date, context: dict[str, Any]) -> HttpResponse:
    paper = request.GET.get("paper", "a4").lower()
    if paper not in PAPERS:
        return _refused(request, f"There is no paper “{paper[:20]}” here: ask for a4 or letter.", status=404)
    about = {"name": name, "day": day, "printed_at": now(), "workshop": request.workshop}
    try:
        pdf = print_sheet(template, context | about, paper)
    except PaperError as error:
        return _refused(request, str(error), status=503)
    file_name = f"{name.lower().replace(' ', '-')}-{day.isoformat()}.pdf"
    headers = {"Content-Disposition": f'inline; filename="{file_name}"', "Cache-Control": "no-store"}
    return HttpResponse(pdf, content_type="application/pdf", headers=headers)


def _refused(request: HttpRequest, why: str, *, status: int) -> HttpResponse:
    return render(request, "sheets/refused.html", {"why": why}, status=status)
