"""Pieces told together: of one line of an order they share design, wood and text."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from django.db.models import Prefetch

from shop.floor.models import Piece
from shop.orders.models import Line


@dataclass(frozen=True)
class Alike:
    """So many pieces of one line."""

    line: Line
    count: int

    @property
    def is_artwork_missing(self) -> bool:
        return self.line.artwork == Line.Artwork.WANTED


def alike(pieces: Iterable[Piece]) -> tuple[Alike, ...]:
    """The pieces gathered by their line, in the order of the lines."""
    rows = sorted(pieces, key=lambda piece: (piece.line_id, piece.pk))
    gathered = ((group[0].line, len(group)) for group in (list(g) for _, g in groupby(rows, lambda p: p.line_id)))
    return tuple(Alike(line, count) for line, count in gathered)


def pieces_with_names(path: str = "step__pieces") -> Prefetch:
    """For a reading of planned steps: their pieces with all that a page says of one, in one query."""
    names = "line__order__customer", "line__order__fair", "line__design", "line__species"
    return Prefetch(path, queryset=Piece.objects.select_related(*names))
