"""What is asked and what is answered: wants that items make up, stock that patterns cut items out of."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Protocol

from planner.layout.cutting.knapsack import Counts


@dataclass(frozen=True, slots=True)
class Want:
    """So many alike are wanted; each is made up in one of several ways, each so many of some items.

    One that is not made counts `weight` against the plan, which comes before all stock.
    """

    quantity: int
    ways: tuple[Mapping[int, int], ...]
    weight: int = 1


@dataclass(frozen=True, slots=True)
class Stock:
    """So many alike to cut from; opening one costs `cost`."""

    quantity: int
    cost: int = 1


@dataclass(frozen=True, slots=True)
class Pattern:
    """A way to cut one of a stock: the items that come of it, and in which sections they lie."""

    stock: int
    sections: tuple[tuple[int, tuple[tuple[int, int], ...]], ...]
    """Each section's class and its items with their counts; one section of class 0 where stock is cut one way only."""

    @property
    def counts(self) -> Counts:
        found: Counts = {}
        for _, items in self.sections:
            for item, count in items:
                found[item] = found.get(item, 0) + count
        return found


Read = Callable[[Any], Pattern]
"""Reads a pattern from a CP-SAT solver's answer."""


class Room(Protocol):
    """What fits into one of a stock."""

    @property
    def size(self) -> int:
        """How many variables it takes to say it."""

    def say(self, model: Any, opened: Any) -> tuple[list[Any], Read]:
        """How many of each item come of it at most, nothing unless it is `opened`, and how to read its pattern."""


class Cutter(Protocol):
    """What knows which patterns there are."""

    def best(self, stock: int, values: Sequence[float], most: Sequence[int]) -> Pattern:
        """The pattern worth most of one stock, at most about `most` of each item."""

    def every(self, stock: int, most: Sequence[int]) -> Iterator[Pattern | None] | None:
        """Every pattern of one stock that is full, with None for each look that found none; None alone where there are
        too many to list."""

    def room(self, stock: int, most: Sequence[int]) -> Room | None:
        """What says to a CP-SAT model what fits into one of a stock; None where that would be too long a story."""

    def room_of(self, stock: int, patterns: Sequence[Pattern]) -> Room | None:
        """The same with nothing but the sections of known patterns; None where there are no sections."""


@dataclass(frozen=True, slots=True)
class Question:
    """Wants, stock, and how many kinds of items there are, with each one's size (for a first plan)."""

    wants: tuple[Want, ...]
    stocks: tuple[Stock, ...]
    sizes: tuple[float, ...]
    cutter: Cutter
    most: tuple[int, ...] = field(init=False)
    """How many of an item any plan can use."""

    def __post_init__(self) -> None:
        most = [0] * len(self.sizes)
        for want in self.wants:
            for item in {each for way in want.ways for each in way}:
                most[item] += want.quantity * max(way.get(item, 0) for way in want.ways)
        object.__setattr__(self, "most", tuple(most))


@dataclass(frozen=True, slots=True)
class Answer:
    """Which patterns are cut how often, how each want is made, and what is proved."""

    cut: tuple[tuple[Pattern, int], ...]
    made: tuple[tuple[int, ...], ...]
    """For each want, how many are made in each of its ways."""
    short: int
    """What is not made, by weight."""
    short_bound: int
    cost: int
    bound: int
    """No plan that makes as much costs less."""

    @property
    def is_proved(self) -> bool:
        return self.short == self.short_bound and self.cost == self.bound
