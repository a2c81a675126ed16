"""Blanks laid on a bed, each along its wood's length or turned a quarter, with a gap between them.

The free room is kept as all its largest rectangles; each blank goes where it leaves the least on its shorter side
(best short side fit), or nearest the lower left corner. Several orders are tried and the first that fits all is kept.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from planner.errors import MakingError
from planner.layout.rooms import HAIR_IN, Rect, Rule, Size, choices, goes_in, lower_left, short_side_fit, without
from planner.units import NM_PER_INCH, say_inches


@dataclass(frozen=True, slots=True)
class Oblong:
    """What lies on the bed: a blank, and the name of what is made from it."""

    id: str
    name: str
    length_in: float
    width_in: float


@dataclass(frozen=True, slots=True)
class Place:
    """Where a blank lies: its lower left corner, and whether its length runs across the bed."""

    id: str
    x_in: float
    y_in: float
    turned: bool


def check_fits(blank: Oblong, bed: Size) -> None:
    """Raise MakingError, naming the design and the bed, for a blank that doesn't fit the empty bed either way round."""
    if not (goes_in((blank.length_in, blank.width_in), bed) or goes_in((blank.width_in, blank.length_in), bed)):
        raise MakingError(
            f"{blank.name} needs a blank of {_size((blank.length_in, blank.width_in))} in, "
            f"which the bed of {_size(bed)} in doesn't take either way round."
        )


def lay_out(blanks: Sequence[Oblong], bed: Size, gap_in: float) -> tuple[Place, ...] | None:
    """A place on the bed (length, width, inches) for each blank, at least `gap_in` apart; None if none was found.

    The answer depends on the sizes alone. A None is no proof that the blanks don't fit.
    """
    order = sorted(range(len(blanks)), key=lambda n: (blanks[n].length_in, blanks[n].width_in, blanks[n].id))
    sizes = tuple((blanks[n].length_in + gap_in, blanks[n].width_in + gap_in) for n in order)
    spots = _packing(sizes, (bed[0] + gap_in, bed[1] + gap_in))
    if spots is None:
        return None
    found = {n: Place(blanks[n].id, *spot) for n, spot in zip(order, spots, strict=True)}
    return tuple(found[n] for n in range(len(blanks)))


Spot = tuple[float, float, bool]


@lru_cache(maxsize=20_000)
def _packing(sizes: tuple[Size, ...], bed: Size) -> tuple[Spot, ...] | None:
    if sum(length * width for length, width in sizes) > bed[0] * bed[1] + HAIR_IN:
        return None
    for order in _orders(sizes):
        for rule in (short_side_fit, lower_left):
            spots = _packed([sizes[n] for n in order], bed, rule)
            if spots is not None:
                return tuple(spot for _, spot in sorted(zip(order, spots, strict=True)))
    return None


def _orders(sizes: Sequence[Size]) -> Iterable[list[int]]:
    """Largest first, by longer side and by area."""
    by_side = sorted(range(len(sizes)), key=lambda n: (-max(sizes[n]), -min(sizes[n]), n))
    by_area = sorted(range(len(sizes)), key=lambda n: (-sizes[n][0] * sizes[n][1], n))
    return [by_side] if by_side == by_area else [by_side, by_area]


def _packed(sizes: Iterable[Size], bed: Size, rule: Rule) -> list[Spot] | None:
    free: list[Rect] = [(0.0, 0.0, *bed)]
    spots = []
    for length, width in sizes:
        best = min(choices(free, (length, width), rule), default=None)
        if best is None:
            return None
        _, x, y, turned = best
        spots.append((x, y, turned))
        free = without(free, (x, y, width, length) if turned else (x, y, length, width))
    return spots


def _size(size: Size) -> str:
    return " × ".join(say_inches(round(side * NM_PER_INCH)) for side in size)
