"""Minutes against finish: what another step-over would take at the router and at the sander."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from planner import Machine, StepOverAdvice, step_over_advice
from shop.designs import shapes
from shop.designs.machines import cutter_of
from shop.designs.minutes import THE_POCKETS, routed_of, step_over_of
from shop.designs.models import Design, Pass
from shop.plots import Curves, curves

TRIED_STEPS = (10, 15, 20, 25, 30, 40, 50, 60)
"""Step-overs that the advice compares, in per cent of the bit."""


@dataclass(frozen=True)
class Advice:
    """Minutes against finish for one pass, as rows and as a plot."""

    row: Pass
    advice: StepOverAdvice
    plot: Curves

    @property
    def now(self) -> int:
        return step_over_of(self.row)

    @property
    def best_percent(self) -> int:
        return round(self.advice.best.step_over * 100)

    @property
    def rows(self) -> list[tuple[int, Any]]:
        return [(round(row.step_over * 100), row) for row in self.advice.rows]

    @property
    def says(self) -> str:
        return (
            f"{self.best_percent} % takes least in all: {self.advice.best.router_minutes:.1f} min at the router and "
            f"{self.advice.best.sanding_minutes:.1f} min of sanding the cusps."
        )


def advice_for(design: Design, passes: Sequence[Pass], machine: Machine, factor: float) -> Advice | None:
    """For the last pass over the pocket's floor: it leaves the cusps that are sanded. `factor` is the workshop's own,
    by which the router's minutes are counted everywhere."""
    floors = [row for row in passes if row.kind in THE_POCKETS]
    if not floors:
        return None
    row = floors[-1]
    advice = step_over_advice(
        lambda step: routed_of(design, row, machine, step_over_percent=round(step * 100)).minutes * factor,
        cutter_of(row.bit),
        sum(pocket.area for pocket in shapes.pockets(design)),
        tuple(step / 100 for step in TRIED_STEPS),
    )
    lines = [
        ("router and sanding", [(row.step_over * 100, row.total_minutes) for row in advice.rows]),
        ("router", [(row.step_over * 100, row.router_minutes) for row in advice.rows]),
        ("sanding", [(row.step_over * 100, row.sanding_minutes) for row in advice.rows]),
    ]
    plot = curves(lines, x_label="step-over, % of the bit", y_label="Minutes", mark=float(step_over_of(row)))
    return Advice(row, advice, plot)
