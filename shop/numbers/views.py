"""Numbers: what designs earn, what the router's ticks say, what to make for a fair."""

from __future__ import annotations

from decimal import Decimal
from http import HTTPStatus

from django.contrib import messages
from django.db import transaction
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.timezone import now
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from planner import PlannerError
from shop.figures.models import Figures
from shop.forms import problems_of
from shop.htmx import HtmxRequest
from shop.numbers.earning import DAYS_AHEAD, earnings
from shop.numbers.fair_mix import mix_for, order_the_mix
from shop.numbers.forms import SoldForm
from shop.numbers.learning import learned, suggested, take_factor
from shop.orders.models import Fair, FairSale
from shop.plans.models import Plan
from shop.stations.access import owner_only


@require_safe
@owner_only
def numbers(request: HtmxRequest) -> HttpResponse:
    figures = Figures.get()
    correction = learned(figures)
    context = {
        "earnings": earnings(Plan.objects.in_force()),
        "days": DAYS_AHEAD,
        "figures": figures,
        "correction": correction,
        "suggested": suggested(figures, correction),
        "fairs": Fair.objects.filter(opens_at__gte=now()),
        "past": Fair.objects.filter(closes_at__lt=now()).order_by("-opens_at")[:6],
    }
    return render(request, "numbers/numbers.html", context)


@require_POST
@owner_only
def factor(request: HtmxRequest) -> HttpResponse:
    """Take what the ticks say, or go back to plain geometry."""
    figures = Figures.get()
    wanted = Decimal(1) if "plain" in request.POST else suggested(figures, learned(figures))
    try:
        take_factor(wanted, now())
    except PlannerError as error:
        messages.error(request, str(error))
    else:
        messages.success(request, f"Router minutes are reckoned × {wanted} from now on; the plan is being made anew.")
    return redirect("numbers:numbers")


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def fair(request: HtmxRequest, pk: int) -> HttpResponse:
    """The mix for a fair that lies ahead; a tap turns it into a shop-stock order."""
    fair = get_object_or_404(Fair, pk=pk)
    if fair.opens_at <= now():
        return redirect("numbers:sold", pk)
    if request.method == "POST":
        order = order_the_mix(fair, request.POST.get("shown", ""), now())
        if order is None:
            messages.warning(request, "Nothing was ordered: look at the mix once more, it may have changed since.")
            return redirect("numbers:fair", pk)
        messages.success(request, f"Order {order} for the shop’s shelf is taken; the plan is being made anew.")
        return redirect(order)
    mix = mix_for(fair, Plan.objects.in_force(), now())
    return render(request, "numbers/fair.html", {"fair": fair, "mix": mix, "shown": mix.sealed()})


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def sold(request: HtmxRequest, pk: int) -> HttpResponse:
    """What a fair that is over sold, design by design."""
    fair = get_object_or_404(Fair.objects.prefetch_related("sales"), pk=pk)
    form = SoldForm(request.POST if request.method == "POST" else None, fair=fair)
    if form.is_valid():
        with transaction.atomic():
            fair.sales.all().delete()
            FairSale.objects.bulk_create(form.sales(fair))
        messages.success(request, f"What {fair} sold is written down; the next mix knows it.")
        return redirect("numbers:numbers")
    problems = list(problems_of(form))
    status = HTTPStatus.UNPROCESSABLE_ENTITY if problems else HTTPStatus.OK
    return render(request, "numbers/sold.html", {"fair": fair, "form": form, "problems": problems}, status=status)
