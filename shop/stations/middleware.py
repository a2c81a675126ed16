"""Pages speak the workshop's own time, whatever zone the machine or the phone is in."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from shop.stations.models import Workshop


def shop_clock(get_response: Callable[[HttpRequest], HttpResponse]) -> Callable[[HttpRequest], HttpResponse]:
    """Put the workshop on the request, and its zone in force while the page is made."""

    def middleware(request: HttpRequest) -> HttpResponse:
        request.workshop = Workshop.get()
        with timezone.override(request.workshop.zone):
            return get_response(request)

    return middleware
