"""Designs drawn to scale from above."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from shapely.geometry.base import BaseGeometry

from shop.designs import shapes
from shop.designs.models import Design
from shop.pictures import Sheet
from shop.words import inches


@dataclass(frozen=True)
class Picture:
    """Paths of a design: its outline, pockets, carved lines, and what is laid over them."""

    sheet: Sheet
    says: str
    outline: str
    pockets: tuple[str, ...]
    carving: tuple[str, ...]
    paths: tuple[str, ...] = ()
    spots: tuple[str, ...] = ()


def drawn(design: Design, *, paths: Sequence[BaseGeometry] = (), spots: Sequence[BaseGeometry] = ()) -> Picture:
    """A design; `paths` are rounds of a bit over it, `spots` what is wrong with it."""
    sheet = Sheet(*shapes.size_in(design))
    return Picture(
        sheet=sheet,
        says=f"{design} from above, {inches(design.length_nm)} by {inches(design.width_nm)} inches",
        outline=sheet.path(shapes.outline(design)),
        pockets=tuple(sheet.path(pocket) for pocket in shapes.pockets(design)),
        carving=tuple(sheet.path(line) for line in shapes.carving(design)),
        paths=tuple(sheet.path(path) for path in paths),
        spots=tuple(sheet.path(spot) for spot in spots),
    )
