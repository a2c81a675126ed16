"""The order pad: an order logged in a few taps."""

from __future__ import annotations

from http import HTTPStatus

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from shop.htmx import HtmxRequest
from shop.orders import services
from shop.orders.forms import OrderPad
from shop.orders.models import Order
from shop.stations.access import is_owner

REMEMBERED = "last order"


@require_http_methods(["GET", "HEAD", "POST"])
def new(request: HtmxRequest) -> HttpResponse:
    """Anybody who is signed in may log an order; the price is the owner's to set."""
    facts = {
        "last": request.session.get(REMEMBERED, {}),
        "zone": request.workshop.zone,
        "sets_prices": is_owner(request),
    }
    if request.method != "POST":
        return _ask(request, OrderPad(None, **facts))
    if "another" in request.POST:
        return _ask(request, OrderPad.with_another_line(request.POST, **facts))
    pad = OrderPad(request.POST, **facts)
    if not pad.is_valid():
        return _ask(request, pad, status=HTTPStatus.UNPROCESSABLE_ENTITY)
    taken = services.take_order(pad.draft())
    request.session[REMEMBERED] = pad.remember()
    return redirect(f"{reverse('orders:new')}?taken={taken.reference}")


def _ask(request: HtmxRequest, pad: OrderPad, *, status: int = HTTPStatus.OK) -> HttpResponse:
    taken = Order.objects.with_names().filter(reference=request.GET.get("taken", "")).first()
    problems = list(pad.problems()) if status != HTTPStatus.OK else []
    return render(request, "orders/new.html", {"pad": pad, "taken": taken, "problems": problems}, status=status)
