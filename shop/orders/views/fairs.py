"""Fairs with what is ready, on the way and late for them."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render
from django.utils.timezone import now
from django.views.decorators.http import require_safe

from shop.htmx import HtmxRequest
from shop.orders.fair_stock import fair_stocks
from shop.orders.models import Fair
from shop.stations.access import owner_only

PAST_SHOWN = 6


@require_safe
@owner_only
def fairs(request: HtmxRequest) -> HttpResponse:
    coming = list(Fair.objects.filter(closes_at__gte=now()))
    past = Fair.objects.filter(closes_at__lt=now()).order_by("-opens_at")[:PAST_SHOWN]
    return render(request, "orders/fairs.html", {"stocks": fair_stocks(coming), "past": past})
