"""The wood a piece is routed from: how large, how many clamps to glue it, which pieces take what stock has ready."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from planner.layout.bed import Oblong
from planner.making.pieces import Blank, Design, Piece
from planner.trade.glue import clamps_for_panel

HAIR_IN = 1e-6


def blank_for(piece: Piece) -> Oblong:
    """The blank that a piece needs: its outline's box and the margin."""
    design = piece.design
    around_in = 2 * design.margin_in
    return Oblong(piece.id, design.name, design.length_in + around_in, design.width_in + around_in)


def clamps_for(design: Design) -> int:
    """Clamps across the joints of the panel that one piece is routed from."""
    return clamps_for_panel(design.length_in + 2 * design.margin_in)


def allot_blanks(pieces: Iterable[Piece], blanks: Sequence[Blank]) -> dict[str, str]:
    """Which piece is made from which ready blank: the first piece chooses first and takes the smallest that will do."""
    left = {blank.id: blank.quantity for blank in blanks}
    smallest_first = sorted(blanks, key=lambda blank: (blank.length_in * blank.width_in, blank.id))
    taken = {}
    for piece in pieces:
        blank = next((each for each in smallest_first if left[each.id] > 0 and _will_do(each, piece)), None)
        if blank:
            left[blank.id] -= 1
            taken[piece.id] = blank.id
    return taken


def _will_do(blank: Blank, piece: Piece) -> bool:
    """Of the wood, just as thick, large enough along and across its grain."""
    needed = blank_for(piece)
    return (
        blank.species == piece.species
        and abs(blank.thickness_in - piece.design.thickness_in) < HAIR_IN
        and blank.length_in + HAIR_IN >= needed.length_in
        and blank.width_in + HAIR_IN >= needed.width_in
    )
