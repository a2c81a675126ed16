"""Whole plans chosen by CP-SAT: among patterns that are known, or stock by stock with what each one has room for."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Any

from planner.layout.cutting.deadline import Deadline
from planner.layout.cutting.question import Pattern, Question, Read, Room
from planner.layout.cutting.whole import Chosen, Cuts

WORKERS = 8  # strategies, more than cores: some prove what others only find


class Choice:
    """What both models share: how each want is made, the objective, and the answer read back."""

    def __init__(self, question: Question, start: Chosen, short_limit: int | None, at_least: int) -> None:
        from ortools.sat.python import cp_model

        self.cp = cp_model
        self.question, self.start, self.short_limit, self.at_least = question, start, short_limit, at_least
        self.fewest_items = False
        """Not the least cost but the fewest items, for a choice within stock that is opened anyway."""
        self.model = cp_model.CpModel()
        wants = question.wants
        self.made = [[self.model.new_int_var(0, want.quantity, "") for _ in want.ways] for want in wants]
        self.used: list[list[Any]] = [[] for _ in question.sizes]
        for want, row in zip(wants, self.made, strict=True):
            self.model.add(sum(row) <= want.quantity)
            for way, var in zip(want.ways, row, strict=True):
                for item, count in way.items():
                    self.used[item].append(count * var)
        self.short = sum(w.weight * (w.quantity - sum(row)) for w, row in zip(wants, self.made, strict=True))
        for row, counts in zip(self.made, start.made, strict=True):
            for var, value in zip(row, counts, strict=True):
                self.model.add_hint(var, value)

    def _items_used(self) -> Any:
        wants = zip(self.question.wants, self.made, strict=True)
        return sum(sum(way.values()) * var for want, row in wants for way, var in zip(want.ways, row, strict=True))

    def best(self, cost: Any, read: Callable[[Any], Cuts], deadline: Deadline) -> Chosen:
        """The best plan found and its bound in this model; the plan to start from where none was found."""
        goal = self._items_used() if self.fewest_items else self.short if self.short_limit is None else cost
        if self.short_limit is not None:
            self.model.add(self.short <= self.short_limit)
        self.model.add(goal >= self.at_least)
        self.model.minimize(goal)
        solver = self.cp.CpSolver()
        solver.parameters.max_time_in_seconds = max(0.05, deadline.left())
        solver.parameters.num_workers = WORKERS
        solver.parameters.random_seed = 0
        status = solver.solve(self.model)
        if status not in {self.cp.OPTIMAL, self.cp.FEASIBLE}:
            return replace(self.start, bound=self.at_least)
        bound = max(self.at_least, round(solver.best_objective_bound))
        ways = tuple(tuple(solver.value(var) for var in row) for row in self.made)
        return Chosen(read(solver), ways, solver.value(self.short), solver.value(cost), bound)


def chosen_among(patterns: Sequence[Pattern], choice: Choice, deadline: Deadline) -> Chosen:
    """The best whole plan over these patterns; its bound holds for them alone."""
    model, question = choice.model, choice.question
    times = {each: model.new_int_var(0, question.stocks[each.stock].quantity, "") for each in dict.fromkeys(patterns)}
    there: list[list[Any]] = [[] for _ in question.sizes]
    opened: list[list[Any]] = [[] for _ in question.stocks]
    for pattern, count in times.items():
        model.add_hint(count, choice.start.cut.get(pattern, 0))
        opened[pattern.stock].append(count)
        for item, each in pattern.counts.items():
            there[item].append(each * count)
    for cut, taken in zip(there, choice.used, strict=True):
        model.add(sum(cut) >= sum(taken))
    for stock, counts in zip(question.stocks, opened, strict=True):
        model.add(sum(counts) <= stock.quantity)
    cost = sum(question.stocks[pattern.stock].cost * count for pattern, count in times.items())

    def read(solver: Any) -> Cuts:
        return {pattern: solver.value(count) for pattern, count in times.items() if solver.value(count)}

    return choice.best(cost, read, deadline)


def chosen_one_by_one(rooms: Sequence[Sequence[Room]], choice: Choice, deadline: Deadline) -> Chosen:
    """The best whole plan with the `rooms` of each stock, every one told for itself; its bound is a bound."""
    model, question = choice.model, choice.question
    there: list[list[Any]] = [[] for _ in question.sizes]
    readers: list[Read] = []
    cost: Any = 0
    for stock, alike in enumerate(rooms):
        opened = [model.new_bool_var("") for _ in alike]
        for one, other in pairwise(opened):
            model.add_implication(other, one)
        for room, each in zip(alike, opened, strict=True):
            counts, reader = room.say(model, each)
            readers.append(reader)
            for item, count in enumerate(counts):
                there[item].append(count)
        cost += question.stocks[stock].cost * sum(opened)
    for cut, taken in zip(there, choice.used, strict=True):
        model.add(sum(cut) >= sum(taken))

    def read(solver: Any) -> Cuts:
        cut: Cuts = {}
        for pattern in [reader(solver) for reader in readers]:
            if pattern.counts:
                cut[pattern] = cut.get(pattern, 0) + 1
        return cut

    return choice.best(cost, read, deadline)
