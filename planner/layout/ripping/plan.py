"""A rip plan: where each strip lies on its board, what each panel is glued from, what is opened and what to buy."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Rings(Enum):
    """How a strip is turned in its panel: neighbours the other way round, so that they cup against each other."""

    BARK_UP = "bark up"
    BARK_DOWN = "bark down"


@dataclass(frozen=True, slots=True)
class CutStrip:
    """A strip on its board, as sawn: its lower left corner and size in inches, and the panel it goes into."""

    x_in: float
    y_in: float
    length_in: float
    width_in: float
    panel_id: str
    panel_number: int
    """Which of the panels of that id, from 1."""


@dataclass(frozen=True, slots=True)
class Section:
    """A length crosscut from a board and ripped into strips that lie one above the other."""

    x_in: float
    length_in: float
    strips: tuple[CutStrip, ...]


@dataclass(frozen=True, slots=True)
class Offcut:
    """What is left of a board: lower left corner and size in inches, and whether it goes back on the rack."""

    x_in: float
    y_in: float
    length_in: float
    width_in: float
    is_kept: bool

    @property
    def area_in2(self) -> float:
        return self.length_in * self.width_in


@dataclass(frozen=True, slots=True)
class BoardCut:
    """One opened board; strips, kerf and offcuts together are its whole face."""

    board_id: str
    number: int
    """Which of the boards of that id, from 1."""
    length_in: float
    width_in: float
    board_feet: float
    moisture_percent: float | None
    sections: tuple[Section, ...]
    offcuts: tuple[Offcut, ...]
    kerf_in2: float

    @property
    def area_in2(self) -> float:
        return self.length_in * self.width_in

    @property
    def strips_in2(self) -> float:
        return sum(strip.length_in * strip.width_in for section in self.sections for strip in section.strips)

    @property
    def waste_in2(self) -> float:
        """Kerf, and the offcuts that are not kept."""
        return self.kerf_in2 + sum(offcut.area_in2 for offcut in self.offcuts if not offcut.is_kept)

    @property
    def waste_fraction(self) -> float:
        return self.waste_in2 / self.area_in2


@dataclass(frozen=True, slots=True)
class GluedStrip:
    """A strip in its panel: the board it comes from, its width once jointed, and how its rings lie."""

    board_id: str
    board_number: int
    width_in: float
    rings: Rings
    moisture_percent: float | None


@dataclass(frozen=True, slots=True)
class PanelGlued:
    """One panel: its strips in order, the clamps across it and the glue between them."""

    panel_id: str
    number: int
    strips: tuple[GluedStrip, ...]
    clamps: int
    """0 for a panel of one piece."""
    glue_grams: float

    @property
    def moisture_gap_percent(self) -> float | None:
        """Between its driest and wettest strip, in percentage points; None where a board was not metered."""
        found = [strip.moisture_percent for strip in self.strips if strip.moisture_percent is not None]
        return max(found) - min(found) if len(found) == len(self.strips) else None


@dataclass(frozen=True, slots=True)
class Short:
    """Panels that stock is too little for."""

    panel_id: str
    quantity: int


@dataclass(frozen=True, slots=True)
class Purchase:
    """Board feet to buy of one species in one quarter."""

    species: str
    quarter: str
    board_feet: int


@dataclass(frozen=True, slots=True)
class RipPlan:
    """The boards opened, the panels made of them, what stock is short of, and how good that is proved to be."""

    boards: tuple[BoardCut, ...]
    panels: tuple[PanelGlued, ...]
    short: tuple[Short, ...]
    buy: tuple[Purchase, ...]
    cost_board_feet: float
    """Board feet opened, and for each board opened what opening it is worth."""
    bound_board_feet: float
    """No plan that makes as much costs less."""
    is_proved: bool
    """No such plan makes more or costs less."""

    @property
    def boards_opened(self) -> int:
        return len(self.boards)

    @property
    def board_feet_opened(self) -> float:
        return sum(board.board_feet for board in self.boards)

    @property
    def waste_fraction(self) -> float:
        """Kerf and offcuts not kept, as a share of the faces of all boards opened; 0 where none is."""
        area_in2 = sum(board.area_in2 for board in self.boards)
        return sum(board.waste_in2 for board in self.boards) / area_in2 if area_in2 else 0.0

    @property
    def gap(self) -> float:
        """How far above its bound the plan may be, as a share of it."""
        return self.cost_board_feet / self.bound_board_feet - 1 if self.bound_board_feet else 0.0
