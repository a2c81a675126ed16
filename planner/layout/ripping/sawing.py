"""How a board is sawn: crosscut into sections, each ripped into strips that are no longer than it.

Two stages, as in Gilmore and Gomory, Multistage Cutting Stock Problems of Two and More Dimensions, 1965: the strips
worth most across a section of each length, then the sections worth most along the board.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from planner.layout.cutting.knapsack import Counts, best_filling, full_fillings
from planner.layout.cutting.question import Pattern

ALL = 10**6


@dataclass(frozen=True, slots=True)
class Sawing:
    """The patterns of boards; all sizes whole, each with one kerf added."""

    lengths: Sequence[int]
    """Of each item, as sawn."""
    widths: Sequence[int]
    rooms: Sequence[tuple[int, int]]
    """Of each stock, length and width."""
    suits: Sequence[frozenset[int]]
    """Which items may come of each stock: species and thickness are right, and it is large enough."""

    def classes(self, stock: int) -> list[int]:
        """The lengths that a board is crosscut to."""
        return sorted({self.lengths[item] for item in self.suits[stock]}, reverse=True)

    def best(self, stock: int, values: Sequence[float], most: Sequence[int]) -> Pattern:
        """The sections worth most; what one section leaves of `most` the next one may take again."""
        classes = self.classes(stock)
        fillings = [self._across(stock, length, values, most) for length in classes]
        worth = [sum(values[item] * count for item, count in filling.items()) for filling in fillings]
        sections = best_filling(classes, worth, [ALL] * len(classes), self.rooms[stock][0])
        return _pattern(stock, [(classes[number], fillings[number], count) for number, count in sections.items()])

    def _across(self, stock: int, length: int, values: Sequence[float], most: Sequence[int]) -> Counts:
        items = [item for item in sorted(self.suits[stock]) if self.lengths[item] <= length and most[item]]
        widths, worths = [self.widths[item] for item in items], [values[item] for item in items]
        found = best_filling(widths, worths, [most[item] for item in items], self.rooms[stock][1])
        return {items[number]: count for number, count in found.items()}

    def every(self, stock: int, most: Sequence[int]) -> Iterator[Pattern | None]:
        """Every row of full sections that leaves no room for one more."""
        sections: list[tuple[int, Counts]] = []
        for length in self.classes(stock):
            items = [item for item in sorted(self.suits[stock]) if self.lengths[item] <= length]
            widths = [self.widths[item] for item in items]
            for found in full_fillings(widths, [most[item] for item in items], self.rooms[stock][1]):
                filling = {items[number]: count for number, count in (found or {}).items()}
                if any(self.lengths[item] == length for item in filling):
                    sections.append((length, filling))
                yield None
        lengths, often = [length for length, _ in sections], [self.rooms[stock][0]] * len(sections)
        for row in full_fillings(lengths, often, self.rooms[stock][0]):
            yield _pattern(stock, [(*sections[number], count) for number, count in row.items()]) if row else None

    def parts(self, stock: int) -> int:
        """As many sections as a board gives at most."""
        return self.rooms[stock][0] // min(self.classes(stock), default=self.rooms[stock][0])

    def room(self, model: Any, stock: int, opened: Any, counts: Sequence[Any]) -> Callable[[Any], Pattern]:
        """Sections one by one, longest first."""
        sections = [_Section(self, model, stock, counts) for _ in range(self.parts(stock))]
        for item, count in enumerate(counts):
            model.add(count == sum(section.taken[item] for section in sections if item in section.taken))
        model.add(sum(section.length for section in sections) <= self.rooms[stock][0] * opened)
        for one, other in pairwise(sections):
            model.add(one.length >= other.length)

        def read(solver: Any) -> Pattern:
            return _pattern(stock, [(*section.read(solver), 1) for section in sections])

        return read


class _Section:
    """One section in a CP-SAT model: at most one length, strips no longer than that, side by side."""

    def __init__(self, sawing: Sawing, model: Any, stock: int, counts: Sequence[Any]) -> None:
        self.of_length = {length: model.new_bool_var("") for length in sawing.classes(stock)}
        self.length = sum(length * chosen for length, chosen in self.of_length.items())
        self.taken: dict[int, Any] = {}
        model.add_at_most_one(self.of_length.values())
        for item in sorted(sawing.suits[stock]):
            fits = sawing.rooms[stock][1] // sawing.widths[item]
            self.taken[item] = model.new_int_var(0, fits, "")
            long_enough = [chosen for length, chosen in self.of_length.items() if length >= sawing.lengths[item]]
            model.add(self.taken[item] <= fits * sum(long_enough))
        model.add(sum(sawing.widths[item] * taken for item, taken in self.taken.items()) <= sawing.rooms[stock][1])

    def read(self, solver: Any) -> tuple[int, Counts]:
        filling = {item: solver.value(taken) for item, taken in self.taken.items()}
        return solver.value(self.length), {item: count for item, count in filling.items() if count}


def _pattern(stock: int, sections: Sequence[tuple[int, Counts, int]]) -> Pattern:
    found = [(length, tuple(sorted(filling.items()))) for length, filling, count in sections for _ in range(count)]
    return Pattern(stock, tuple(sorted((each for each in found if each[1]), reverse=True)))
