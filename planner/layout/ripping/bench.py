"""Boards and panels of one species in nanometres, each copy of a panel by itself."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from planner.layout.ripping.asking import alike, opening_cost, strip_for
from planner.layout.ripping.boards import PanelWanted, RipAllowances, StockBoard
from planner.layout.ripping.widths import equal, nm


class Class(NamedTuple):
    """Panels of one length and thickness, or sections that serve them, as sawn, in nanometres."""

    length: int
    thickness: int

    def serves(self, other: Class) -> bool:
        return self.length >= other.length and self.thickness >= other.thickness


class Wood(NamedTuple):
    """What a copy of a panel takes, in nanometres."""

    own: Class
    width: int
    """Of all its finished strips together."""
    strips: int | None
    """So many alike; None where they may have any widths."""
    narrowest: int
    widest: int | None
    """Of a strip; None where it is one piece of one board, however wide."""


class Section(NamedTuple):
    """A piece crosscut from a board: of which stock, which of its copies, its length, full width and thickness."""

    stock: int
    copy: int
    length: int
    width: int
    thickness: int


class Bench:
    """What there is, what is wanted, and what saw and jointer take."""

    def __init__(
        self,
        boards: Sequence[StockBoard],
        panels: Sequence[PanelWanted],
        allowances: RipAllowances,
        board_is_worth: float,
    ) -> None:
        stock = alike(boards)
        self.sizes = sorted(stock)
        self.quantities = [sum(each.quantity for each in stock[size]) for size in self.sizes]
        self.costs = [opening_cost(stock[size][0], board_is_worth) for size in self.sizes]
        self.kerf, self.jointed = nm(allowances.kerf_in), 2 * nm(allowances.jointing_in)
        self.loss = self.kerf + self.jointed
        """What a strip takes of its section besides its finished width."""
        self.allowances = allowances
        self.copies = [panel for panel in panels for _ in range(panel.quantity)]
        self.wood = [self._wood(panel) for panel in self.copies]

    def _wood(self, panel: PanelWanted) -> Wood:
        as_sawn = strip_for(panel, 0, self.allowances)
        own, width = Class(as_sawn.length, as_sawn.thickness), nm(panel.width_in)
        widest = None if panel.strips == 1 else nm(self.allowances.widest_strip_in)
        if panel.strips is None:
            return Wood(own, width, None, min(nm(self.allowances.narrowest_strip_in), width), widest)
        strips = equal(width, panel.strips)
        return Wood(own, sum(strips), panel.strips, strips[0], widest)

    def can_make(self, panel: PanelWanted) -> bool:
        """Whether any board is long, thick and wide enough for a strip of it."""
        wood = self._wood(panel)
        return any(
            Class(length, thickness).serves(wood.own) and self.widest_of(width, wood) > 0
            for length, width, thickness in self.sizes
        )

    def widest_of(self, width: int, wood: Wood) -> int:
        """The widest strip for a panel that a section so wide gives; 0 where it gives none."""
        widest = width - self.jointed if wood.widest is None else min(wood.widest, width - self.jointed)
        return widest if widest >= wood.narrowest else 0

    def usable(self, stock: int) -> int:
        """The most finished width that strips of a section have together."""
        length, width, thickness = self.sizes[stock]
        fit = [wood for wood in self.wood if Class(length, thickness).serves(wood.own)]
        widest = max((self.widest_of(width, wood) for wood in fit), default=0)
        if not widest:
            return 0
        as_wide_as_may_be = (width + self.kerf) // (widest + self.loss)
        strips = as_wide_as_may_be, as_wide_as_may_be + 1
        return max(min(widest * count, width + self.kerf - count * self.loss) for count in strips)
