"""Will it stay flat? One finding from what is known of the piece, with its reasons.

A board cups because it shrinks more along its rings than across them; a thin wide floor under a pocket shows it most.
What counts how much is the trade's experience: common practice, no source, unless a line says otherwise.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import isfinite

from planner.errors import PlannerError
from planner.trade.amounts import not_below_zero
from planner.trade.wood.species import Wood

THIN_FLOOR_IN = 0.375
VERY_THIN_FLOOR_IN = 0.25
WIDE_STRIP_IN = 8.0
NARROW_STRIP_IN = 4.0
SLENDER = 30.0
GAP_PERCENT = 2.0
RINGS_RADIUS_IN = 6.0
"""How far from the tree's heart a usual board was sawn."""
MAY_MOVE, WILL_CUP = 2, 4


class Level(StrEnum):
    """How it will lie."""

    STAYS = "stays flat"
    MAY_MOVE = "may move"
    CUPS = "likely to cup"


@dataclass(frozen=True)
class FlatnessFacts:
    """Inches, per cent of moisture. `floor_in` is the wood left under the pocket, the clean-up's depth taken off too;
    the whole thickness where there is no pocket. `strips` are the boards glued side by side, the widest
    `widest_strip_in`; `rings_alternate` where every other one is turned."""

    floor_in: float
    length_in: float
    width_in: float
    strips: int
    widest_strip_in: float
    rings_alternate: bool
    wood: Wood
    from_percent: float
    to_percent: float
    is_quarter_sawn: bool = False

    def __post_init__(self) -> None:
        for name in ("floor_in", "length_in", "width_in", "widest_strip_in"):
            value = getattr(self, name)
            if not (isfinite(value) and value > 0):
                raise PlannerError(
                    f"{name.removesuffix('_in').replace('_', ' ')} is more than 0 inches, not {value:g}."
                )
        not_below_zero("moisture it has in per cent", self.from_percent)
        not_below_zero("moisture it comes to in per cent", self.to_percent)
        if not self.strips >= 1:
            raise PlannerError(f"A panel has 1 strip or more, not {self.strips}.")


@dataclass(frozen=True)
class Flatness:
    """The finding: how it will lie, why, by how much its widest board would cup (an estimate, inches), in words."""

    level: Level
    reasons: tuple[str, ...]
    cup_in: float
    says: str


def flatness(facts: FlatnessFacts) -> Flatness:
    """One honest finding with its reasons, the weightiest first."""
    weighed = [*_floor(facts), *_strips(facts), *_slender(facts), *_moisture(facts)]
    weighed.sort(key=lambda each: -each[0])
    points = sum(weight for weight, _ in weighed)
    has_cause = (
        bool(_strips(facts)) or facts.floor_in < VERY_THIN_FLOOR_IN
    )  # thin and far off, yet of good strips: moves
    cups = points >= WILL_CUP and has_cause
    level = Level.CUPS if cups else Level.MAY_MOVE if points >= MAY_MOVE else Level.STAYS
    reasons = tuple(reason for _, reason in weighed)
    cup = cup_in(facts)
    return Flatness(level, reasons, cup, f"{level.value}: {', '.join(reasons)}" if reasons else level.value)


def cup_in(facts: FlatnessFacts) -> float:
    """About how far the middle of the widest board rises over its edges, in inches, free to move.

    A flat-sawn board whose face lies `RINGS_RADIUS_IN` from the heart bends so that the difference between its
    tangential and radial change, over its thickness, sets its curvature: k = Δε / R, cup = k·w² / 8. An estimate from
    geometry; glue, oil and neighbours hold it back.
    """
    change = facts.wood.tangential - facts.wood.radial
    curvature = (
        0.0 if facts.is_quarter_sawn else abs(change * (facts.to_percent - facts.from_percent)) / RINGS_RADIUS_IN
    )
    return curvature * facts.widest_strip_in**2 / 8


def _floor(facts: FlatnessFacts) -> list[tuple[int, str]]:
    if facts.floor_in < VERY_THIN_FLOOR_IN:
        return [(3, f"{facts.floor_in:.2f} in floor")]
    return [(2, f"{facts.floor_in:.2f} in floor")] if facts.floor_in < THIN_FLOOR_IN else []


def _strips(facts: FlatnessFacts) -> list[tuple[int, str]]:
    if facts.is_quarter_sawn:
        return []
    wide = f"{facts.widest_strip_in:.3g} in"
    if facts.widest_strip_in > WIDE_STRIP_IN:
        return [(2, f"one {wide} board" if facts.strips == 1 else f"a strip of {wide}")]
    if facts.strips == 1 and facts.widest_strip_in > NARROW_STRIP_IN:
        return [(1, f"one {wide} board")]
    if facts.strips > 1 and not facts.rings_alternate:
        return [(1, "rings all one way")]
    return []


def _slender(facts: FlatnessFacts) -> list[tuple[int, str]]:
    slenderness = max(facts.length_in, facts.width_in) / facts.floor_in
    return [(1, f"{slenderness:.0f} times as long as its floor is thick")] if slenderness > SLENDER else []


def _moisture(facts: FlatnessFacts) -> list[tuple[int, str]]:
    gap = abs(facts.to_percent - facts.from_percent)
    if gap <= GAP_PERCENT:
        return []
    way = "drier" if facts.to_percent < facts.from_percent else "damper"
    return [(1 if gap <= 2 * GAP_PERCENT else 2, f"{gap:.1f} % {way} at the customer's")]
