"""A rip plan as a question of cutting: panels of one species are wants, strips items, boards of one size a stock."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from functools import reduce
from math import gcd
from typing import NamedTuple

from planner.layout.cutting.question import Question, Stock, Want
from planner.layout.ripping.boards import PanelWanted, RipAllowances, StockBoard
from planner.layout.ripping.sawing import Sawing
from planner.layout.ripping.widths import Widths, nm, widths_for
from planner.trade.lumber import true_board_feet

THOUSANDTHS = 1000
"""Board feet are counted in whole thousandths."""

Size = tuple[int, int, int]
"""Length, width and thickness of a rough board in nanometres."""


class Strip(NamedTuple):
    """An item: a strip as sawn, and the rough thickness it needs, in nanometres."""

    length: int
    width: int
    thickness: int


@dataclass(frozen=True, slots=True)
class Asked:
    """The question, and what its numbers stand for."""

    question: Question
    panels: tuple[PanelWanted, ...]
    """One for each want."""
    ways: tuple[tuple[Widths, ...], ...]
    """The finished widths of each want's ways."""
    strips: tuple[Strip, ...]
    sizes: tuple[Size, ...]
    """Of each stock."""
    unit: int
    """Thousandths of a board foot that one of the question's costs is."""


def asked(
    boards: Sequence[StockBoard], panels: Sequence[PanelWanted], allowances: RipAllowances, board_is_worth: float
) -> Asked:
    """The question for one species; panels that no board is large enough for are wants without a way."""
    sizes = sorted(alike(boards))
    ways = [
        [way for way in widths_for(panel, boards, allowances) if _all_fit(panel, way, sizes, allowances)]
        for panel in panels
    ]
    return asked_in(ways, boards, panels, allowances, board_is_worth)


def asked_in(
    ways: Sequence[Sequence[Widths]],
    boards: Sequence[StockBoard],
    panels: Sequence[PanelWanted],
    allowances: RipAllowances,
    board_is_worth: float,
) -> Asked:
    """The question with given ways for each panel."""
    stock = alike(boards)
    sizes = sorted(stock)
    numbers: dict[Strip, int] = {}
    wants = []
    for panel, possible in zip(panels, ways, strict=True):
        items = [
            [numbers.setdefault(strip_for(panel, width, allowances), len(numbers)) for width in way] for way in possible
        ]
        counted = tuple({item: row.count(item) for item in row} for row in items)
        wants.append(Want(panel.quantity, counted, _milli(panel.length_in, panel.width_in, panel.thickness_in)))
    strips = tuple(numbers)
    costs = [opening_cost(stock[size][0], board_is_worth) for size in sizes]
    unit = reduce(gcd, costs, 0) or 1
    stocks = tuple(
        Stock(sum(each.quantity for each in stock[size]), cost // unit) for size, cost in zip(sizes, costs, strict=True)
    )
    areas = tuple(strip.length * strip.width / nm(1) ** 2 for strip in strips)
    question = Question(tuple(wants), stocks, areas, _sawing(strips, sizes, allowances))
    return Asked(question, tuple(panels), tuple(map(tuple, ways)), strips, tuple(sizes), unit)


def size_of(board: StockBoard) -> Size:
    return nm(board.length_in), nm(board.width_in), nm(board.thickness_in)


def alike(boards: Sequence[StockBoard]) -> dict[Size, list[StockBoard]]:
    """Boards by size."""
    found: dict[Size, list[StockBoard]] = defaultdict(list)
    for board in boards:
        if board.quantity:
            found[size_of(board)].append(board)
    return found


def strip_for(panel: PanelWanted, width: int, allowances: RipAllowances) -> Strip:
    """A strip as sawn for a finished width."""
    return Strip(
        nm(panel.length_in + allowances.trim_in),
        width + 2 * nm(allowances.jointing_in),
        nm(panel.thickness_in + allowances.planing_in),
    )


def _all_fit(panel: PanelWanted, way: Widths, sizes: Sequence[Size], allowances: RipAllowances) -> bool:
    return all(any(_fits(strip_for(panel, width, allowances), size) for size in sizes) for width in way)


def _fits(strip: Strip, size: Size) -> bool:
    return all(small <= large for small, large in zip(strip, size, strict=True))


def opening_cost(board: StockBoard, board_is_worth: float) -> int:
    """In thousandths of a board foot, at least 1: a board is never opened for nothing."""
    return max(1, round((board.board_feet + board_is_worth) * THOUSANDTHS))


def _milli(length_in: float, width_in: float, thickness_in: float) -> int:
    return max(1, round(true_board_feet(length_in, width_in, thickness_in) * THOUSANDTHS))


def _sawing(strips: Sequence[Strip], sizes: Sequence[Size], allowances: RipAllowances) -> Sawing:
    """In the largest units that all lengths, and all widths, are whole in; what a board has beyond is of no use."""
    kerf = nm(allowances.kerf_in)
    lengths, widths = [strip.length + kerf for strip in strips], [strip.width + kerf for strip in strips]
    along, across = reduce(gcd, lengths, 0) or 1, reduce(gcd, widths, 0) or 1
    return Sawing(
        [each // along for each in lengths],
        [each // across for each in widths],
        [((length + kerf) // along, (width + kerf) // across) for length, width, _ in sizes],
        [frozenset(item for item, strip in enumerate(strips) if _fits(strip, size)) for size in sizes],
    )
