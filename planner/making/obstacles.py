"""What no plan can get round: a piece larger than the bed, too few clamps, a panel nobody has said how to rout."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from planner.errors import MakingError
from planner.layout.bed import check_fits
from planner.making.blanks import blank_for, clamps_for
from planner.making.pace import Pace
from planner.making.pieces import Piece
from planner.making.routes import BLANK_MAKING, together_at


@dataclass(frozen=True, slots=True)
class Obstacle:
    """What would be needed to make a piece after all, and why, in one sentence."""

    needed: str
    why: str


def obstacle_for(piece: Piece, stages: Collection[str], pace: Pace) -> Obstacle | None:
    """What keeps a piece with these stages still to do from being made; everything else is planned without it."""
    if _is_unrouted(piece):
        return Obstacle("router passes", f"{piece.design.name} has no router passes yet.")
    if pace.floor.roles.get("router") and {"router", "carve"} & set(stages):
        try:
            check_fits(blank_for(piece), (pace.floor.bed.length_in, pace.floor.bed.width_in))
        except MakingError as error:
            return Obstacle("a larger router bed", str(error))
    clamps, needed = pace.station("clamps"), clamps_for(piece.design)
    if clamps and "glue" in stages and needed > clamps.capacity:
        why = f"A panel for {piece.design.name} takes {needed} clamps, and {clamps.id} has {clamps.capacity}."
        return Obstacle("more clamps", why)
    return None


def _is_unrouted(piece: Piece) -> bool:
    """Whether a panel would go to the bench as it left the clamps; one that is past the router has been cut somehow."""
    is_still_a_blank = all(together_at(stage) in BLANK_MAKING for stage in piece.past)
    return piece.design.is_glued and not piece.design.passes and is_still_a_blank
