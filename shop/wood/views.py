"""Wood."""

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from shop.htmx import HtmxRequest
from shop.stations.access import owner_only


@require_safe
@owner_only
def wood(request: HtmxRequest) -> HttpResponse:
    return render(request, "wood/wood.html")
