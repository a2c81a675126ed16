"""Working out the wood: at a person's word, within seconds, kept until the next time."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from time import monotonic

from django.db import transaction

from shop.figures.models import Figures
from shop.wood.models import WoodPlan
from shop.wood.nesting import nested
from shop.wood.ripping import ripped
from shop.wood.wanted import Wanted

RIPPING_SECONDS = 10.0
NESTING_SECONDS = 5.0


def work_out(wanted: Sequence[Wanted], until: datetime) -> WoodPlan:
    """The rip plan and the nests for these pieces. Raises PlannerError; then what was worked out before stays."""
    figures = Figures.get()
    rip = ripped(wanted, figures, seconds=RIPPING_SECONDS)
    started = monotonic()
    nests = nested(wanted, figures, enough=lambda: monotonic() - started > NESTING_SECONDS)
    return _keep(wanted, until, {"rip": rip, "nests": nests})


@transaction.atomic
def _keep(wanted: Sequence[Wanted], until: datetime, document: dict) -> WoodPlan:
    WoodPlan.objects.all().delete()
    pieces = [piece.pk for each in wanted for piece in each.pieces]
    return WoodPlan.objects.create(until=until, pieces=pieces, document=document)
