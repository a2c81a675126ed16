"""The part of a plan that is thought through anew: which steps are free, in what span, and the books of the rest."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cached_property

from planner.parts import Hold
from planner.plan import Placed, Plan
from planner.search.books import Books, Spot
from planner.search.facts import Facts
from planner.search.queue import Turn
from planner.search.room import FAR


@dataclass
class Part:
    """`free` steps may move within `span` (taken up at its first minute or later, ended by its last)."""

    facts: Facts
    plan: Plan
    free: frozenset[str]
    span: tuple[int, int]
    is_whole: bool = False
    out: frozenset[str] = field(init=False)

    def __post_init__(self) -> None:
        self.out = frozenset(step for step in self.facts.steps if step not in self.plan and step not in self.free)

    @cached_property
    def fixed(self) -> dict[str, Placed]:
        """Every placed step that stays where it is, begun ones too."""
        return {row.step: row for row in self.plan.placed if row.step not in self.free}

    @cached_property
    def open_holds(self) -> list[Hold]:
        """The holds that begin or end with a free step, but those that an end before now leaves empty."""
        return [
            hold
            for hold in self.facts.problem.holds
            if (hold.first in self.free or hold.last in self.free)
            and hold.first not in self.out
            and self.facts.begun_end.get(hold.last, FAR) > self.facts.now
        ]

    @cached_property
    def books(self) -> Books:
        """The books with all that is fixed, changeovers and holds included."""
        books = Books(self.facts)
        for row in sorted(self.fixed.values(), key=lambda each: each.start):
            if row.step in self.facts.steps:
                self._enter(books, row)
        for hold, start, end in self._fixed_holds():
            books.add_load(hold.station, start, end, hold.load)
        return books

    def load_at_first(self, name: str) -> int:
        """How much of a station is taken, by what is fixed, at the first minute of the span."""
        first = self.span[0]
        return sum(load for *_, load in self.books.rooms[name].taken_between(first, first + 1))

    def first_new_at(self, name: str) -> int:
        """The first minute in the span at which something fixed that has not begun takes a station."""
        new = [row for row in self.fixed.values() if row.step in self.facts.steps]
        taken = [(row.start - row.changeover, row.end) for row in new if name in row.stations]
        taken += [
            (start, end)
            for hold, start, end in self._fixed_holds()
            if hold.station == name and hold.first in self.facts.steps
        ]
        return min((start for start, end in taken if end > max(start, self.span[0])), default=FAR)

    def _fixed_holds(self) -> Iterator[tuple[Hold, int, int]]:
        """The other holds of what stands, each with its beginning and end."""
        for hold in self.facts.problem.holds:
            if hold not in self.open_holds and hold.first in self.fixed:
                end = FAR if hold.last in self.out else self.fixed[hold.last].end
                yield hold, self.fixed[hold.first].start, end

    def _enter(self, books: Books, row: Placed) -> None:
        facts = self.facts.steps[row.step]
        books.take(Spot(row.step, row.start, row.end, row.person, row.stations, row.changeover), facts)
        for name in row.stations:
            if name in books.queues:
                books.queues[name].add(Turn(row.start, row.end, facts, row.changeover, row.person, row.stations))


def whole(facts: Facts, plan: Plan, also: Iterable[str] = ()) -> Part:
    """Everything that is placed, and `also` some steps that are left out, free to be anywhere."""
    free = (frozenset(step for step in facts.steps if step in plan) | frozenset(also)) - facts.stays
    return Part(facts, plan, free, (facts.now, _far_enough(facts)), is_whole=True)


def _far_enough(facts: Facts) -> int:
    """No best plan ends later: after the last thing on any calendar no wait need be longer than the least allowed."""
    problem = facts.problem
    closes = [close for station in problem.stations for _, close in station.hours or ()]
    releases = [step.earliest for step in facts.steps.values()]
    last = max([problem.now, problem.latest_close, *closes, *releases, *facts.begun_end.values()])
    work = sum(step.minutes for step in facts.steps.values())
    waits = sum(max(least for least, _ in link.waits) for links in facts.links_in.values() for link in links)
    changes = [max([station.changeover_default, *station.changeovers.values()]) for station in problem.stations]
    return last + work + waits + len(facts.steps) * max(changes, default=0)


def is_exact(facts: Facts) -> bool:
    """Whether the model of the whole knows every plan and nothing but its cost.

    It does not where some choices of stations are left aside, or a plan in force counts.
    """
    if facts.stays or facts.in_force.move_price:
        return False
    return all(step.knows_all_choices for step in facts.steps.values())


def comes_after(facts: Facts, one: str, other: str) -> bool:
    """Whether a step always ends after `one` has started: it is that step, or links lead to it from there."""
    found: set[str] = set()
    waiting = [one]
    while waiting and other not in found:
        step = waiting.pop()
        if step not in found:
            found.add(step)
            waiting += [link.after for link in facts.links_out[step]]
    return other in found
