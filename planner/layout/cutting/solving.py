"""A question of cutting answered: make as much as can be made, then open as little as that takes.

The bound comes from the linear program over all patterns; a plan that meets it is proved best. Else all patterns are
listed, where they are few enough, and CP-SAT chooses among them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from random import Random

from planner.layout.cutting.choosing import Choice, chosen_among, chosen_one_by_one
from planner.layout.cutting.columns import Columns
from planner.layout.cutting.deadline import Deadline
from planner.layout.cutting.question import Answer, Pattern, Question, Room
from planner.layout.cutting.whole import Chosen, filled_in_turn, rounded_down_again

TURNS = 50
MOST_PATTERNS = 20_000
MOST_LOOKS = 200_000
SECONDS_FOR_FEWER = 1.0
MOST_COUNTS = 60_000
DRAWS = 20
"""So many are listed after so many looks; with more, the bound of the linear program must do."""


def answered(question: Question, seconds: float) -> Answer:
    """The best plan found in so many seconds, with its bounds."""
    deadline = Deadline(seconds)
    start = _first_plan(question)
    patterns = list(start.cut)
    short_bound = 0
    if start.short:
        stage = _Stage(question, None, start, patterns, deadline.share(0.5))
        start, short_bound, patterns = stage.best()
    stage = _Stage(question, start.short, start, patterns, deadline)
    best, bound, _ = stage.best()
    best = _of_fewer_items(question, best)
    cut = tuple((pattern, times) for pattern, times in best.cut.items() if times)
    return Answer(cut, best.made, best.short, short_bound, best.cost, min(bound, best.cost))


def _first_plan(question: Question) -> Chosen:
    """Every want in its first way, or its second, and so on: the best of those."""
    most = max((len(want.ways) for want in question.wants), default=0)
    plans = [
        filled_in_turn(question, [min(number, max(0, len(want.ways) - 1)) for want in question.wants])
        for number in range(max(1, most))
    ]
    return min(plans, key=lambda plan: (plan.short, plan.cost))


def _of_fewer_items(question: Question, best: Chosen) -> Chosen:
    """The same made from no more stock, in ways that take fewer items."""
    if all(len(want.ways) <= 1 for want in question.wants):
        return best
    rooms: list[list[Room]] = []
    for number in range(len(question.stocks)):
        copies = sum(times for pattern, times in best.cut.items() if pattern.stock == number)
        room = question.cutter.room(number, question.most) if copies else None
        rooms.append([room] * copies if room else [])
    if sum(room.size for alike in rooms for room in alike) > MOST_COUNTS:
        return best
    choice = Choice(question, best, best.short, 0)
    choice.fewest_items = True
    found = chosen_one_by_one(rooms, choice, Deadline(SECONDS_FOR_FEWER))
    return found if (found.short, found.cost) <= (best.short, best.cost) else best


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
        columns.add(self.start.cut)
        best = self.start
        for attempt in self._attempts(columns, bound):
            if self.value(best) <= bound or self.deadline.left() == 0:
                break
            found = attempt(best)
            bound = max(bound, found.bound) if found else bound
            if found and self._is_better(found, best):
                best = found
        return best, bound, columns.patterns

    def _attempts(self, columns: Columns, bound: int) -> Iterator[Callable[[Chosen], Chosen | None]]:
        """One after the other what may close a gap, quick ones first."""
        if not self._can_dive():
            yield partial(self._one_by_one, bound)
            yield partial(self._of_sections, columns, bound)
            yield partial(self._among, columns.patterns, bound)
            return
        for turn in range(TURNS):
            yield partial(self._dive, columns, Random(turn))  # noqa: S311
            yield partial(self._among, columns.patterns, bound)
            if turn == 0:
                yield partial(self._one_by_one, bound)
                every = all_patterns(self.question)
                if every is not None:
                    yield partial(self._among_all, every, bound)

    def _can_dive(self) -> bool:
        """Only where every want is one item."""
        one_item_each = all([list(way.values()) for way in want.ways] == [[1]] for want in self.question.wants)
        return self.short_limit == 0 and one_item_each

    def _dive(self, columns: Columns, rng: Random, _best: Chosen) -> Chosen | None:
        return rounded_down_again(self.question, columns, self.deadline.share(0.5), rng)

    def _among(self, patterns: Sequence[Pattern], bound: int, best: Chosen) -> Chosen:
        """What is chosen among some patterns proves nothing of all of them."""
        found = chosen_among(patterns, self._choice(best, bound), self.deadline.share(0.2))
        return replace(found, bound=0)

    def _among_all(self, every: Sequence[Pattern], bound: int, best: Chosen) -> Chosen:
        return chosen_among(every, self._choice(best, bound), self.deadline.share(0.7))

    def _one_by_one(self, bound: int, best: Chosen) -> Chosen | None:
        rooms = self._rooms(best, lambda number: self.question.cutter.room(number, self.question.most))
        if rooms is None:
            return None
        share = self.deadline.share(0.6 if self._can_dive() else 0.9)
        return chosen_one_by_one(rooms, self._choice(best, bound), share)

    def _of_sections(self, columns: Columns, bound: int, best: Chosen) -> Chosen | None:
        """Sections that are known, and some of chance, combined anew; it proves nothing of all there are."""
        columns.add(_of_chance(self.question, Random(0)))  # noqa: S311
        rooms = self._rooms(best, lambda number: self.question.cutter.room_of(number, columns.patterns))
        if rooms is None:
            return None
        found = chosen_one_by_one(rooms, self._choice(best, bound), self.deadline.share(0.8))
        return replace(found, bound=0)

    def _rooms(self, best: Chosen, room_of: Callable[[int], Room | None]) -> list[list[Room]] | None:
        """Only as many of a stock as a better plan could open; None where that is more than can be thought through."""
        rooms: list[list[Room]] = []
        for number, stock in enumerate(self.question.stocks):
            copies = stock.quantity if self.short_limit is None else min(stock.quantity, best.cost // stock.cost)
            room = room_of(number) if copies else None
            if copies and room is None:
                return None
            rooms.append([room] * copies if room else [])
            if sum(each.size for alike in rooms for each in alike) > MOST_COUNTS:
                return None
        return rooms

    def _choice(self, best: Chosen, bound: int) -> Choice:
        return Choice(self.question, best, self.short_limit, bound)

    def value(self, plan: Chosen) -> int:
        return plan.short if self.short_limit is None else plan.cost

    def _is_better(self, plan: Chosen, best: Chosen) -> bool:
        within = self.short_limit is None or plan.short <= self.short_limit
        return within and self.value(plan) < self.value(best)


def _of_chance(question: Question, rng: Random) -> list[Pattern]:
    """Patterns that are best for worths of chance."""
    found = []
    for _ in range(DRAWS):
        worths = [size * rng.uniform(0.5, 1.5) for size in question.sizes]
        found += [question.cutter.best(number, worths, question.most) for number in range(len(question.stocks))]
    return found


def all_patterns(question: Question) -> list[Pattern] | None:
    """Every full pattern of every stock; None where there are too many to list or to look for."""
    found: list[Pattern] = []
    looks = MOST_LOOKS
    for number, stock in enumerate(question.stocks):
        every = question.cutter.every(number, question.most) if stock.quantity else iter(())
        if every is None:
            return None
        for pattern in every:
            looks -= 1
            if looks == 0 or len(found) == MOST_PATTERNS:
                return None
            if pattern:
                found.append(pattern)
    return found
