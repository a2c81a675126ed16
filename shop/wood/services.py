"""Working out the wood: at a person's word, within seconds, kept until the next time."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from hashlib import sha256
from time import monotonic

from django.db import transaction

from shop.figures.models import Figures
from shop.stations.models import Station
from shop.stock.models import Board, Glue
from shop.wood.models import SHAPE, WoodPlan
from shop.wood.nesting import nested
from shop.wood.ripping import ripped
from shop.wood.wanted import Wanted

RIPPING_SECONDS = 10.0
NESTING_SECONDS = 5.0


def work_out(wanted: Sequence[Wanted], until: datetime) -> WoodPlan:
    """The rip plan and the nests for these pieces. Raises PlannerError; then what was worked out before stays."""
    figures, as_it_was = Figures.get(), made_from()
    rip = ripped(wanted, figures, seconds=RIPPING_SECONDS)
    started = monotonic()
    nests = nested(wanted, figures, enough=lambda: monotonic() - started > NESTING_SECONDS)
    return _keep(wanted, until, {"shape": SHAPE, "rip": rip, "nests": nests}, as_it_was)


@transaction.atomic
def _keep(wanted: Sequence[Wanted], until: datetime, document: dict, as_it_was: str) -> WoodPlan:
    WoodPlan.objects.all().delete()
    pieces = [piece.pk for each in wanted for piece in each.pieces]
    return WoodPlan.objects.create(until=until, pieces=pieces, document=document, made_from=as_it_was)


def made_from() -> str:
    """A digest of all that a wood plan is made from besides pieces: boards, figures, glue, and the planer's opening."""
    rows = [
        list(Board.objects.order_by("pk").values_list()),
        list(Figures.objects.values_list()),
        list(Glue.objects.filter(in_use=True).values_list()),
        list(Station.objects.order_by("pk").values_list("opening_nm", "bed_length_nm", "bed_width_nm")),
    ]
    return sha256(repr(rows).encode()).hexdigest()
