"""Pieces whose wood is to be prepared: by the plan in force, until some day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from planner import NM_PER_INCH
from shop.designs.models import Design
from shop.floor.models import Piece
from shop.plans.models import Plan, PlannedStep
from shop.stock.models import Species

PREPARING = ("rip", "cut")
"""The steps that take wood from the rack; a piece with a ready blank has neither."""


@dataclass(frozen=True)
class Wanted:
    """So many pieces of a design in a wood."""

    design: Design
    species: Species
    pieces: tuple[Piece, ...]

    @property
    def quantity(self) -> int:
        return len(self.pieces)

    @property
    def key(self) -> str:
        return f"{self.design.pk}-{self.species.pk}"

    @property
    def box_in2(self) -> float:
        """Of one piece: length times width."""
        return self.design.length_nm * self.design.width_nm / NM_PER_INCH**2

    def __str__(self) -> str:
        return f"{self.design} in {self.species}"


def wanted_until(plan: Plan | None, until: datetime) -> list[Wanted]:
    """By design and wood, in the order in which the plan begins them."""
    if plan is None:
        return []
    rows = PlannedStep.objects.filter(
        plan=plan, step__kind__in=PREPARING, step__begun_at=None, starts_at__lt=until
    ).order_by("starts_at", "pk")
    steps = rows.prefetch_related("step__pieces__line__design", "step__pieces__line__species")
    groups: dict[tuple[int, int], list[Piece]] = {}
    for planned in steps:
        for piece in planned.step.pieces.all():
            groups.setdefault((piece.line.design_id, piece.line.species_id), []).append(piece)
    return [Wanted(own[0].line.design, own[0].line.species, tuple(own)) for own in groups.values()]
