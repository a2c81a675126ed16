"""Ways to hold the pieces that are to be cut, compared."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from planner import HoldDownJob, compare_hold_downs, hold_down_advice
from shop.figures.models import Figures
from shop.wood.models import WoodPlan
from shop.wood.wanted import Wanted


def hold_downs(wanted: Sequence[Wanted], known: WoodPlan | None, figures: Figures) -> dict[str, Any]:
    """For these pieces, so many on a panel as were worked out, else one by one."""
    pieces = sum(each.quantity for each in wanted)
    if not pieces:
        return {}
    nests = known.document["nests"]["groups"] if known else []
    panels = sum(len(group["panels"]) for group in nests)
    a_load = max(1, round(sum(group["pieces"] for group in nests) / panels)) if panels else 1
    area_in2 = sum(each.quantity * each.box_in2 for each in wanted) / pieces
    job = HoldDownJob(pieces=pieces, pieces_a_load=min(pieces, a_load), piece_area_in2=area_in2)
    ways = compare_hold_downs(job, figures.hands_dollars_per_hour)
    return {"ways": ways, "says": hold_down_advice(ways, job)}
