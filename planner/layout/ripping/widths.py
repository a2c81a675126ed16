"""In which widths a panel may be glued up: equal strips, or strips as wide as boards give and one that closes it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations_with_replacement

from planner.layout.ripping.boards import PanelWanted, RipAllowances, StockBoard
from planner.units import NM_PER_INCH

Widths = tuple[int, ...]
"""Finished widths of a panel's strips, in nanometres, widest first."""

MOST_CLOSED = 3
FULL_STRIPS = 5


def nm(length_in: float) -> int:
    return round(length_in * NM_PER_INCH)


def widths_for(panel: PanelWanted, boards: Iterable[StockBoard], allowances: RipAllowances) -> list[Widths]:
    """The ways to make up a panel's width, fewest strips first; none where its number of strips makes them too wide."""
    width = nm(panel.width_in)
    narrowest, widest = nm(allowances.narrowest_strip_in), nm(allowances.widest_strip_in)
    if panel.strips is not None:
        too_wide = panel.strips > 1 and width > panel.strips * widest  # one piece is one board, however wide
        return [] if too_wide else [equal(width, panel.strips)]
    full = sorted(set(_full_widths(boards, allowances)), reverse=True)
    counts = sorted({-(-width // each) for each in full})
    if len(counts) == 1 and (counts[0] + 1) * narrowest <= width:
        counts.append(counts[0] + 1)
    ways = [equal(width, count) for count in _spread(counts) if count == 1 or count * narrowest <= width]
    ways += _varied(_closed(width, full, narrowest, widest))
    return sorted(dict.fromkeys(ways), key=lambda way: (len(way), way))


def _spread(counts: Sequence[int]) -> list[int]:
    """The least, the middle and the most."""
    return [] if not counts else [counts[0], counts[len(counts) // 2], counts[-1]]


def _varied(ways: Iterable[Widths]) -> list[Widths]:
    """Some of the ways, fewest strips first, each with a width that those before don't have."""
    found: list[Widths] = []
    for way in sorted(dict.fromkeys(ways), key=lambda way: (len(way), way)):
        if len(found) < MOST_CLOSED and not set(way) <= {width for other in found for width in other}:
            found.append(way)
    return found


def equal(width: int, count: int) -> Widths:
    """So many strips alike, rounded up to whole nanometres."""
    return (-(-width // count),) * count


def _full_widths(boards: Iterable[StockBoard], allowances: RipAllowances) -> Iterator[int]:
    """The width of one strip, and of two, that take up a whole board."""
    kerf, jointing = nm(allowances.kerf_in), nm(allowances.jointing_in)
    for board in boards:
        for strips in (1, 2):
            width = (nm(board.width_in) + kerf) // strips - kerf - 2 * jointing
            if nm(allowances.narrowest_strip_in) <= width <= nm(allowances.widest_strip_in):
                yield width


def _closed(width: int, full: Sequence[int], narrowest: int, widest: int) -> Iterator[Widths]:
    """Up to so many full strips, and one of the rest where there is a rest."""
    for count in range(1, FULL_STRIPS + 1):
        for strips in combinations_with_replacement(full, count):
            rest = width - sum(strips)
            if rest == 0:
                yield strips
            elif narrowest <= rest <= widest:
                yield tuple(sorted((*strips, rest), reverse=True))
