"""A question of cutting answered: make as much as can be made, then open as little as that takes.

The bound comes from the linear program over all patterns; a plan that meets it is proved best. Else all patterns are
listed, where they are few enough, and CP-SAT chooses among them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import islice

from planner.layout.cutting.columns import Columns
from planner.layout.cutting.deadline import Deadline
from planner.layout.cutting.question import Answer, Pattern, Question
from planner.layout.cutting.whole import Chosen, chosen_among, filled_in_turn, rounded_down_again

MOST_PATTERNS = 20_000
"""As many are listed; with more, the bound of the linear program must do."""


def answered(question: Question, seconds: float) -> Answer:
    """The best plan found in so many seconds, with its bounds."""
    deadline = Deadline(seconds)
    start = filled_in_turn(question)
    patterns = list(start.cut)
    short_bound = 0
    if start.short:
        stage = _Stage(question, None, start, patterns, deadline.share(0.5))
        start, short_bound, patterns = stage.best()
    stage = _Stage(question, start.short, start, patterns, deadline)
    best, bound, _ = stage.best()
    cut = tuple((pattern, times) for pattern, times in best.cut.items() if times)
    return Answer(cut, best.made, best.short, short_bound, best.cost, min(bound, best.cost))


@dataclass
class _Stage:
    """One objective after the other: what is not made (`short_limit` None), then what is opened."""

    question: Question
    short_limit: int | None
    start: Chosen
    patterns: list[Pattern]
    deadline: Deadline

    def best(self) -> tuple[Chosen, int, list[Pattern]]:
        """The best plan, its bound, and the patterns it was chosen among."""
        columns = Columns(self.question, self.patterns, self.short_limit)
        relaxed = columns.relaxed(self.deadline)
        bound = relaxed.bound if relaxed else 0
        best = self.start
        patterns = list(dict.fromkeys([*columns.patterns, *self.start.cut]))
        tries: list[Callable[[], Chosen | None]] = [
            lambda: self._dive(columns),
            lambda: chosen_among(self.question, patterns, best, self.short_limit, bound, self.deadline.share(0.4)),
        ]
        for attempt in tries:
            if self.value(best) <= bound:
                return best, bound, patterns
            found = attempt()
            if found and self._is_better(found, best):
                best = found
        return self._settled(best, bound, patterns)

    def value(self, plan: Chosen) -> int:
        return plan.short if self.short_limit is None else plan.cost

    def _is_better(self, plan: Chosen, best: Chosen) -> bool:
        within = self.short_limit is None or plan.short <= self.short_limit
        return within and self.value(plan) < self.value(best)

    def _dive(self, columns: Columns) -> Chosen | None:
        one_way_each = all(len(want.ways) == 1 and len(want.ways[0]) == 1 for want in self.question.wants)
        if not one_way_each or self.short_limit != 0:
            return None
        return rounded_down_again(self.question, columns, self.deadline.share(0.5))

    def _settled(self, best: Chosen, bound: int, patterns: list[Pattern]) -> tuple[Chosen, int, list[Pattern]]:
        """The last of a gap closed over all patterns there are, where they can be listed."""
        if self.value(best) <= bound or self.deadline.left() == 0:
            return best, bound, patterns
        every = all_patterns(self.question)
        if every is None:
            return best, bound, patterns
        found = chosen_among(self.question, every, best, self.short_limit, bound, self.deadline)
        bound = max(bound, found.bound)
        return (found if self._is_better(found, best) else best), bound, every


def all_patterns(question: Question) -> list[Pattern] | None:
    """Every full pattern of every stock; None where there are too many to list."""
    found: list[Pattern] = []
    for number, stock in enumerate(question.stocks):
        if stock.quantity:
            found += islice(question.cutter.every(number, question.most), MOST_PATTERNS + 1 - len(found))
        if len(found) > MOST_PATTERNS:
            return None
    return found


def repeated(question: Question) -> Question:
    """The same question with no more of any stock than there are things to cut."""
    needed = sum(question.most)
    return replace(question, stocks=tuple(replace(each, quantity=min(each.quantity, needed)) for each in question.stocks))
