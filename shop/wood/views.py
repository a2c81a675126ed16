"""Wood: what to rip, how pieces lie on panels, what to buy, which boards rest, how wood moves."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.timezone import now
from django.views.decorators.http import require_POST, require_safe

from planner import HOLD_DOWN_CAUTION, PlannerError
from shop.figures.models import Figures
from shop.floor.cautions import SHORT_PIECES
from shop.htmx import HtmxRequest
from shop.plans.models import Plan
from shop.stations.access import owner_only
from shop.wood.air import MovementForm, moisture
from shop.wood.evening import next_evening
from shop.wood.finishes import finish_needs
from shop.wood.gluing import gluing
from shop.wood.holding import hold_downs
from shop.wood.models import WoodPlan
from shop.wood.resting import resting_panels
from shop.wood.services import made_from, work_out
from shop.wood.wanted import wanted_until
from shop.wood.yard import GRADES, TallyForm, wishes

DAYS_CHOICES = (3, 7, 14, 28)
USUAL_DAYS = 7


@require_safe
@owner_only
def wood(request: HtmxRequest) -> HttpResponse:
    days = _days(request.GET.get("days"))
    figures = Figures.get()
    plan = Plan.objects.in_force()
    wanted = wanted_until(plan, _until(days))
    known, is_fresh = _known(plan)
    movement, tally = MovementForm.asked(request.GET, figures), TallyForm.asked(request.GET)
    at_the_clamps = gluing(wanted, figures)
    context = {
        "days": days,
        "choices": DAYS_CHOICES,
        "wanted": wanted,
        "pieces": sum(each.quantity for each in wanted),
        "known": known,
        "is_fresh": is_fresh,
        "moisture": moisture(figures),
        "movement_form": movement,
        "movement": movement.movement(),
        "needs": finish_needs(),
        "gluing": at_the_clamps,
        "evening": next_evening(plan, known if is_fresh else None, at_the_clamps.panels_in_a_go),
        "wishes": wishes(known.document["rip"]["buy"], figures) if known else [],
        "grades": GRADES,
        "tally_form": tally,
        "tally": tally.tally(),
        "resting": resting_panels(plan, now()),
        "hold_downs": hold_downs(wanted, known, figures),
        "caution": HOLD_DOWN_CAUTION,
        "saw_caution": SHORT_PIECES,
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


def _known(plan: Plan | None) -> tuple[WoodPlan | None, bool]:
    """What was worked out, and whether it still holds for the days it was worked out for."""
    known = WoodPlan.latest()
    if known is None:
        return None, False
    pieces = [piece.pk for each in wanted_until(plan, known.until) for piece in each.pieces]
    return known, known.is_for(pieces, made_from())


def _days(text: str | None) -> int:
    return int(text) if text in {str(days) for days in DAYS_CHOICES} else USUAL_DAYS


def _until(days: int) -> datetime:
    return now() + timedelta(days=days)
