"""Drawings to scale: geometry in inches becomes SVG in hundredths of an inch, its own down turned over here only."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from shapely import LineString, MultiLineString, MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

SCALE = 100
"""Drawing units to the inch."""


def shares_of_the_longest(drawn: Iterable[dict[str, Any]]) -> None:
    """Gives drawings one scale: each gets its `share`, how wide it is in per cent of the longest by `length_in`."""
    drawn = list(drawn)
    longest_in = max((each["length_in"] for each in drawn), default=1)
    for each in drawn:
        each["share"] = round(100 * each["length_in"] / longest_in, 2)


@dataclass(frozen=True, slots=True)
class Sheet:
    """A frame of so many inches, with a border for what stands on its edge."""

    length_in: float
    width_in: float
    border_in: float = 0.3

    @property
    def frame(self) -> str:
        border = round(self.border_in * SCALE)
        length, width = round(self.length_in * SCALE), round(self.width_in * SCALE)
        return f"{-border} {-border} {length + 2 * border} {width + 2 * border}"

    def at(self, x_in: float, y_in: float) -> tuple[float, float]:
        """A point in drawing units."""
        return round(x_in * SCALE, 1), round((self.width_in - y_in) * SCALE, 1)

    def path(self, shape: BaseGeometry) -> str:
        """Any geometry as the data of one path."""
        return "".join(_ring(self, points, closed=closed) for points, closed in _rings(shape))


def _ring(sheet: Sheet, points: Iterable[tuple[float, float]], *, closed: bool) -> str:
    drawn = "L".join(f"{x:g} {y:g}" for x, y in (sheet.at(*point[:2]) for point in points))
    return f"M{drawn}{'Z' if closed else ''}"


def _rings(shape: BaseGeometry) -> Iterable[tuple[Iterable[tuple[float, float]], bool]]:
    if isinstance(shape, Polygon):
        if not shape.is_empty:
            yield from ((ring.coords[:-1], True) for ring in (shape.exterior, *shape.interiors))
    elif isinstance(shape, LineString):
        yield shape.coords, False
    elif isinstance(shape, Point):
        yield shape.buffer(0.06).exterior.coords[:-1], True
    elif isinstance(shape, MultiPolygon | MultiLineString) or hasattr(shape, "geoms"):
        for part in shape.geoms:
            yield from _rings(part)
