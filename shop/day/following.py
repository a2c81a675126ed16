"""What comes next for the wood that has been through a step."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from django.db.models import F

from shop.day.of_a_step import start_of
from shop.floor.models import Step
from shop.plans.models import Plan, PlannedStep


def following(plan: Plan | None, steps: Mapping[int, Step]) -> dict[int, PlannedStep]:
    """For each of these begun steps, by key: the next step of any of its pieces in the plan. Two queries."""
    pieces_of = _pieces_of(steps)
    planned_for = _planned_for(plan, {piece for pieces in pieces_of.values() for piece in pieces})
    found = {}
    for pk, step in steps.items():
        ahead = [each for piece in pieces_of[pk] for each in planned_for[piece] if _is_after(each, step)]
        if ahead:
            found[pk] = min(ahead, key=start_of)
    return found


def _pieces_of(steps: Mapping[int, Step]) -> dict[int, set[int]]:
    pieces: dict[int, set[int]] = defaultdict(set)
    for step, piece in Step.pieces.through.objects.filter(step_id__in=steps).values_list("step_id", "piece_id"):
        pieces[step].add(piece)
    return pieces


def _planned_for(plan: Plan | None, pieces: set[int]) -> dict[int, list[PlannedStep]]:
    planned: dict[int, list[PlannedStep]] = defaultdict(list)
    rows = PlannedStep.objects.filter(plan=plan, starts_at__isnull=False, step__pieces__in=pieces)
    rows = rows.annotate(piece=F("step__pieces")).select_related("step__tick")
    for each in rows.only("starts_at", "step__what", "step__kind", "step__begun_at", "step__tick"):
        planned[each.piece].append(each)
    return planned


def _is_after(planned: PlannedStep, step: Step) -> bool:
    return planned.step_id != step.pk and start_of(planned) > step.begun_at
