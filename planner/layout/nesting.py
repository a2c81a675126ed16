"""Pieces of one thickness and species laid on panels: which panels, where each piece lies, and what is left."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from random import Random

from planner.errors import MakingError
from planner.layout.filling import Filler, Filling
from planner.layout.offcuts import offcuts_of
from planner.layout.panels import (
    Nest,
    NestPiece,
    PanelNest,
    PanelRules,
    PanelSize,
    PanelStock,
    Placed,
    Unplaced,
    check_stock,
)
from planner.layout.rooms import Rect, Size
from planner.layout.tries import Tries

TRIES = 600
LEAST_OFFCUT_IN = (12.0, 4.0)
"""Common practice, no source: from this on an offcut is kept for a small piece or a glue-up's strip."""
LARGE_FIRST = (0.1, 0.5, 2.0)
"""Small pieces fill gaps on any panel: where panels could be fewer, large ones count for more."""
AGAIN = 0.4
"""The share of tries when all panels are filled anew."""
FEW_PANELS = 10
"""With more panels than this each of them gets fewer tries then."""
SIXTEENTHS = 16
FULLEST = (0.99, 0.96, 0.92, 0.87, 0.81, 0.74)
"""How full a panel to be glued up is hoped to get: the smallest such panel that takes all is kept."""
FEWER = 0.1
"""The share of tries for each of these."""
WIDTHS = (1.0, 0.85, 0.7, 0.55, 0.4)


def nest(
    pieces: Sequence[NestPiece],
    rules: PanelRules,
    *,
    panels: Sequence[PanelStock] | None = None,
    least_offcut_in: Size = LEAST_OFFCUT_IN,
    tries: int = TRIES,
    seed: int = 0,
    enough: Callable[[], bool] = lambda: False,
) -> Nest:
    """Lay pieces on panels so that little wood is wasted; the same question and seed give the same answer.

    With `panels`, those in stock are filled one after the other, of several sizes the one that is used best. Without,
    panels to be glued up are planned, each as small as it may be within `rules`, to the next sixteenth of an inch.
    `tries` is how often each panel is tried in each way; `enough` is asked between tries and may end the search early.
    `least_offcut_in` is the least length and width of an offcut worth keeping. What fits nowhere is named with its
    reason. Raises MakingError where an id stands twice or a panel in stock is larger than the bed.

    >>> from shapely import box
    >>> tray = NestPiece("t", "Gull tray", box(0, 0, 15, 11))
    >>> rules = PanelRules(0.25, 0.125, 0.5, 1.0, 13.0, 48.0, 24.0)
    >>> nest([tray], rules).panels[0].size
    PanelSize(length_in=17.0, width_in=12.0)
    """
    _check_ids(pieces)
    check_stock(panels or (), rules)
    filler = Filler(pieces, rules, Tries(Random(seed), tries, enough))  # noqa: S311 - a search, no secret
    maker = _Maker(filler, rules, least_offcut_in)
    return maker.glued() if panels is None else maker.from_stock(panels)


@dataclass
class _Maker:
    filler: Filler
    rules: PanelRules
    least_offcut_in: Size

    def from_stock(self, panels: Sequence[PanelStock]) -> Nest:
        """Of several ways to fill panels in stock the one that leaves least, on least wood, the first panel fullest."""
        best = self._from_stock(panels)
        for large_first in LARGE_FIRST:
            if self.filler.is_enough or self._cannot_be_fewer(best):
                break
            self.filler.large_first = large_first
            best = min(best, self._from_stock(panels, AGAIN * min(1.0, FEW_PANELS / len(best.panels))), key=_cost)
        return best

    def _cannot_be_fewer(self, found: Nest) -> bool:
        """Nothing is left over, and without its smallest panel there would be too little room."""
        rooms = sorted(self.filler.room_in(panel.size) for panel in found.panels)
        needed = self.filler.room_needed(range(len(self.filler.pieces)))
        return not rooms or (not found.unplaced and sum(rooms[1:]) < needed * (1 - 1e-9))

    def _from_stock(self, panels: Sequence[PanelStock], share: float = 1.0) -> Nest:
        """Panels in stock filled, each time the one that is used best."""
        left, made = list(range(len(self.filler.pieces))), []
        counts: dict[PanelSize, int] = {}
        for stock in panels:
            counts[stock.size] = counts.get(stock.size, 0) + stock.count
        while left:
            tried = [(size, self.filler.fill(left, size, share)) for size, count in counts.items() if count]
            size, filling = max(tried, key=lambda each: self._share(*each), default=(None, {}))
            if size is None or not filling:
                break
            counts[size] -= 1
            made.append(self._panel(size, filling))
            left = [number for number in left if number not in filling]
        return Nest(tuple(made), tuple(self._unplaced(number, list(counts)) for number in left))

    def glued(self) -> Nest:
        """Panels to be glued up: full ones of the largest size, and for what is left the smallest that takes it."""
        largest, made = self.rules.largest, []
        left = [n for n in range(len(self.filler.pieces)) if self.filler.fits(n, largest)]
        fits = set(left)
        while left:
            filling = self.filler.fill(left, largest)
            if len(filling) == len(left):
                filling = self._smallest(left, filling)
            made.append(self._panel(self._trimmed(filling), filling))
            left = [number for number in left if number not in filling]
        too_large = [number for number in range(len(self.filler.pieces)) if number not in fits]
        return Nest(tuple(made), tuple(self._unplaced(number, [largest]) for number in too_large))

    def _smallest(self, numbers: Sequence[int], filling: Filling) -> Filling:
        """All the pieces on as small a panel as is found, over several widths."""
        best, least = filling, self._trimmed(filling).area_in2
        for width_in in (share * self.rules.largest.width_in for share in WIDTHS):
            for size in self._hoped_for(numbers, width_in):
                if size.area_in2 >= least:
                    break
                other = self.filler.fill(numbers, size, FEWER)
                if len(other) == len(numbers):
                    best, least = other, self._trimmed(other).area_in2
                    break
        return best

    def _hoped_for(self, numbers: Sequence[int], width_in: float) -> Iterator[PanelSize]:
        """Panels of one width that would take the pieces were they so and so full, the shortest first."""
        gap, margin = self.rules.spacing_in, 2 * self.rules.end_margin_in
        across_in = width_in - 2 * self.rules.edge_margin_in + gap
        need = self.filler.room_needed(numbers)
        for full in FULLEST if across_in > gap else ():
            length_in = need / full / across_in - gap + margin
            if margin < length_in <= self.rules.largest.length_in:
                yield PanelSize(length_in, width_in)

    def _trimmed(self, filling: Filling) -> PanelSize:
        """The smallest panel around a filling, to the next sixteenth of an inch."""
        largest, (along, across) = self.rules.largest, self.filler.reach(filling)
        length_in = _next_sixteenth(along + 2 * self.rules.end_margin_in)
        width_in = _next_sixteenth(across + 2 * self.rules.edge_margin_in)
        return PanelSize(min(length_in, largest.length_in), min(width_in, largest.width_in))

    def _share(self, size: PanelSize, filling: Filling) -> float:
        return sum(self.filler.pieces[number].area_in2 for number in filling) / size.area_in2

    def _panel(self, size: PanelSize, filling: Filling) -> PanelNest:
        x_in, y_in = self.rules.end_margin_in, self.rules.edge_margin_in
        placed = tuple(
            Placed(self.filler.pieces[number].id, x + x_in, y + y_in, float(turn))
            for number, (x, y, turn) in sorted(filling.items())
        )
        taken = [self._cut_out(number, lying) for number, lying in filling.items()]
        offcuts = offcuts_of((size.length_in, size.width_in), taken, self.least_offcut_in)
        return PanelNest(size, placed, offcuts, self._share(size, filling))

    def _cut_out(self, number: int, lying: tuple[float, float, int]) -> Rect:
        """What is gone with a piece: its box and the bit's cut around it."""
        x, y, turn = lying
        length, width = self.filler.size(number, turn)
        bit = self.rules.bit_diameter_in
        left, low = x + self.rules.end_margin_in - bit, y + self.rules.edge_margin_in - bit
        return left, low, length + 2 * bit, width + 2 * bit

    def _unplaced(self, number: int, sizes: Sequence[PanelSize]) -> Unplaced:
        piece = self.filler.pieces[number]
        if any(self.filler.fits(number, size) for size in sizes):
            return Unplaced(piece.id, f"No panel is left that has room for {piece.name}.")
        if not sizes:
            return Unplaced(piece.id, f"There is no panel for {piece.name}.")
        largest = max(sizes, key=lambda size: size.area_in2)
        return Unplaced(
            piece.id,
            f"{piece.name} of {PanelSize(*piece.size)} doesn't fit inside the margins of any panel, "
            f"the largest being {largest}, in any turn that its grain allows.",
        )


def _cost(found: Nest) -> tuple[float, float, float]:
    placed_in2 = round(found.yield_fraction * found.area_in2, 6)
    return -placed_in2, found.area_in2, -found.panels[0].yield_fraction if found.panels else 0.0


def _check_ids(pieces: Sequence[NestPiece]) -> None:
    seen: set[str] = set()
    for piece in pieces:
        if piece.id in seen:
            raise MakingError(f"Two pieces have the id {piece.id}; give each its own.")
        seen.add(piece.id)


def _next_sixteenth(length_in: float) -> float:
    return ceil(length_in * SIXTEENTHS - 1e-4) / SIXTEENTHS
