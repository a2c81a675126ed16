"""Whole patterns: a first plan that fills stock after stock, and the best choice among known patterns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from planner.layout.cutting.columns import BETTER, Columns
from planner.layout.cutting.deadline import Deadline
from planner.layout.cutting.question import Pattern, Question

Cuts = dict[Pattern, int]
WORKERS = 2


@dataclass(frozen=True, slots=True)
class Chosen:
    """A whole plan: the patterns, the ways, and what is proved of its objective among the patterns it chose from."""

    cut: Cuts
    made: tuple[tuple[int, ...], ...]
    short: int
    cost: int
    bound: int = 0


def filled_in_turn(question: Question, ways: Sequence[int] | None = None) -> Chosen:
    """A plan that makes every want in one way (its first, unless `ways` says which) and fills stock by stock.

    Each stock opened is the one that is fullest for its cost; what finds no stock is short.
    """
    left, stock_left = _needed(question, ways), [stock.quantity for stock in question.stocks]
    cut: Cuts = {}
    while any(left):
        found = [question.cutter.best(s, question.sizes, left) for s, count in enumerate(stock_left) if count]
        pattern = max(found, key=lambda each: _fullness(question, each, left), default=None)
        if pattern is None or not _fullness(question, pattern, left):
            break
        repeats = _repeats(pattern, left, stock_left[pattern.stock])
        cut[pattern] = cut.get(pattern, 0) + repeats
        stock_left[pattern.stock] -= repeats
        left = after(left, pattern, repeats)
    return counted(question, cut, ways)


def _needed(question: Question, ways: Sequence[int] | None) -> list[int]:
    needed = [0] * len(question.sizes)
    for number, want in enumerate(question.wants):
        for item, count in want.ways[ways[number] if ways else 0].items() if want.ways else ():
            needed[item] += count * want.quantity
    return needed


def _fullness(question: Question, pattern: Pattern, left: Sequence[int]) -> float:
    size = sum(min(count, left[item]) * question.sizes[item] for item, count in pattern.counts.items())
    return size / max(1, question.stocks[pattern.stock].cost)


def _repeats(pattern: Pattern, left: Sequence[int], stock_left: int) -> int:
    """How often a pattern can be cut before it cuts more than is wanted, at least once."""
    return max(1, min([stock_left, *(left[item] // count for item, count in pattern.counts.items())]))


def after(left: Sequence[int], pattern: Pattern, times: int) -> list[int]:
    """What is still to be cut."""
    counts = pattern.counts
    return [max(0, need - counts.get(item, 0) * times) for item, need in enumerate(left)]


def counted(question: Question, cut: Cuts, ways: Sequence[int] | None = None) -> Chosen:
    """The plan that a set of cuts comes to; dearer wants are made first out of what there is."""
    there = [0] * len(question.sizes)
    for pattern, times in cut.items():
        for item, count in pattern.counts.items():
            there[item] += count * times
    made: list[tuple[int, ...]] = [()] * len(question.wants)
    for number in sorted(range(len(question.wants)), key=lambda each: -question.wants[each].weight):
        want, counts = question.wants[number], [0] * len(question.wants[number].ways)
        if want.ways:
            chosen = ways[number] if ways else 0
            way = want.ways[chosen]
            counts[chosen] = min([want.quantity, *(there[item] // count for item, count in way.items())])
            for item, count in way.items():
                there[item] -= count * counts[chosen]
        made[number] = tuple(counts)
    short = sum(w.weight * (w.quantity - sum(counts)) for w, counts in zip(question.wants, made, strict=True))
    cost = sum(question.stocks[pattern.stock].cost * times for pattern, times in cut.items())
    return Chosen(cut, tuple(made), short, cost)


def rounded_down_again(question: Question, columns: Columns, deadline: Deadline) -> Chosen | None:
    """Dive: fix what the linear program cuts in whole numbers, ask it again about the rest, until nothing is left.

    Only for wants that are made in one way each. None where stock runs out or time is up. Method: residual rounding
    with new columns (Belov and Scheithauer, 2002; Wäscher and Gau, 1996).
    """
    cut: Cuts = {}
    rest, patterns = question, columns.patterns
    while any(want.quantity for want in rest.wants):
        now = Columns(rest, _trimmed(rest, patterns), 0)
        relaxed = now.relaxed(deadline)
        if relaxed is None or not relaxed.cut or deadline.left() == 0:
            return None
        patterns += now.patterns
        for pattern, times in _fixed(relaxed.cut):
            cut[pattern] = cut.get(pattern, 0) + times
            rest = _less(rest, pattern, times)
    return counted(question, cut)


def _fixed(cut: Sequence[tuple[Pattern, float]]) -> list[tuple[Pattern, int]]:
    whole = [(pattern, int(times + BETTER)) for pattern, times in cut if times >= 1 - BETTER]
    return whole or [(max(cut, key=lambda each: each[1])[0], 1)]


def _trimmed(question: Question, patterns: Sequence[Pattern]) -> list[Pattern]:
    """The patterns that still cut no more than is wanted."""
    most = question.most
    return [each for each in dict.fromkeys(patterns) if all(n <= most[item] for item, n in each.counts.items())]


def _less(question: Question, pattern: Pattern, times: int) -> Question:
    counts = pattern.counts
    wants = tuple(
        replace(want, quantity=max(0, want.quantity - times * counts.get(next(iter(want.ways[0])), 0)))
        for want in question.wants
    )
    stocks = tuple(
        replace(stock, quantity=max(0, stock.quantity - times)) if number == pattern.stock else stock
        for number, stock in enumerate(question.stocks)
    )
    return Question(wants, stocks, question.sizes, question.cutter)


def chosen_among(
    question: Question, patterns: Sequence[Pattern], start: Chosen, short_limit: int | None, at_least: int, deadline: Deadline
) -> Chosen:
    """The best whole plan over these patterns: least weight not made (`short_limit` None), or least cost within it.

    `at_least` is a bound that is known already; the plan's own bound holds for these patterns alone.
    """
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    most = [stock.quantity for stock in question.stocks]
    times = {each: model.new_int_var(0, most[each.stock], "") for each in dict.fromkeys(patterns)}
    made = [[model.new_int_var(0, want.quantity, "") for _ in want.ways] for want in question.wants]
    _link(model, question, times, made)
    short = sum(w.weight * (w.quantity - sum(row)) for w, row in zip(question.wants, made, strict=True))
    cost = sum(question.stocks[pattern.stock].cost * count for pattern, count in times.items())
    goal = short if short_limit is None else cost
    if short_limit is not None:
        model.add(short <= short_limit)
    model.add(goal >= at_least)
    model.minimize(goal)
    for pattern, count in times.items():
        model.add_hint(count, start.cut.get(pattern, 0))
    for row, counts in zip(made, start.made, strict=True):
        for var, value in zip(row, counts, strict=True):
            model.add_hint(var, value)
    solver = _solver(cp_model, deadline)
    status = solver.solve(model)
    bound = max(at_least, round(solver.best_objective_bound)) if status != cp_model.UNKNOWN else at_least
    if status not in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
        return replace(start, bound=bound)
    cut = {pattern: solver.value(count) for pattern, count in times.items() if solver.value(count)}
    ways = tuple(tuple(solver.value(var) for var in row) for row in made)
    return Chosen(cut, ways, solver.value(short), solver.value(cost), bound)


def _link(model: Any, question: Question, times: dict[Pattern, Any], made: list[list[Any]]) -> None:
    """What wants use is cut, no want is made too often, no stock opened that isn't there."""
    there: list[list[Any]] = [[] for _ in question.sizes]
    opened: list[list[Any]] = [[] for _ in question.stocks]
    for pattern, count in times.items():
        opened[pattern.stock].append(count)
        for item, each in pattern.counts.items():
            there[item].append(each * count)
    used: list[list[Any]] = [[] for _ in question.sizes]
    for want, row in zip(question.wants, made, strict=True):
        model.add(sum(row) <= want.quantity)
        for way, var in zip(want.ways, row, strict=True):
            for item, count in way.items():
                used[item].append(count * var)
    for cut, taken in zip(there, used, strict=True):
        model.add(sum(cut) >= sum(taken))
    for stock, counts in zip(question.stocks, opened, strict=True):
        model.add(sum(counts) <= stock.quantity)


def _solver(cp_model: Any, deadline: Deadline) -> Any:
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = max(0.05, deadline.left())
    solver.parameters.num_workers = WORKERS
    solver.parameters.random_seed = 0
    return solver
