"""What the plan does with wood on the next day that it does anything: what to saw, in which goes to glue."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from typing import Any

from django.utils import timezone

from shop.plans.models import Plan, PlannedStep
from shop.wood.models import WoodPlan
from shop.wood.wanted import Wanted, wanted_until

AT_WOOD = ("rip", "cut", "glue", "unclamp", "flatten")
NIGHT_ENDS = time(4)
"""Who saws past midnight still calls it the same evening."""


@dataclass(frozen=True)
class GlueUp:
    """One panel: its letter and design, its strips in order, its clamps and the caul they want, if any."""

    name: str
    strips: list[str]
    clamps: int
    caul: str


@dataclass(frozen=True)
class Evening:
    """Steps in their order; of what is worked out the boards to open and the panels that are glued together."""

    steps: list[PlannedStep]
    boards: list[dict[str, Any]]
    goes: list[list[GlueUp]]
    no_glue: list[str]
    without_wood: list[str]

    @property
    def starts_at(self) -> datetime:
        return self.steps[0].starts_at


def next_evening(plan: Plan | None, known: WoodPlan | None, panels_in_a_go: int) -> Evening | None:
    """None where the plan does nothing with wood. Without a wood plan it is the steps alone."""
    first = _steps(plan).first()
    if first is None:
        return None
    day = timezone.localdate(first.starts_at)
    until = timezone.make_aware(datetime.combine(day + timedelta(days=1), NIGHT_ENDS))
    steps = list(_steps(plan).filter(starts_at__lt=until).select_related("step"))
    if known is None:
        return Evening(steps, [], [], [], [])
    return _worked_out(steps, wanted_until(plan, until), known.document["rip"], max(1, panels_in_a_go))


def _steps(plan: Plan | None) -> Any:
    return PlannedStep.objects.filter(
        plan=plan, step__kind__in=AT_WOOD, step__begun_at=None, starts_at__isnull=False
    ).order_by("starts_at", "pk")


def _worked_out(
    steps: list[PlannedStep], wanted: Sequence[Wanted], rip: dict[str, Any], panels_in_a_go: int
) -> Evening:
    letters = {key: letter for letter, _, _, key in rip["key"]}
    glued = {f"{row['letter']}{number}": row for row in rip["panels"] for number in row["numbers"]}
    whole = set(rip["whole_tags"])
    tags = {
        f"{letters[each.key]}{number}": f"{letters[each.key]}{number} {each.design}"
        for each in wanted
        if each.key in letters
        for number in range(1, each.quantity + 1)
    }
    to_glue = [tag for tag in tags if tag in glued]
    goes = [to_glue[at : at + panels_in_a_go] for at in range(0, len(to_glue), panels_in_a_go)]
    return Evening(
        steps=steps,
        boards=[board for board in rip["boards"] if not tags.keys().isdisjoint(board["panels"])],
        goes=[[_glue_up(tags[tag], glued[tag]) for tag in go] for go in goes],
        no_glue=[name for tag, name in tags.items() if tag in whole],
        without_wood=[name for tag, name in tags.items() if tag not in glued and tag not in whole],
    )


def _glue_up(name: str, row: dict[str, Any]) -> GlueUp:
    return GlueUp(name, row["strips"], row["clamps"], row["caul"])
