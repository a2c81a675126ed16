"""What a rip plan is made from: boards in stock, panels wanted, and what saw, jointer and planer take."""

from __future__ import annotations

from dataclasses import dataclass, fields
from math import isfinite

from planner.errors import PlannerError
from planner.trade.glue import SPREAD_G_M2
from planner.trade.lumber import true_board_feet


@dataclass(frozen=True, slots=True)
class StockBoard:
    """So many rough boards of one size in stock; sizes in inches, square-edged and usable from end to end."""

    id: str
    length_in: float
    width_in: float
    thickness_in: float
    """As it lies there, rough."""
    species: str
    moisture_percent: float | None = None
    """As metered; None where nobody has."""
    quantity: int = 1

    def __post_init__(self) -> None:
        _check_sizes("Board", self)
        if self.moisture_percent is not None and not 0 <= self.moisture_percent <= 100:
            raise PlannerError(f"Board {self.id}: moisture is 0 to 100 %, not {self.moisture_percent:g}.")

    @property
    def board_feet(self) -> float:
        """Of one such board, nothing rounded."""
        return true_board_feet(self.length_in, self.width_in, self.thickness_in)


@dataclass(frozen=True, slots=True)
class PanelWanted:
    """So many glued-up panels of one finished size in inches; the grain runs along the length.

    `strips` fixes how many equally wide strips each is glued from, 1 for a piece of one board however wide; with None
    they are as wide as the boards give.
    """

    id: str
    length_in: float
    width_in: float
    thickness_in: float
    species: str
    quantity: int = 1
    strips: int | None = None

    def __post_init__(self) -> None:
        _check_sizes("Panel", self)
        if self.strips is not None and self.strips < 1:
            raise PlannerError(f"Panel {self.id} is glued from 1 strip or more, not {self.strips}.")


@dataclass(frozen=True, slots=True)
class RipAllowances:
    """What is lost between a rough board and a panel, in inches, and which strips are good ones.

    Kerf and planing as trade tables give them; the rest is common practice, no source. Raises PlannerError for a
    negative size and for limits that leave no strip.
    """

    kerf_in: float = 0.125
    jointing_in: float = 0.0625
    """Taken off each edge of a strip, the panel's outer edges too: the saw leaves neither straight enough."""
    planing_in: float = 0.1875
    """A rough board is at least so much thicker than the panel."""
    trim_in: float = 1.0
    """A strip is cut so much longer than its panel: for the planer's snipe and to square the ends."""
    widest_strip_in: float = 8.0
    """Nothing wider goes into a panel in one piece: it is ripped and turned, for a wide strip cups."""
    narrowest_strip_in: float = 1.5
    keep_length_in: float = 12.0
    """An offcut at least so long, and as wide as the narrowest strip, goes back on the rack and is no waste."""
    spread_g_m2: float = SPREAD_G_M2
    """Grams of glue on both faces of a joint together; the glue's label comes first."""

    def __post_init__(self) -> None:
        for each in fields(self):
            value = getattr(self, each.name)
            if not (isfinite(value) and value >= 0):
                raise PlannerError(f"{_words(each.name)} is 0 in or more, not {value:g}.")
        if not 0 < self.narrowest_strip_in <= self.widest_strip_in:
            raise PlannerError(
                f"The narrowest strip ({self.narrowest_strip_in:g} in) is above 0 in and no wider than the widest "
                f"({self.widest_strip_in:g} in)."
            )


def _check_sizes(name: str, thing: StockBoard | PanelWanted) -> None:
    for size in ("length_in", "width_in", "thickness_in"):
        value = getattr(thing, size)
        if not (isfinite(value) and value > 0):
            raise PlannerError(f"{name} {thing.id}: {_words(size).lower()} is above 0 in, not {value:g}.")
    if thing.quantity < 0:
        raise PlannerError(f"{name} {thing.id} is there 0 times or more, not {thing.quantity}.")


def _words(name: str) -> str:
    return name.removesuffix("_in").replace("_", " ").capitalize()
