"""How blanks and panels are held on the router's bed: minutes and dollars for each piece, and an advice."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from math import ceil, isfinite

from planner.errors import MakingError

CAUTION = (
    "Keep screws and clamps out of the bit's path, check it in a dry run above the wood, and stay with the machine; "
    "the maker's manual and local rules come first."
)
"""Source: university router safety rules (screws and clamps out of the path, an operator present, tabs on cut-outs)."""
MILL = Decimal("0.001")

TAPE, SCREWS, FENCE = "tape and glue", "corner screws and tabs", "stop fence"


@dataclass(frozen=True)
class HoldDownFigures:
    """What one way of holding down takes: all figures are 0 or more and may be changed to the shop's own.

    `set_up_minutes` once for the run, `minutes_a_load` for each panel or single blank laid down and taken off,
    `minutes_a_piece` for what each piece needs by itself (cutting and sanding off tabs, peeling tape),
    `minutes_a_ft2` for a square foot of pieces (laying tape); dollars of consumables for a load and a square foot.
    """

    set_up_minutes: float
    minutes_a_load: float
    minutes_a_piece: float
    minutes_a_ft2: float
    dollars_a_load: Decimal
    dollars_a_ft2: Decimal

    def __post_init__(self) -> None:
        for name in self.__dataclass_fields__:
            value = getattr(self, name)
            if not isfinite(value) or value < 0:
                raise MakingError(f"Holding down: {name.replace('_', ' ')} is 0 or more, not {value}.")


COMMON_FIGURES: Mapping[str, HoldDownFigures] = {
    TAPE: HoldDownFigures(0, 3, 1, 2, Decimal("0.10"), Decimal("0.60")),
    SCREWS: HoldDownFigures(1, 4, 1, 0, Decimal("0.20"), Decimal(0)),
    FENCE: HoldDownFigures(25, 1, 0.25, 0, Decimal("0.05"), Decimal(0)),
}
"""Common practice, no source: masking tape on both faces with a quick glue between; four screws, and three or four tabs
to saw and sand off each piece; a fence and cams screwed to the bed once, each blank pushed against them."""


@dataclass(frozen=True)
class HoldDownJob:
    """A run of pieces: how many, how many on each panel or blank (one after the other on the bed), and their size."""

    pieces: int
    pieces_a_load: int
    piece_area_in2: float
    figures: Mapping[str, HoldDownFigures] = field(default_factory=lambda: COMMON_FIGURES)

    def __post_init__(self) -> None:
        if self.pieces < 1 or self.pieces_a_load < 1:
            raise MakingError(
                f"Holding down {self.pieces} pieces, {self.pieces_a_load} on a panel, makes no sense; give 1 or more."
            )
        if not isfinite(self.piece_area_in2) or self.piece_area_in2 <= 0:
            raise MakingError(f"A piece's area is more than 0 square inches, not {self.piece_area_in2:g}.")
        if not self.figures:
            raise MakingError("There is no way of holding down to compare; give the figures of one at least.")

    @property
    def loads(self) -> int:
        return ceil(self.pieces / self.pieces_a_load)


@dataclass(frozen=True)
class HoldDown:
    """One way of holding a run down: hand minutes, dollars of consumables and dollars in all, each for one piece."""

    name: str
    minutes_a_piece: float
    consumables_dollars_a_piece: Decimal
    dollars_a_piece: Decimal
    says: str


def compare_hold_downs(job: HoldDownJob, hands_dollars_an_hour: Decimal) -> tuple[HoldDown, ...]:
    """The ways of holding a run down, the cheapest for each piece first; minutes are turned to dollars by the wage.

    A stop fence is for single blanks of one size, so that it is left out where several pieces lie on a panel; a single
    blank has no room for screws beside the piece, so that those are left out there, unless nothing else is known.
    Show `CAUTION` wherever this is shown. Raises MakingError for a wage below 0.

    >>> ways = compare_hold_downs(HoldDownJob(40, 1, 150.0), Decimal(60))
    >>> [way.name for way in ways]
    ['stop fence', 'tape and glue']
    """
    if not hands_dollars_an_hour.is_finite() or hands_dollars_an_hour < 0:
        raise MakingError(f"The wage is 0 dollars an hour or more, not {hands_dollars_an_hour}.")
    unfit = SCREWS if job.pieces_a_load == 1 else FENCE
    names = [name for name in job.figures if name != unfit] or list(job.figures)
    ways = [_way(name, job, hands_dollars_an_hour) for name in names]
    return tuple(sorted(ways, key=lambda way: (way.dollars_a_piece, way.name)))


def hold_down_advice(ways: Sequence[HoldDown], job: HoldDownJob) -> str:
    """Which way to take for this run, in one sentence; `ways` as compare_hold_downs gives them."""
    best = ways[0]
    what = f"{job.pieces} pieces" if job.pieces > 1 else "a one-off"
    where = f" on {job.loads} panels" if job.pieces_a_load > 1 and job.loads > 1 else ""
    advice = f"For {what}{where} take {best.name}: {best.says}."
    if len(ways) > 1:
        more = ways[1].dollars_a_piece - best.dollars_a_piece
        advice = f"{advice[:-1]}, ${more:.2f} a piece less than {ways[1].name}."
    return advice


def _way(name: str, job: HoldDownJob, hands_dollars_an_hour: Decimal) -> HoldDown:
    figures = job.figures[name]
    piece_ft2 = job.piece_area_in2 / 144
    minutes = (figures.set_up_minutes + job.loads * figures.minutes_a_load) / job.pieces
    minutes += figures.minutes_a_piece + figures.minutes_a_ft2 * piece_ft2
    consumables = figures.dollars_a_load * job.loads / job.pieces + figures.dollars_a_ft2 * Decimal(str(piece_ft2))
    dollars = Decimal(str(minutes)) * hands_dollars_an_hour / 60 + consumables
    return HoldDown(
        name,
        minutes,
        consumables.quantize(MILL, ROUND_HALF_UP),
        dollars.quantize(MILL, ROUND_HALF_UP),
        f"{minutes:.1f} minutes of hands and ${consumables:.2f} of consumables a piece",
    )
