"""Whole patterns without a solver's search: stock filled after stock, and a linear program rounded down again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random

from planner.layout.cutting.columns import BETTER, Columns
from planner.layout.cutting.deadline import Deadline
from planner.layout.cutting.question import Pattern, Question

Cuts = dict[Pattern, int]
NEARLY = 0.3  # of a pattern, by which dives differ


@dataclass(frozen=True, slots=True)
class Chosen:
    """A whole plan: the patterns, the ways, and what is proved of its objective by whoever chose."""

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


def rounded_down_again(question: Question, columns: Columns, deadline: Deadline, rng: Random) -> Chosen | None:
    """Dive: fix what the linear program cuts in whole numbers, ask it again about the rest, until nothing is left.

    Only for wants that are made in one way each. Patterns met on the way are added to `columns`. None where stock runs
    out or time is up. Method: residual rounding with new columns (Wäscher and Gau, 1996; Belov and Scheithauer, 2002).
    """
    cut: Cuts = {}
    rest = question
    while any(want.quantity for want in rest.wants):
        now = Columns(rest, _trimmed(rest, columns.patterns), 0)
        relaxed = now.relaxed(deadline)
        columns.add(now.patterns)
        if relaxed is None or not relaxed.cut or deadline.left() == 0:
            return None
        for pattern, times in _fixed(relaxed.cut, rng):
            cut[pattern] = cut.get(pattern, 0) + times
            rest = _less(rest, pattern, times)
    return counted(question, cut)


def _fixed(cut: Sequence[tuple[Pattern, float]], rng: Random) -> list[tuple[Pattern, int]]:
    """All that is whole already, or else one more of a pattern that is nearly so."""
    whole = [(pattern, int(times + BETTER)) for pattern, times in cut if times >= 1 - BETTER]
    return whole or [(max(cut, key=lambda each: each[1] + NEARLY * rng.random())[0], 1)]


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
