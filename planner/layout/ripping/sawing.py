"""How a board is sawn: crosscut into sections, each ripped into strips that are no longer than it.

Two stages, as in Gilmore and Gomory, Multistage Cutting Stock Problems of Two and More Dimensions, 1965: the strips
worth most across a section of each length, then the sections worth most along the board.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from planner.layout.cutting.knapsack import Counts, best_filling, full_fillings
from planner.layout.cutting.question import Pattern, Read

ALL = 10**6
MOST_SECTIONS = 2_000
MOST_LOOKS = 50_000


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

    def every(self, stock: int, most: Sequence[int]) -> None:
        """Rows of sections are too many to list."""

    def room(self, stock: int, most: Sequence[int]) -> SectionsAlong | None:
        """Full sections of every length; None where they are too many to list."""
        sections: list[tuple[int, Counts]] = []
        looks = MOST_LOOKS
        for length in self.classes(stock):
            items = [item for item in sorted(self.suits[stock]) if self.lengths[item] <= length]
            widths, limits = [self.widths[item] for item in items], [most[item] for item in items]
            for found in full_fillings(widths, limits, self.rooms[stock][1]):
                filling = {items[number]: count for number, count in (found or {}).items()}
                if any(self.lengths[item] == length for item in filling):
                    sections.append((length, filling))
                looks -= 1
                if looks == 0 or len(sections) > MOST_SECTIONS:
                    return None
        return SectionsAlong(stock, self.rooms[stock][0], tuple(sections), len(most))

    def room_of(self, stock: int, patterns: Sequence[Pattern]) -> SectionsAlong:
        """The sections of patterns, of other boards too where they fit."""
        known = dict.fromkeys(section for pattern in patterns for section in pattern.sections)
        sections = tuple((length, dict(items)) for length, items in known if self._holds(stock, length, items))
        return SectionsAlong(stock, self.rooms[stock][0], sections, len(self.lengths))

    def _holds(self, stock: int, length: int, items: Sequence[tuple[int, int]]) -> bool:
        along, across = self.rooms[stock]
        fits = length <= along and sum(self.widths[item] * count for item, count in items) <= across
        return fits and all(item in self.suits[stock] for item, _ in items)


@dataclass(slots=True)
class SectionsAlong:
    """One board: so many of each full section, together no longer than it."""

    stock: int
    length: int
    sections: tuple[tuple[int, Counts], ...]
    items: int

    @property
    def size(self) -> int:
        return len(self.sections)

    def say(self, model: Any, opened: Any) -> tuple[list[Any], Read]:
        times = [model.new_int_var(0, self.length // length, "") for length, _ in self.sections]
        along = sum(length * count for (length, _), count in zip(self.sections, times, strict=True))
        model.add(along <= self.length * opened)
        there: list[list[Any]] = [[] for _ in range(self.items)]
        for (_, filling), time in zip(self.sections, times, strict=True):
            for item, each in filling.items():
                there[item].append(each * time)

        def read(solver: Any) -> Pattern:
            rows = zip(self.sections, times, strict=True)
            return _pattern(self.stock, [(*section, solver.value(time)) for section, time in rows])

        return [sum(cut) for cut in there], read


def _pattern(stock: int, sections: Sequence[tuple[int, Counts, int]]) -> Pattern:
    found = [(length, tuple(sorted(filling.items()))) for length, filling, count in sections for _ in range(count)]
    return Pattern(stock, tuple(sorted((each for each in found if each[1]), reverse=True)))
