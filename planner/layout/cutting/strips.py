"""Cutting stock in one dimension: wanted lengths out of stock lengths with a saw that takes its kerf."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import reduce
from math import ceil, gcd, isfinite
from typing import Any

from planner.errors import PlannerError
from planner.layout.cutting.knapsack import best_filling, full_fillings
from planner.layout.cutting.question import Answer, Pattern, Question, Read, Stock, Want
from planner.layout.cutting.solving import answered
from planner.units import NM_PER_INCH


@dataclass(frozen=True, slots=True)
class StripWanted:
    """So many strips of one length, in inches."""

    length_in: float
    quantity: int = 1

    def __post_init__(self) -> None:
        _check("A strip", self.length_in, self.quantity)


@dataclass(frozen=True, slots=True)
class StockLength:
    """Stock of one length, in inches; `quantity` None is as many as it takes."""

    length_in: float
    quantity: int | None = None

    def __post_init__(self) -> None:
        _check("A stock length", self.length_in, 0 if self.quantity is None else self.quantity)


@dataclass(frozen=True, slots=True)
class Bar:
    """One stock length that is opened, and what is cut of it, longest first."""

    stock_length_in: float
    strips_in: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class CuttingPlan:
    """What is cut of which stock, how little is opened, and how little any plan opens."""

    bars: tuple[Bar, ...]
    short: tuple[StripWanted, ...]
    """What stock is too little for; as much length as can be is cut."""
    opened_in: float
    bound_in: float
    """No plan that cuts as much opens less, in inches of stock."""
    bound: int
    """No plan that cuts as much opens fewer bars, as far as the lengths opened tell."""
    is_proved: bool

    @property
    def gap(self) -> float:
        """How far above its bound the plan may be, as a share of it."""
        return self.opened_in / self.bound_in - 1 if self.bound_in else 0.0


def cut_strips(
    wanted: Sequence[StripWanted], stock: Sequence[StockLength], kerf_in: float, seconds: float = 10.0
) -> CuttingPlan:
    """Which strips to cut of which stock lengths, the saw taking `kerf_in` between two: least stock opened.

    First as much length as possible is cut, then the least length of stock is opened. Serves widths as well as
    lengths. Exact within `seconds` for what a shop cuts; `is_proved` says whether it is proved.
    Raises PlannerError for a size that makes no sense. Source: Gilmore and Gomory, 1961.

    >>> plan = cut_strips([StripWanted(20, 5)], [StockLength(60)], kerf_in=0.125)
    >>> len(plan.bars), plan.bound, plan.is_proved
    (3, 3, True)
    """
    if not (isfinite(kerf_in) and kerf_in >= 0):
        raise PlannerError(f"The kerf of a saw is 0 in or more, not {kerf_in:g}.")
    if not (isfinite(seconds) and seconds > 0):
        raise PlannerError(f"A search takes some seconds, not {seconds:g}.")
    lengths = sorted({each.length_in for each in wanted if each.quantity}, reverse=True)
    counts = [sum(each.quantity for each in wanted if each.length_in == length) for length in lengths]
    kinds = _kinds(stock, sum(counts))
    if not lengths or not kinds:
        short = tuple(map(StripWanted, lengths, counts))
        return CuttingPlan((), short, 0.0, 0.0, 0, is_proved=True)
    sizes, rooms = _whole([_nm(each + kerf_in) for each in lengths], [_nm(length + kerf_in) for length, _ in kinds])
    unit = reduce(gcd, [_nm(length) for length, _ in kinds])
    wants = tuple(
        Want(count, ({item: 1},), weight=_nm(length))
        for item, (length, count) in enumerate(zip(lengths, counts, strict=True))
    )
    stocks = tuple(Stock(count, _nm(length) // unit) for length, count in kinds)
    question = Question(wants, stocks, tuple(map(float, sizes)), _Saw(sizes, rooms))
    return _plan(answered(question, seconds), lengths, counts, [length for length, _ in kinds], unit)


def _kinds(stock: Sequence[StockLength], strips: int) -> list[tuple[float, int]]:
    """Stock lengths with their quantities; as many as there are strips is as many as it takes."""
    found: dict[float, int] = {}
    for each in stock:
        many = strips if each.quantity is None else min(each.quantity, strips)
        found[each.length_in] = min(strips, found.get(each.length_in, 0) + many)
    return [(length, count) for length, count in sorted(found.items()) if count]


def _plan(
    answer: Answer, lengths: Sequence[float], counts: Sequence[int], stock_lengths: Sequence[float], unit: int
) -> CuttingPlan:
    left = [sum(row) for row in answer.made]
    bars = []
    for pattern, times in answer.cut:
        for _ in range(times):
            strips = []
            for item, count in sorted(pattern.counts.items()):
                taken = min(count, left[item])
                left[item] -= taken
                strips += [lengths[item]] * taken
            bars.append(Bar(stock_lengths[pattern.stock], tuple(strips)))
    bars = [bar for bar in bars if bar.strips_in]
    opened_in = sum(bar.stock_length_in for bar in bars)
    bound_in = opened_in if answer.is_proved else answer.bound * unit / NM_PER_INCH
    missing = [(length, count - sum(row)) for length, count, row in zip(lengths, counts, answer.made, strict=True)]
    short = tuple(StripWanted(length, count) for length, count in missing if count)
    bound = len(bars) if answer.is_proved else ceil(bound_in / max(stock_lengths) - 1e-9)
    return CuttingPlan(tuple(bars), short, opened_in, bound_in, bound, answer.is_proved)


@dataclass(frozen=True, slots=True)
class _Saw:
    """The patterns of one dimension: what fits side by side, the kerf counted with each strip and once with the bar."""

    sizes: Sequence[int]
    rooms: Sequence[int]

    def best(self, stock: int, values: Sequence[float], most: Sequence[int]) -> Pattern:
        return _pattern(stock, best_filling(self.sizes, values, most, self.rooms[stock]))

    def every(self, stock: int, most: Sequence[int]) -> Iterator[Pattern | None]:
        fillings = full_fillings(self.sizes, most, self.rooms[stock])
        return (_pattern(stock, counts) if counts else None for counts in fillings)

    def room(self, stock: int, most: Sequence[int]) -> _Bin:
        return _Bin(self.sizes, most, self.rooms[stock], stock)

    def room_of(self, stock: int, patterns: Sequence[Pattern]) -> None:
        """A bar has no sections."""


@dataclass(slots=True)
class _Bin:
    """One stock length: what is cut of it is no longer than it."""

    sizes: Sequence[int]
    most: Sequence[int]
    length: int
    stock: int

    @property
    def size(self) -> int:
        return len(self.sizes)

    def say(self, model: Any, opened: Any) -> tuple[list[Any], Read]:
        counts = [
            model.new_int_var(0, min(most, self.length // size), "")
            for size, most in zip(self.sizes, self.most, strict=True)
        ]
        model.add(sum(size * count for size, count in zip(self.sizes, counts, strict=True)) <= self.length * opened)

        def read(solver: Any) -> Pattern:
            found = {item: solver.value(count) for item, count in enumerate(counts)}
            return _pattern(self.stock, {item: count for item, count in found.items() if count})

        return counts, read


def _pattern(stock: int, counts: dict[int, int]) -> Pattern:
    return Pattern(stock, ((0, tuple(sorted(counts.items()))),))


def _whole(sizes: list[int], rooms: list[int]) -> tuple[list[int], list[int]]:
    """Sizes and rooms in the largest unit that all sizes are whole in; what of a room is no whole unit is of no use."""
    unit = reduce(gcd, sizes)
    return [each // unit for each in sizes], [each // unit for each in rooms]


def _nm(length_in: float) -> int:
    return round(length_in * NM_PER_INCH)


def _check(name: str, length_in: float, quantity: int) -> None:
    if not (isfinite(length_in) and length_in > 0):
        raise PlannerError(f"{name} is longer than 0 in, not {length_in:g}.")
    if quantity < 0:
        raise PlannerError(f"{name} of {length_in:g} in is there 0 times or more, not {quantity}.")
