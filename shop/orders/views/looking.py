"""Orders to look at, and what is said of one: artwork, cancel, hand over, open again."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.timezone import now
from django.views.decorators.http import require_POST, require_safe

from shop.htmx import HtmxRequest, redrawn
from shop.orders import services
from shop.orders.forms import FilterForm
from shop.orders.models import Line, Order
from shop.orders.pieces import food_safe_from, pieces_of
from shop.stations.access import owner_only

A_PAGE = 50


@require_safe
@owner_only
def orders(request: HtmxRequest) -> HttpResponse:
    form = FilterForm(request.GET)
    chosen = form.chosen(Order.objects.with_state().with_reason().with_names()).worst_first()
    page = Paginator(chosen, A_PAGE).get_page(request.GET.get("page"))
    return render(request, "orders/list.html", {"form": form, "page": page, "asked": _asked(request)})


@require_safe
@owner_only
def order(request: HtmxRequest, pk: int) -> HttpResponse:
    return render(request, "orders/order.html", _about(pk))


@require_POST
@owner_only
def artwork(request: HtmxRequest, pk: int) -> HttpResponse:
    line = get_object_or_404(Line.objects.select_related("order", "design", "species"), pk=pk)
    if request.POST.get("artwork") in Line.Artwork.values:
        services.set_artwork(line, request.POST["artwork"])
        line.refresh_from_db(fields=["artwork"])
    return redrawn(request, "orders/order.html#artwork", {"line": line}, otherwise=line.order.get_absolute_url())


@require_POST
@owner_only
def cancel(request: HtmxRequest, pk: int) -> HttpResponse:
    order = get_object_or_404(Order, pk=pk)
    return _say(request, order, "is cancelled", stands=services.cancel(order, at=now()))


@require_POST
@owner_only
def hand_over(request: HtmxRequest, pk: int) -> HttpResponse:
    order = get_object_or_404(Order, pk=pk)
    return _say(request, order, "is handed over", stands=services.hand_over(order, at=now()))


@require_POST
@owner_only
def reopen(request: HtmxRequest, pk: int) -> HttpResponse:
    order = get_object_or_404(Order, pk=pk)
    return _say(request, order, "is open again", stands=services.reopen(order))


def _say(request: HtmxRequest, order: Order, done: str, *, stands: bool) -> HttpResponse:
    if stands:
        messages.success(request, f"Order {order} {done}.")
    else:
        messages.warning(request, f"Order {order} was changed by somebody else meanwhile; this is how it stands.")
    return redirect(order)


def _about(pk: int) -> dict[str, Any]:
    order = get_object_or_404(Order.objects.with_state().with_reason().with_names(), pk=pk)
    pieces, safe_from = pieces_of(order), food_safe_from(order)
    lines = [(line, pieces.get(line.pk, []), safe_from.get(line.pk)) for line in order.lines.all()]
    return {"order": order, "lines": lines}


def _asked(request: HtmxRequest) -> str:
    """The filters as they stand in the address, for the links to other pages."""
    asked = request.GET.copy()
    asked.pop("page", None)
    return asked.urlencode()
