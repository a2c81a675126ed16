"""Makers of exchange documents: a good problem, the same with one thing changed, and every way to spoil a document."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from typing import Any

GOOD = {
    "format": "workshop-steps/1",
    "origin": "2026-03-02T00:00:00-05:00",
    "now": 480,
    "people": [{"id": "ana", "skills": ["wood"], "hours": [[480, 720], [760, 1020]]}],
    "stations": [
        {
            "id": "router",
            "capacity": 1,
            "hours": None,
            "start_state": "bowl",
            "changeovers": [{"from": "bowl", "to": "vee", "minutes": 7}],
            "changeover_default": 5,
        },
        {"id": "rack", "capacity": 20, "hours": [[0, 2000]]},
    ],
    "steps": [
        {
            "id": "cut",
            "segments": [{"minutes": 10, "need": "hands"}],
            "skill": "wood",
            "stations": [{"any_of": ["router"], "load": 1}],
            "state_in": "vee",
            "state_out": None,
            "release": None,
            "begun": None,
            "about": {"kind": "route"},
        },
        {"id": "oil", "segments": [{"minutes": 5, "need": "hands"}], "skill": "wood", "stations": []},
    ],
    "links": [{"from": "cut", "to": "oil", "min_wait": 0, "max_wait": 60, "also": [[2880, None]]}],
    "holds": [{"station": "rack", "load": 3, "from": "cut", "to": "oil"}],
    "orders": [{"id": "o1", "steps": ["oil"], "due": 1000, "weight": 1.5, "hard": True}],
    "cost": {"late_hour": 2},
}


def changed(*path_and_value: Any, document: dict = GOOD) -> dict:
    """A document (the good one) with one thing in it changed; the last word is the new value, DROP takes it out."""
    *path, name, value = path_and_value
    document = copy.deepcopy(document)
    place = document
    for part in path:
        place = place[part]
    if value == "DROP":
        del place[name]
    else:
        place[name] = value
    return document


def nested(depth: int) -> list:
    """A list in a list in a list."""
    value: list = []
    for _ in range(depth):
        value = [value]
    return value


HOSTILE = (
    *(None, True, False, -1, 0, 1, 1.5, 480.0, 10**7, -(10**7), 10**10, 10**30, 1e308, float("nan"), float("inf")),
    *("", "cut", "x" * 10_000, "a\nb", "\ud800"),
    *([], [None], {}, {"id": 1}, [[]], [[0, 10**7]], [[-(10**7), 10**7]], nested(500)),
)


def places(value: Any, path: tuple = ()) -> Iterator[tuple]:
    """The way to each value in a document."""
    if path:
        yield path
    if isinstance(value, dict | list):
        for name in value if isinstance(value, dict) else range(len(value)):
            yield from places(value[name], (*path, name))


def spoilt(document: dict) -> Iterator[dict]:
    """The document with each of its values left out, and with each hostile value in its stead."""
    for path in places(document):
        for value in ("DROP", *HOSTILE):
            yield changed(*path, value, document=document)
