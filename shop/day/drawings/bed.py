"""The router's bed seen from above, with the pieces as they lie on it. The stored layout is in inches from the
bed's lower left corner; a drawing's own down is the bed's near edge, so heights are turned over here and only here."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from planner import NM_PER_INCH
from shop.designs.shapes import outline_in
from shop.floor.models import Piece

SCALE = 10
"""Drawing units to the inch: tenths of an inch are fine enough, and keep the pages small."""

GRAIN_SHARE = 0.6
"""How much of a piece's length its grain line covers."""

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class OnBed:
    """One piece as it lies: number, outline, the middle where the number goes, its grain, its narrow side."""

    number: int
    piece: int
    label: str
    grain: str
    points: str
    middle: Point
    grain_line: str
    narrow: float
    is_spoilt: bool


@dataclass(frozen=True, slots=True)
class Bed:
    """A bed to scale, in tenths of an inch."""

    length: int
    width: int
    pieces: tuple[OnBed, ...]

    @property
    def frame(self) -> str:
        return f"-6 -6 {self.length + 12} {self.width + 12}"

    @property
    def figure(self) -> int:
        """How tall a number is: read at arm's length where the bed is as wide as a phone, yet inside its piece."""
        widest = self.length / 16
        return max(14, round(min([widest, *(each.narrow * 0.42 for each in self.pieces)])))

    @property
    def disc(self) -> int:
        """Half the width of the blank spot that a number stands on, so that no grain runs through it."""
        return self.figure * 2 // 3


def bed_of(length_nm: int, width_nm: int, layout: Iterable[Mapping], pieces: Mapping[int, Piece]) -> Bed:
    """The bed with its pieces numbered in the order of the layout; a piece that is gone leaves its place empty."""
    width_in = width_nm / NM_PER_INCH
    placed = tuple(
        _on_bed(number, place, pieces[pk], width_in)
        for number, place in enumerate(layout, start=1)
        if (pk := piece_pk(place["piece"])) in pieces
    )
    return Bed(round(length_nm / NM_PER_INCH * SCALE), round(width_in * SCALE), placed)


def piece_pk(name: str) -> int:
    """The plan calls a piece p12; its row is 12."""
    return int(name.removeprefix("p"))


def _on_bed(number: int, place: Mapping, piece: Piece, bed_width_in: float) -> OnBed:
    design, turned = piece.line.design, bool(place["turned"])
    length_in, width_in = design.length_nm / NM_PER_INCH, design.width_nm / NM_PER_INCH
    across, up = (width_in, length_in) if turned else (length_in, width_in)

    def drawn(x_in: float, y_in: float) -> Point:
        return (
            round((place["x_in"] + x_in) * SCALE, 1),
            round((bed_width_in - place["y_in"] - y_in) * SCALE, 1),
        )

    outline = _turned(outline_in(design), width_in) if turned else outline_in(design)
    half = GRAIN_SHARE / 2
    ends = ((0.5, 0.5 - half), (0.5, 0.5 + half)) if turned else ((0.5 - half, 0.5), (0.5 + half, 0.5))
    grain_line = "M" + "L".join(f"{x:g} {y:g}" for x, y in (drawn(a * across, b * up) for a, b in ends))
    return OnBed(
        number=number,
        piece=piece.pk,
        label=f"{number}: {design}, {piece.line.species}",
        grain=piece.line.species.grain,
        points=" ".join(f"{x:g},{y:g}" for x, y in (drawn(*point) for point in outline)),
        middle=drawn(across / 2, up / 2),
        grain_line=grain_line,
        narrow=SCALE * min(length_in, width_in),
        is_spoilt=piece.spoilt_at is not None,
    )


def _turned(outline: Iterable[Point], width_in: float) -> tuple[Point, ...]:
    """A quarter turn to the left, back into the box's own corner."""
    return tuple((width_in - y, x) for x, y in outline)
