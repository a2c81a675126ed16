"""The cusps a bit leaves between its rounds, what sanding them costs, and which step-over costs least in all."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import isfinite, sqrt

from planner.errors import CuttingError
from planner.trade.amounts import not_below_zero
from planner.trade.cutting.tools import Cutter, CutterShape

SANDING_MINUTES_A_THOUSANDTH_FT2 = 0.25
"""A square foot of floor takes so much longer to sand for every thousandth of an inch of cusp. Common practice, no
source: what the workshop's own ticks say is better."""
IN2_A_FT2 = 144
NO_FLOOR = {CutterShape.V, CutterShape.ROUND_OVER}
STEPS = (0.05, 0.075, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.5, 0.6)


def cusp_height_in(cutter: Cutter, step_in: float) -> float:
    """How high a cusp stands on a flat floor between rounds `step_in` apart, in inches.

    A corner of radius r beside a flat of f = D − 2r: none up to f, then r − √(r² − ((s − f)/2)²); a ball is r = D/2.
    Raises CuttingError for a bit that leaves no flat floor, and for a step of 0 or less or wider than the bit.
    Source: geometry; ball-nose tables agree.

    >>> round(cusp_height_in(Cutter("bowl", 0.5), 0.05), 6)
    0.001253
    """
    _check_floor(cutter)
    if not (isfinite(step_in) and 0 < step_in <= cutter.diameter_in * (1 + 1e-9)):
        raise CuttingError(f"Rounds lie more than 0 and at most {cutter.diameter_in:g} in apart, not {step_in:g}.")
    across = max(0.0, (min(step_in, cutter.diameter_in) - cutter.flat_in) / 2)
    r = cutter.corner_in
    return r - sqrt(max(0.0, r**2 - across**2)) if r else 0.0


def step_over_for_cusp_in(cutter: Cutter, cusp_in: float) -> float:
    """How far apart rounds may lie, in inches, so that cusps stand no higher than `cusp_in`. Raises CuttingError for a
    bit that leaves no flat floor, and for a cusp that is none."""
    _check_floor(cutter)
    if not (isfinite(cusp_in) and cusp_in >= 0):
        raise CuttingError(f"A cusp is 0 inches high or more, not {cusp_in:g}.")
    r = cutter.corner_in
    if cusp_in >= r:
        return cutter.diameter_in
    return cutter.flat_in + 2 * sqrt(r**2 - (r - cusp_in) ** 2)


def _check_floor(cutter: Cutter) -> None:
    if cutter.shape in NO_FLOOR:
        raise CuttingError(f"A {cutter.shape} bit leaves no flat floor, so there is no cusp to reckon.")


@dataclass(frozen=True, slots=True)
class StepOverRow:
    """One step-over, as a share of the bit, with what it costs: minutes at the router and at sanding."""

    step_over: float
    router_minutes: float
    cusp_in: float
    sanding_minutes: float

    @property
    def total_minutes(self) -> float:
        return self.router_minutes + self.sanding_minutes


@dataclass(frozen=True)
class StepOverAdvice:
    """Every step-over that was tried, and the one that takes least in all."""

    rows: tuple[StepOverRow, ...]
    best: StepOverRow


def step_over_advice(
    minutes_at: Callable[[float], float],
    cutter: Cutter,
    floor_in2: float,
    steps: Sequence[float] = STEPS,
    sanding_minutes_a_thousandth_ft2: float = SANDING_MINUTES_A_THOUSANDTH_FT2,
) -> StepOverAdvice:
    """Minutes against finish for a floor of so many square inches. `minutes_at` gives the router's for a step-over.

    Raises PlannerError for no step-over, an area or minutes of sanding below 0.
    """
    if not steps:
        raise CuttingError("There is no step-over to compare; give one or more.")
    not_below_zero("floor in square inches", floor_in2)
    not_below_zero("time to sand a cusp in minutes", sanding_minutes_a_thousandth_ft2)
    rows = []
    for step in steps:
        cusp = cusp_height_in(cutter, step * cutter.diameter_in)
        sanding = floor_in2 / IN2_A_FT2 * cusp * 1000 * sanding_minutes_a_thousandth_ft2
        rows.append(StepOverRow(step, minutes_at(step), cusp, sanding))
    return StepOverAdvice(tuple(rows), min(rows, key=lambda row: (row.total_minutes, -row.step_over)))
