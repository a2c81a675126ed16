"""What every page shows around its own matter: the places one may go, who is signed in, how the plan stands."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest
from django.urls import reverse
from django.utils.functional import SimpleLazyObject

from shop.htmx import FLOOR_CHANGED
from shop.plans.in_force import standing_of
from shop.stations.access import is_owner, person_of


@dataclass(frozen=True)
class Place:
    """A word of the navigation. The floor's places are at the thumb; the office's one tap further on a phone."""

    word: str
    url_name: str
    room: str = "floor"
    owner_only: bool = False


PLACES = (
    Place("Today", "day:today"),
    Place("Router", "day:router"),
    Place("Curing", "day:curing"),
    Place("Detail", "day:detail"),
    Place("New order", "orders:new", room="office"),
    Place("Orders", "orders:list", room="office", owner_only=True),
    Place("Fairs", "orders:fairs", room="office", owner_only=True),
    Place("Designs", "designs:list", room="office", owner_only=True),
    Place("Wood", "wood:wood", room="office", owner_only=True),
    Place("Numbers", "numbers:numbers", room="office", owner_only=True),
    Place("Workshop", "stations:workshop", room="office"),
)


def face(request: HttpRequest) -> dict[str, Any]:
    """For templates/base.html. Nothing is read for a piece of a page that doesn't ask for it."""
    if not request.user.is_authenticated:
        return {}
    return {
        "event": FLOOR_CHANGED,
        "places": SimpleLazyObject(lambda: _places(request)),
        "person": SimpleLazyObject(lambda: person_of(request)),
        "is_owner": SimpleLazyObject(lambda: is_owner(request)),
        "standing": SimpleLazyObject(lambda: standing_of(request)),
    }


def _places(request: HttpRequest) -> list[dict[str, Any]]:
    open_to = [place for place in PLACES if is_owner(request) or not place.owner_only]
    here = _where(request, {place.url_name for place in open_to})
    return [
        {
            "word": place.word,
            "href": reverse(place.url_name),
            "room": place.room,
            "is_here": place.url_name == here,
        }
        for place in open_to
    ]


def _where(request: HttpRequest, names: set[str]) -> str:
    """The place a page belongs to: itself, or the first one of its room."""
    match = request.resolver_match
    if match is None or match.view_name in names:
        return match.view_name if match else ""
    firsts = {"day": "day:today", "orders": "orders:list", "stations": "stations:workshop"}
    firsts |= {"designs": "designs:list", "wood": "wood:wood", "numbers": "numbers:numbers"}
    return firsts.get(match.namespace, "")
