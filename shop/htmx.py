"""One way to answer htmx and plain browsers alike: same address, same context, same template."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django_htmx.middleware import HtmxDetails


class HtmxRequest(HttpRequest):
    """A request as our middleware leaves it."""

    htmx: HtmxDetails


def redrawn(request: HtmxRequest, piece: str, context: dict[str, Any], *, otherwise: str, tell: str = "") -> HttpResponse:
    """The named piece of a page for htmx, else back to the page it belongs to.

    `piece` is `template.html#name`; `otherwise` a url name or path; `tell` an event that other pieces listen for.
    """
    if not request.htmx:
        return redirect(otherwise)
    response = render(request, piece, context)
    if tell:
        response["HX-Trigger"] = tell
    return response
