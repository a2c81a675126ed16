"""Column generation: the linear program over patterns, which grows by the patterns that would better it.

Source: Gilmore and Gomory, A Linear Programming Approach to the Cutting-Stock Problem, 1961 and 1963; in two stages,
1965.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import ceil, inf
from typing import Any

from planner.layout.cutting.deadline import Deadline
from planner.layout.cutting.question import Pattern, Question

BETTER = 1e-7
"""A column that betters the program by less than this share of the dearest stock betters nothing."""


@dataclass(frozen=True, slots=True)
class Relaxed:
    """The program's answer: how often each pattern is cut, in fractions, and what no whole plan goes below."""

    cut: tuple[tuple[Pattern, float], ...]
    bound: int


class Columns:
    """The linear program of one question: least weight not made (`short_limit` None), or least cost within it."""

    def __init__(self, question: Question, patterns: Iterable[Pattern], short_limit: int | None) -> None:
        from ortools.linear_solver import pywraplp  # type: ignore[import-untyped]

        self.question = question
        self.for_short = short_limit is None
        self._lp = pywraplp.Solver.CreateSolver("GLOP")
        self._scale = max(_prices(question, self.for_short), default=1)
        self._known: set[Pattern] = set()
        self._columns: list[tuple[Pattern, Any]] = []
        self._rows(short_limit)
        self.add(patterns)

    def _rows(self, short_limit: int | None) -> None:
        lp, question = self._lp, self.question
        lp.Objective().SetMinimization()
        self._items = [lp.Constraint(0, inf) for _ in question.sizes]
        self._stocks = [lp.Constraint(-inf, stock.quantity) for stock in question.stocks]
        limit = lp.Constraint(-inf, inf if short_limit is None else short_limit)
        for want in question.wants:
            row = lp.Constraint(want.quantity, want.quantity)
            short = lp.NumVar(0, want.quantity, "")
            row.SetCoefficient(short, 1)
            limit.SetCoefficient(short, want.weight)
            lp.Objective().SetCoefficient(short, want.weight / self._scale if self.for_short else 0)
            for way in want.ways:
                made = lp.NumVar(0, inf, "")
                row.SetCoefficient(made, 1)
                for item, count in way.items():
                    self._items[item].SetCoefficient(made, -count)

    def add(self, patterns: Iterable[Pattern]) -> bool:
        """Whether any of them was new."""
        new = [each for each in dict.fromkeys(patterns) if each not in self._known]
        for pattern in new:
            column = self._lp.NumVar(0, inf, "")
            for item, count in pattern.counts.items():
                self._items[item].SetCoefficient(column, count)
            self._stocks[pattern.stock].SetCoefficient(column, 1)
            self._lp.Objective().SetCoefficient(column, self._cost(pattern.stock))
            self._known.add(pattern)
            self._columns.append((pattern, column))
        return bool(new)

    def relaxed(self, deadline: Deadline) -> Relaxed | None:
        """The answer once no pattern betters it, or when time is up; None where nothing keeps within the limit."""
        bound = -inf
        while self._lp.Solve() == self._lp.OPTIMAL:
            worth = [max(0.0, row.dual_value()) for row in self._items]
            found = [self.question.cutter.best(s, worth, self.question.most) for s in range(len(self._stocks))]
            gains = [self._gain(pattern, worth) for pattern in found]
            value = self._lp.Objective().Value()
            missed = sum(gain * stock.quantity for gain, stock in zip(gains, self.question.stocks, strict=True))
            bound = max(bound, value - missed)
            cut = tuple((pattern, var.solution_value()) for pattern, var in self._columns)
            better = [pattern for pattern, gain in zip(found, gains, strict=True) if gain > 0]
            if not self.add(better) or deadline.left() == 0:
                whole = ceil((bound - BETTER) * self._scale - BETTER)
                return Relaxed(tuple(each for each in cut if each[1] > BETTER), max(0, whole))
        return None

    def _gain(self, pattern: Pattern, worth: Sequence[float]) -> float:
        """What one of the stock cut by the pattern would save, 0 for next to nothing."""
        value = sum(worth[item] * count for item, count in pattern.counts.items())
        gain = value + self._stocks[pattern.stock].dual_value() - self._cost(pattern.stock)
        return gain if gain > BETTER else 0.0

    def _cost(self, stock: int) -> float:
        return 0.0 if self.for_short else self.question.stocks[stock].cost / self._scale

    @property
    def patterns(self) -> list[Pattern]:
        return [pattern for pattern, _ in self._columns]


def _prices(question: Question, for_short: bool) -> list[int]:
    return [want.weight for want in question.wants] if for_short else [stock.cost for stock in question.stocks]
