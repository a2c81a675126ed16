"""What to make for a fair: the mix that earns most within the hours that are left, and what one more hour is worth.

An integer program, solved to its optimum with SCIP; the prices of hours are the duals of its linear relaxation, and
beside them what one more hour would really add in whole pieces.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from itertools import pairwise
from math import isfinite
from typing import Any

from planner.errors import PlannerError

CENT = Decimal("0.01")
HOUR = 60
MOST_PRODUCTS = 500
MOST_SECONDS = 10
"""For each program; what was found by then counts."""
NOTHING = 1e-7


@dataclass(frozen=True)
class MixProduct:
    """A design in a wood. `values_dollars` is what the first, second, ... piece adds, never rising; at least `least`
    pieces are made whatever they add. `minutes` is what one piece takes of each resource."""

    id: str
    name: str
    values_dollars: tuple[Decimal, ...]
    minutes: Mapping[str, float]
    least: int = 0

    def __post_init__(self) -> None:
        if any(later > earlier for earlier, later in pairwise(self.values_dollars)):
            raise PlannerError(f"What another {self.name} adds can't rise from piece to piece.")
        if not 0 <= self.least <= len(self.values_dollars):
            raise PlannerError(
                f"{self.name}: at least {self.least} are asked for, and only {len(self.values_dollars)} reckoned with."
            )
        if any(not isfinite(minutes) or minutes < 0 for minutes in self.minutes.values()):
            raise PlannerError(f"{self.name} takes 0 or more minutes of everything.")


@dataclass(frozen=True, slots=True)
class HourPrice:
    """What an hour more of a resource is worth in dollars: in whole pieces, which is what people hear, and at the
    margin: the dual value times 60, which holds for the next minutes and may be far from what an hour brings."""

    resource: str
    at_the_margin: Decimal
    in_whole_pieces: Decimal

    @property
    def says(self) -> str:
        if self.at_the_margin <= 0 and self.in_whole_pieces <= 0:
            return f"There are {self.resource} hours to spare: one more is worth nothing."
        if self.in_whole_pieces <= 0:
            return (
                f"One more {self.resource} hour adds no whole piece; by the minute it is worth "
                f"{_said(self.at_the_margin)} dollars an hour at the margin."
            )
        return f"One more {self.resource} hour is worth {_said(self.in_whole_pieces)} dollars."


@dataclass(frozen=True)
class Mix:
    """How many of each product, by id; what they add together; minutes used; what an hour more would be worth."""

    pieces: Mapping[str, int]
    dollars: Decimal
    used_minutes: Mapping[str, float]
    hour_prices: tuple[HourPrice, ...]


def best_mix(products: Sequence[MixProduct], capacity_minutes: Mapping[str, float]) -> Mix:
    """The whole numbers of pieces that add most within the minutes of every resource.

    A resource that no capacity names is without limit. Raises PlannerError where the least numbers alone don't fit,
    naming the resource.
    """
    if len(products) > MOST_PRODUCTS:
        raise PlannerError(f"A mix of more than {MOST_PRODUCTS} products is too many; leave some out.")
    for resource, minutes in capacity_minutes.items():
        if not isfinite(minutes) or minutes < 0:
            raise PlannerError(f"{resource} has 0 or more minutes left, not {minutes:g}.")
    _check_least(products, capacity_minutes)
    pieces = _solved(products, capacity_minutes)
    dollars = _worth(products, pieces)
    duals = _duals(products, capacity_minutes)
    prices = []
    for resource, minutes in capacity_minutes.items():
        larger = {**capacity_minutes, resource: minutes + HOUR}
        more = _worth(products, _solved(products, larger)) - dollars
        prices.append(HourPrice(resource, _cents(Decimal(repr(duals[resource] * HOUR))), _cents(more)))
    used = {
        resource: sum(pieces[product.id] * product.minutes.get(resource, 0.0) for product in products)
        for resource in capacity_minutes
    }
    return Mix(pieces, _cents(dollars), used, tuple(prices))


def _check_least(products: Sequence[MixProduct], capacity: Mapping[str, float]) -> None:
    for resource, minutes in capacity.items():
        needed = sum(product.least * product.minutes.get(resource, 0.0) for product in products)
        if needed > minutes + NOTHING:
            raise PlannerError(
                f"What is promised already needs {needed / HOUR:.1f} {resource} hours, "
                f"and {minutes / HOUR:.1f} are left; promise less or find more hours."
            )


def _solved(products: Sequence[MixProduct], capacity: Mapping[str, float]) -> dict[str, int]:
    if not any(product.values_dollars for product in products):
        return {product.id: 0 for product in products}  # the solver calls a program of nothing abnormal
    from ortools.linear_solver import pywraplp

    solver, made, _ = _program(products, capacity, whole=True)
    solver.SetTimeLimit(MOST_SECONDS * 1000)
    exactly = pywraplp.MPSolverParameters()
    exactly.SetDoubleParam(exactly.RELATIVE_MIP_GAP, 0.0)
    if solver.Solve(exactly) not in {solver.OPTIMAL, solver.FEASIBLE}:
        raise PlannerError(f"No mix was found within {MOST_SECONDS} seconds; leave some designs out.")
    return {
        product.id: sum(round(piece.solution_value()) for piece in pieces)
        for product, pieces in zip(products, made, strict=True)
    }


def _duals(products: Sequence[MixProduct], capacity: Mapping[str, float]) -> dict[str, float]:
    if not any(product.values_dollars for product in products):
        return dict.fromkeys(capacity, 0.0)
    solver, _, limits = _program(products, capacity, whole=False)
    solver.Solve()
    return {resource: max(0.0, limit.dual_value()) for resource, limit in limits.items()}


def _program(
    products: Sequence[MixProduct], capacity: Mapping[str, float], *, whole: bool
) -> tuple[Any, list[list[Any]], dict[str, Any]]:
    """A variable for each piece: since values fall, the first pieces are taken first."""
    from ortools.linear_solver import pywraplp

    solver = pywraplp.Solver.CreateSolver("SCIP" if whole else "GLOP")
    limits = {resource: solver.Constraint(-solver.infinity(), minutes) for resource, minutes in capacity.items()}
    goal = solver.Objective()
    goal.SetMaximization()
    made = []
    for product in products:
        pieces = []
        for n, value in enumerate(product.values_dollars):
            least = 1 if n < product.least else 0
            piece = solver.IntVar(least, 1, "") if whole else solver.NumVar(least, 1, "")
            goal.SetCoefficient(piece, float(value))
            for resource, limit in limits.items():
                limit.SetCoefficient(piece, product.minutes.get(resource, 0.0))
            pieces.append(piece)
        made.append(pieces)
    return solver, made, limits


def _worth(products: Sequence[MixProduct], pieces: Mapping[str, int]) -> Decimal:
    return sum((sum(product.values_dollars[: pieces[product.id]], Decimal(0)) for product in products), Decimal(0))


def _cents(dollars: Decimal) -> Decimal:
    return dollars.quantize(CENT, ROUND_HALF_UP)


def _said(dollars: Decimal) -> str:
    return f"{dollars:.0f}" if dollars >= 10 else f"{dollars:.2f}"
