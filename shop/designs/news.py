"""A bit or a machine that changed: minutes that were worked out with it are worked out anew."""

from __future__ import annotations

from django.db import transaction

from planner import PlannerError
from shop.designs.minutes import Bench, reckon
from shop.designs.models import Design
from shop.signals import work_changed
from shop.stations.models import Station
from shop.stock.models import Bit


def listen() -> None:
    """Before the plan hears of it: it reads what is written here."""
    for sender in (Bit, Station):
        work_changed.connect(reckon_all, sender=sender, dispatch_uid=f"reckon designs after {sender.__name__}")


def reckon_all(**_: object) -> None:
    """Every design that still can be; the others keep their minutes, and their pages say what is wrong."""
    bench = Bench.as_it_stands()
    for design in Design.objects.prefetch_related("passes__bit"):
        try:
            with transaction.atomic():
                reckon(design, bench)
        except PlannerError:
            continue
