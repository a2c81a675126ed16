"""One way to answer htmx and plain browsers alike: same address, same context, same template."""

from __future__ import annotations

from collections.abc import Callable
from http import HTTPStatus
from typing import Any
from urllib.parse import urlencode

from django.conf import settings
from django.contrib.messages import get_messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render, resolve_url
from django.template.loader import render_to_string
from django.utils.http import url_has_allowed_host_and_scheme
from django_htmx.http import HttpResponseClientRedirect
from django_htmx.middleware import HtmxDetails

FLOOR_CHANGED = "floor-changed"
"""Sent with the answer to a tick or anything else done on the floor; the pieces of a page that show it listen."""


class HtmxRequest(HttpRequest):
    """A request as our middleware leaves it."""

    htmx: HtmxDetails


def redrawn(
    request: HtmxRequest, piece: str, context: dict[str, Any], *, otherwise: str, tell: str = ""
) -> HttpResponse:
    """The named piece of a page for htmx, else back to the page it belongs to.

    `piece` is `template.html#name`; `otherwise` a url name or path; `tell` an event that other pieces listen for.
    """
    if not request.htmx:
        return redirect(otherwise)
    response = render(request, piece, context)
    if tell:
        response["HX-Trigger"] = tell
    return response


def told(request: HtmxRequest, *, event: str, otherwise: str) -> HttpResponse:
    """What there is to say, and an event for whatever shows it; a plain browser goes back to its page."""
    if not request.htmx:
        return redirect(otherwise)
    response = _news(request)
    response["HX-Trigger"] = event
    return response


def drawn(request: HtmxRequest, template: str, piece: str, context: dict[str, Any]) -> HttpResponse:
    """A page; for htmx only its named piece, and with it what there is to say."""
    if not request.htmx:
        return render(request, template, context)
    return render(request, f"{template}#{piece}", context)


def _news(request: HttpRequest) -> HttpResponse:
    return HttpResponse(render_to_string("_messages.html", {"messages": get_messages(request), "oob": True}))


def back_to(request: HttpRequest, otherwise: str = "/") -> str:
    """The page of ours that a form says it stands on (`next`), else `otherwise`."""
    wanted = request.POST.get("next", "")
    ours = url_has_allowed_host_and_scheme(wanted, {request.get_host()}, require_https=request.is_secure())
    return wanted if ours else otherwise


def sign_in_on_a_whole_page(get_response: Callable[[HttpRequest], HttpResponse]) -> Callable[..., HttpResponse]:
    """A session that ran out shows the sign-in as a page of its own, never inside a piece of another."""

    def middleware(request: HtmxRequest) -> HttpResponse:
        response = get_response(request)
        if request.htmx and response.status_code == HTTPStatus.FOUND and _is_sign_in(response["Location"]):
            return HttpResponseClientRedirect(
                f"{resolve_url(settings.LOGIN_URL)}?{urlencode({'next': _page(request)})}"
            )
        return response

    return middleware


def _is_sign_in(location: str) -> bool:
    return location.split("?", maxsplit=1)[0] == resolve_url(settings.LOGIN_URL)


def _page(request: HtmxRequest) -> str:
    return request.htmx.current_url_abs_path or "/"
