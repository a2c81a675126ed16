"""Wood: what to rip, how pieces lie on panels, what to buy, which boards rest, how wood moves."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.timezone import now
from django.views.decorators.http import require_POST, require_safe

from planner import HOLD_DOWN_CAUTION, HoldDownJob, PlannerError, compare_hold_downs, hold_down_advice, panels_in_one_go
from shop.figures.models import Figures
from shop.htmx import HtmxRequest
from shop.plans.models import Plan
from shop.stations.access import owner_only
from shop.stations.models import Station, Workshop
from shop.stock.models import Board, Glue
from shop.wood.air import MovementForm, moisture
from shop.wood.finishes import finish_needs
from shop.wood.models import WoodPlan
from shop.wood.services import work_out
from shop.wood.wanted import Wanted, wanted_until

DAYS_CHOICES = (3, 7, 14, 28)
USUAL_DAYS = 7
USUAL_PANEL_CLAMPS = 3


@require_safe
@owner_only
def wood(request: HtmxRequest) -> HttpResponse:
    days = _days(request.GET.get("days"))
    figures = Figures.get()
    wanted = wanted_until(Plan.objects.in_force(), _until(days))
    known = WoodPlan.latest()
    pieces = [piece.pk for each in wanted for piece in each.pieces]
    movement = MovementForm.asked(request.GET, figures)
    context = {
        "days": days,
        "choices": DAYS_CHOICES,
        "wanted": wanted,
        "pieces": len(pieces),
        "known": known,
        "is_fresh": known is not None and known.is_for(pieces),
        "moisture": moisture(figures),
        "movement_form": movement,
        "movement": movement.movement(),
        "needs": finish_needs(),
        "one_go": _one_go(),
        "boards": Board.objects.filter(quantity__gt=0).select_related("species"),
        "hold_downs": _hold_downs(wanted, known, figures),
        "caution": HOLD_DOWN_CAUTION,
    }
    return render(request, "wood/wood.html", context)


@require_POST
@owner_only
def reckon(request: HtmxRequest) -> HttpResponse:
    """Work the rip plan and the nests out anew; it takes some seconds."""
    days = _days(request.POST.get("days"))
    wanted = wanted_until(Plan.objects.in_force(), _until(days))
    if not wanted:
        messages.warning(request, "The plan begins no wood in these days, so there is nothing to work out.")
    else:
        try:
            work_out(wanted, _until(days))
        except PlannerError as error:
            messages.error(request, str(error))
        else:
            messages.success(request, "The wood is worked out.")
    return redirect(f"/wood/?days={days}")


def _one_go() -> str:
    """How many panels go into clamps before the first one's glue skins over."""
    glue = Glue.objects.filter(in_use=True).first()
    clamps = Station.objects.filter(role=Station.Role.CLAMPS).first()
    if glue is None or clamps is None:
        return ""
    minutes = max(1, Workshop.get().glue_minutes)
    try:
        return panels_in_one_go(
            open_minutes=glue.open_minutes,
            minutes_to_spread_and_close_a_panel=minutes,
            clamps_free=clamps.capacity,
            clamps_a_panel=USUAL_PANEL_CLAMPS,
        ).why
    except PlannerError as error:
        return str(error)


def _hold_downs(wanted: Sequence[Wanted], known: WoodPlan | None, figures: Figures) -> dict[str, Any]:
    """Ways to hold these pieces, so many on a panel as were worked out, else one by one."""
    pieces = sum(each.quantity for each in wanted)
    if not pieces:
        return {}
    nests = known.document["nests"] if known else []
    panels = sum(len(group["panels"]) for group in nests)
    a_load = max(1, round(sum(group["pieces"] for group in nests) / panels)) if panels else 1
    area_in2 = sum(each.quantity * each.box_in2 for each in wanted) / pieces
    job = HoldDownJob(pieces=pieces, pieces_a_load=min(pieces, a_load), piece_area_in2=area_in2)
    ways = compare_hold_downs(job, figures.hands_dollars_per_hour)
    return {"ways": ways, "says": hold_down_advice(ways, job)}


def _days(text: str | None) -> int:
    return int(text) if text in {str(days) for days in DAYS_CHOICES} else USUAL_DAYS


def _until(days: int) -> datetime:
    return now() + timedelta(days=days)
