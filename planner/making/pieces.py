"""What is to be made, as values: designs with their passes and details, pieces, the shop's common minutes.

Lengths are inches, minutes are minutes of work on one piece unless a name says otherwise.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from planner.errors import MakingError
from planner.parts import Begun, Person, Prices, Segment, Station

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Pass:
    """One job of one bit on a piece in the main bed load."""

    name: str
    bit: str
    minutes: float


@dataclass(frozen=True, slots=True)
class Detail:
    """One step of the detail branch: mask, carve, brush, seal, paint, peel or laser, and the rest after it."""

    kind: str
    minutes: int
    bit: str | None = None
    rest_least_minutes: int = 0
    rest_most_minutes: int | None = None
    colour: str = ""


@dataclass(frozen=True, slots=True)
class Glue:
    """How long in clamps, and how long a panel rests before it is machined."""

    clamp_minutes: int
    cure_minutes: int
    open_minutes: int = 10


@dataclass(frozen=True, slots=True)
class Finish:
    """An oil: put on, soak between two limits, wipe, dry; so many coats of it."""

    id: str
    apply_minutes: int
    soak_least_minutes: int
    soak_most_minutes: int
    wipe_minutes: int
    dry_minutes: int
    coats: int = 1


@dataclass(frozen=True)
class Design:
    """A thing the workshop makes. `outline` is in inches from the lower left corner of its bounding box."""

    id: str
    name: str
    length_in: float
    width_in: float
    thickness_in: float
    outline: tuple[Point, ...]
    passes: tuple[Pass, ...]
    details: tuple[Detail, ...] = ()
    sanding_minutes: int = 0
    finish: Finish | None = None
    is_glued: bool = True
    margin_in: float = 0.25
    """Wood left all round its outline for the cut-out and to hold it down by. Common practice, no source."""


@dataclass(frozen=True)
class Piece:
    """One unit still to be made, and the stages of its route that have begun or are over."""

    id: str
    order: str
    line: str
    design: Design
    species: str
    text: str = ""
    past: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Blank:
    """A kind of panel in stock, flat and ready for the router."""

    id: str
    species: str
    length_in: float
    width_in: float
    thickness_in: float
    quantity: int


@dataclass(frozen=True)
class StandingStep:
    """A step that has begun or is over: it and its batch stay as they are."""

    id: str
    stage: str
    batch: str
    pieces: tuple[str, ...]
    begun: Begun
    segments: tuple[Segment, ...]
    skill: str | None
    about: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class CommonMinutes:
    """Minutes that don't depend on a design, all editable in the workshop's settings."""

    rip: int
    glue: int
    unclamp: int
    flatten: int
    cut_blank: int
    load: int
    load_per_piece: int
    unload_per_piece: int
    bit_change: int
    pack: int
    pack_per_piece: int
    close: int = 1  # of gluing a panel: spreading the glue and closing the clamps
    window_margin: int = 0  # a wait window is planned to shut so much sooner than it does


@dataclass(frozen=True, slots=True)
class Bed:
    """A router's bed."""

    length_in: float
    width_in: float
    gap_in: float


@dataclass(frozen=True)
class Floor:
    """The workshop as the planner sees it: people, stations by role, common minutes, the glue in use."""

    people: tuple[Person, ...]
    stations: tuple[Station, ...]
    roles: Mapping[str, tuple[str, ...]]  # role -> ids of the stations that fill it
    bed: Bed
    minutes: CommonMinutes
    glue: Glue
    blanks: tuple[Blank, ...] = ()


@dataclass(frozen=True)
class OrderFacts:
    """An order as the planner sees it before its steps are known."""

    id: str
    placed: int
    due: int
    weight: float
    hard: bool


@dataclass(frozen=True)
class Work:
    """Everything that `problem_of` needs: all times are minutes since `origin`, as in the exchange."""

    floor: Floor
    pieces: tuple[Piece, ...]
    orders: tuple[OrderFacts, ...]
    standing: tuple[StandingStep, ...]
    prices: Prices

    def __post_init__(self) -> None:
        known = {order.id for order in self.orders}
        for piece in self.pieces:
            if piece.order not in known:
                raise MakingError(f"pieces {piece.id}: order {piece.order} is not among the orders")
