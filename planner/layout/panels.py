"""Pieces cut from panels: what is asked, the room that each piece needs, and where each one came to lie."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cached_property
from math import isfinite, pi

from shapely import Polygon
from shapely.affinity import rotate, translate

from planner.errors import MakingError
from planner.layout.rooms import Rect, Size
from planner.units import NM_PER_INCH, say_inches

ALIKE = 0.01
"""A piece is round or square when no more than this share of its area says otherwise."""
FREE_STEP_DEGREES = 15


class Turns(Enum):
    """How a piece may turn against the grain. No piece is ever mirrored."""

    HALF = "half"
    QUARTERS = "quarters"
    FREE = "free"


@dataclass(frozen=True)
class NestPiece:
    """A piece to cut: its outline in inches, the grain along x, and how its design lets it turn.

    A square piece may turn by quarters and a round one as it likes, whatever `turns` says. Holes in the outline are
    cut from the piece itself: nothing else is laid in them. Raises MakingError for an outline that crosses itself, has
    no area or has a corner that is no number.
    """

    id: str
    name: str
    outline: Polygon
    turns: Turns = Turns.HALF

    def __post_init__(self) -> None:
        if not all(isfinite(side) for side in self.outline.bounds) or self.outline.is_empty:
            raise MakingError(f"The outline of {self.name} ({self.id}) has corners that are no numbers; draw it again.")
        if not self.outline.is_valid or self.outline.area <= 0:
            raise MakingError(f"The outline of {self.name} ({self.id}) crosses itself or has no area; draw it again.")

    @cached_property
    def rim(self) -> Polygon:
        """The outline without its holes, the lower left corner of its box at 0, 0."""
        return _at_corner(Polygon(self.outline.exterior), 0.0, 0.0)

    @cached_property
    def size(self) -> Size:
        """Length along the grain and width of its box, in inches."""
        return self.rim.bounds[2], self.rim.bounds[3]

    @cached_property
    def area_in2(self) -> float:
        return float(self.rim.area)

    @cached_property
    def is_box(self) -> bool:
        """A rectangle that lies along the grain: its box is its outline."""
        box_in2 = self.size[0] * self.size[1]
        return box_in2 - self.area_in2 <= 1e-9 * box_in2

    @cached_property
    def is_round(self) -> bool:
        length, width = self.size
        circle_in2 = pi * length * length / 4
        return (
            abs(length - width) <= ALIKE * length
            and abs(self.area_in2 - circle_in2) <= ALIKE * circle_in2
            and self.rim.length <= pi * max(length, width) * (1 + ALIKE / 2)
        )

    @cached_property
    def is_square(self) -> bool:
        """A quarter turn leaves it as it was."""
        if abs(self.size[0] - self.size[1]) > ALIKE * self.size[0]:
            return False
        other = _at_corner(rotate(self.rim, 90, origin=(0, 0)), 0.0, 0.0)
        return bool(self.rim.symmetric_difference(other).area <= ALIKE * self.area_in2)

    @cached_property
    def degrees(self) -> tuple[int, ...]:
        """The turns that are tried, in degrees."""
        if self.is_round:
            return (0,)
        if self.turns is Turns.FREE:
            return tuple(range(0, 360, FREE_STEP_DEGREES))
        return (0, 90, 180, 270) if self.turns is Turns.QUARTERS or self.is_square else (0, 180)

    def may_turn(self, degrees: float) -> bool:
        """Whether it may lie turned by so many degrees."""
        if self.is_round or self.turns is Turns.FREE:
            return True
        return degrees % (90 if self.turns is Turns.QUARTERS or self.is_square else 180) == 0


@dataclass(frozen=True)
class PanelRules:
    """Inches that panels keep, all 0 or more, and the machines' sizes, which are more than 0.

    Pieces keep the cut-out bit's diameter and a web apart. `edge_margin_in` stays free all round, and
    `screw_margin_in` at both ends of the length, where the screws go: the larger of the two counts there. A panel is no
    wider than the planer or the bed and no longer than the bed. Raises MakingError for a value that makes no sense.
    """

    bit_diameter_in: float
    web_in: float
    edge_margin_in: float
    screw_margin_in: float
    planer_width_in: float
    bed_length_in: float
    bed_width_in: float

    def __post_init__(self) -> None:
        for name in ("bit_diameter_in", "web_in", "edge_margin_in", "screw_margin_in"):
            _check(name, getattr(self, name), least=0)
        for name in ("planer_width_in", "bed_length_in", "bed_width_in"):
            _check(name, getattr(self, name))
        if min(self.zone(self.largest)) <= 0:
            raise MakingError("The margins leave nothing of the largest panel; make them smaller.")

    @property
    def spacing_in(self) -> float:
        """How far apart pieces lie."""
        return self.bit_diameter_in + self.web_in

    @property
    def end_margin_in(self) -> float:
        return max(self.edge_margin_in, self.screw_margin_in)

    @property
    def largest(self) -> PanelSize:
        """The largest panel that can be glued up, planed and cut."""
        return PanelSize(self.bed_length_in, min(self.planer_width_in, self.bed_width_in))

    def zone(self, size: PanelSize) -> Size:
        """Length and width inside the margins of a panel: where pieces may lie."""
        return size.length_in - 2 * self.end_margin_in, size.width_in - 2 * self.edge_margin_in


@dataclass(frozen=True)
class PanelSize:
    """A panel or single blank, its grain along its length."""

    length_in: float
    width_in: float

    def __post_init__(self) -> None:
        _check("length_in", self.length_in)
        _check("width_in", self.width_in)

    @property
    def area_in2(self) -> float:
        return self.length_in * self.width_in

    def __str__(self) -> str:
        return f"{_inches(self.length_in)} × {_inches(self.width_in)} in"


@dataclass(frozen=True)
class PanelStock:
    """So many panels of one size that are there to be cut."""

    size: PanelSize
    count: int = 1

    def __post_init__(self) -> None:
        if self.count < 0:
            raise MakingError(f"There cannot be {self.count} panels of {self.size}; give 0 or more.")


@dataclass(frozen=True)
class Placed:
    """Where a piece lies: turned counter-clockwise, then moved until its box's lower left corner is at x, y."""

    id: str
    x_in: float
    y_in: float
    turn_degrees: float


@dataclass(frozen=True)
class Unplaced:
    """A piece that lies on no panel, and why, in one sentence."""

    id: str
    why: str


@dataclass(frozen=True)
class PanelNest:
    """One panel: its size, what lies on it, the offcuts worth keeping (x, y, length, width) and the yield, 0 to 1."""

    size: PanelSize
    placed: tuple[Placed, ...]
    offcuts: tuple[Rect, ...]
    yield_fraction: float


@dataclass(frozen=True)
class Nest:
    """All panels in the order in which they were filled, and the pieces that lie on none."""

    panels: tuple[PanelNest, ...]
    unplaced: tuple[Unplaced, ...]

    @property
    def area_in2(self) -> float:
        """What the panels take up together: the nest's cost."""
        return sum(panel.size.area_in2 for panel in self.panels)

    @property
    def yield_fraction(self) -> float:
        """The share of all panels that becomes pieces, 0 to 1; 0 where there is no panel."""
        pieces_in2 = sum(panel.yield_fraction * panel.size.area_in2 for panel in self.panels)
        return pieces_in2 / self.area_in2 if self.panels else 0.0


def outline_on_panel(piece: NestPiece, placed: Placed) -> Polygon:
    """The piece's outline, holes included, where it lies on the panel, in inches from the panel's lower left corner."""
    return _at_corner(rotate(piece.outline, placed.turn_degrees, origin=(0, 0)), placed.x_in, placed.y_in)


def check_stock(panels: Sequence[PanelStock], rules: PanelRules) -> None:
    """Raise MakingError for a panel in stock that the bed doesn't take."""
    for stock in panels:
        if stock.size.length_in > rules.bed_length_in or stock.size.width_in > rules.bed_width_in:
            bed = PanelSize(rules.bed_length_in, rules.bed_width_in)
            raise MakingError(f"A panel of {stock.size} is larger than the bed of {bed}; cut it down or leave it out.")


def _at_corner(outline: Polygon, x_in: float, y_in: float) -> Polygon:
    left, low = outline.bounds[:2]
    return translate(outline, x_in - left, y_in - low)


def _check(name: str, value: float, least: float | None = None) -> None:
    if not isfinite(value) or (value < least if least is not None else value <= 0):
        wanted = "more than 0" if least is None else "0 or more"
        raise MakingError(f"{name.removesuffix('_in').replace('_', ' ')} is {wanted} inches, not {value:g}.")


def _inches(length_in: float) -> str:
    return say_inches(round(length_in * NM_PER_INCH))
