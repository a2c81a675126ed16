"""Points made into polygons that have an inside, in a size that a workshop makes."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite

from shapely import Polygon
from shapely.geometry import polygon as shapely_polygon
from shapely.validation import explain_validity

from planner.errors import OutlineError

LEAST_IN2 = 1 / 25.4**2
"""1 mm²."""
MOST_IN2 = 4_000_000 / 25.4**2
"""4 m²."""
MOST_TOLD_FEET = 1e6
CLOSE_IN = 1e-9


def polygon_from(points: Sequence[Sequence[float]], what: str = "outline") -> Polygon:
    """The polygon of these points in inches, counter-clockwise; the last point is joined to the first.

    Raises OutlineError for fewer than 3 points, a point that is no pair of numbers, an edge that crosses another, and
    an inside smaller than 1 mm² or larger than 4 m². `what` names it in the error.
    """
    for point in points:
        if len(point) != 2 or not all(isfinite(value) for value in point):
            raise OutlineError(f"The {what} has a point {list(point)} that is not two numbers; draw it anew.")
    apart = _apart([(float(x), float(y)) for x, y in points])
    if len(apart) < 3:
        raise OutlineError(f"The {what} has {len(apart)} points that differ; it needs 3 or more to have an inside.")
    return checked(Polygon(apart), what)


def checked(polygon: Polygon, what: str = "outline") -> Polygon:
    """The polygon, counter-clockwise, if it has one inside of a sensible size; else OutlineError says why not."""
    if not polygon.is_valid:
        corner = polygon.bounds[:2]
        raise OutlineError(
            f"The {what} {_fault(explain_validity(polygon), corner)}; draw it so that no edge meets another."
        )
    if polygon.area < LEAST_IN2:
        raise OutlineError(f"The {what} has next to no inside ({polygon.area:.2g} square inches); draw it larger.")
    if polygon.area > MOST_IN2:
        feet = polygon.area / 144
        large = f"{feet:,.0f} square feet, more than 43" if feet < MOST_TOLD_FEET else "far more than 43 square feet"
        raise OutlineError(f"The {what} has {large}; check the units it is drawn in.")
    return shapely_polygon.orient(polygon)


def _apart(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Without points that repeat the one before, the last one included."""
    kept: list[tuple[float, float]] = []
    for point in points:
        if not kept or max(abs(a - b) for a, b in zip(point, kept[-1], strict=True)) > CLOSE_IN:
            kept.append(point)
    if len(kept) > 1 and max(abs(a - b) for a, b in zip(kept[0], kept[-1], strict=True)) <= CLOSE_IN:
        kept.pop()
    return kept


def _fault(explained: str, corner: Sequence[float]) -> str:
    """“Self-intersection[1.5 2]” as a person says it, from the lower left corner of its box."""
    kind, _, place = explained.partition("[")
    x, _, y = place.rstrip("]").partition(" ")
    words = "crosses or touches itself" if "ntersection" in kind else "has no clear inside"
    try:
        right, up = float(x) - corner[0], float(y) - corner[1]
    except ValueError:
        return words
    return f"{words} {right:.2f} in from its left and {up:.2f} in from its lower edge"
