"""Who may do what: the owner everything; the partner the day's pages, ticks and own hours."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse

from shop.stations.models import Person

View = Callable[..., HttpResponse]


def person_of(request: HttpRequest) -> Person | None:
    """The person who is signed in; an administrator without a person is nobody on the floor."""
    return getattr(request.user, "person", None)


def is_owner(request: HttpRequest) -> bool:
    person = person_of(request)
    return request.user.is_superuser or (person is not None and person.is_owner)


def owner_only(view: View) -> View:
    """Refuse anybody but the owner, in one sentence."""

    @wraps(view)
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if not is_owner(request):
            raise PermissionDenied("This page is the owner's.")
        return view(request, *args, **kwargs)

    return guarded
