"""Minutes against finish: what another step-over would take at the router and at the sander."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor
from typing import Any

from planner import GRAIN_UM, Machine, StepOverAdvice, grits_in, step_over_advice, step_over_for_cusp_in
from shop.designs import shapes
from shop.designs.machines import cutter_of
from shop.designs.minutes import THE_POCKETS, routed_of, step_over_of
from shop.designs.models import Design, Pass
from shop.figures.models import Figures
from shop.plots import Curves, curves

UM_AN_INCH = 25_400
TRIED_STEPS = (10, 15, 20, 25, 30, 40, 50, 60)
"""Step-overs that the advice compares, in per cent of the bit."""


@dataclass(frozen=True)
class Advice:
    """Minutes against finish for one pass, as rows and as a plot."""

    row: Pass
    advice: StepOverAdvice
    plot: Curves
    grits: tuple[int, ...]

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

    @property
    def sanding(self) -> str:
        """Which grits follow, and up to which step-over the first of them finds cusps no higher than its own grain."""
        first, cutter = self.grits[0], cutter_of(self.row.bit)
        grain_in = GRAIN_UM[first] / UM_AN_INCH
        fine = floor(100 * step_over_for_cusp_in(cutter, grain_in) / cutter.diameter_in)
        grits = ", ".join(f"P{grit}" for grit in self.grits)
        return (
            f"Sand with {grits}. Up to {fine} % cusps are no higher than a grain of P{first}, {grain_in:.4f} in, and "
            "go with its first strokes."
        )


def advice_for(design: Design, passes: Sequence[Pass], machine: Machine, figures: Figures) -> Advice | None:
    """For the last pass over the pocket's floor: it leaves the cusps that are sanded. The workshop's own factor counts
    here as everywhere."""
    floors = [row for row in passes if row.kind in THE_POCKETS]
    if not floors:
        return None
    row, factor = floors[-1], float(figures.router_factor)
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
    return Advice(row, advice, plot, grits_in(figures.grits))
