"""What is wrong with an outline before anybody cuts it: each finding says what, where, and has a shape to draw."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import isfinite, radians, tan

from shapely import LineString, MultiPolygon, Polygon, STRtree
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from planner.errors import OutlineError
from planner.trade.amounts import not_below_zero
from planner.trade.outlines.rim import closed, entered, opened, polygons_of
from planner.trade.outlines.shapes import Point
from planner.units import NM_PER_INCH, say_inches

A_CORNER = 0.01
"""A corner is tight when easing it takes or fills this share of the radius squared: a right angle 0.21, a hexagon's
corner 0.05, a bend of about 35 degrees 0.01. What bends less, a pad follows."""
A_TIP = 3
"""Easing takes the tip of a corner; what lies farther from the eased outline than so many radii is a part of it."""
LEAST_LEFT_IN2 = 0.0005
HAIR_IN = 1e-4
"""Slivers thinner than this come from chords and whole numbers, not from anybody's drawing."""
INTO_CORNERS = 2.05
"""A V rises into corners as sharp as 60 degrees, twice as far from its middle line as it is wide on one side."""
MOST_CROWDED = 100
"""Crowded lines told; so many are one mistake."""
LONG = 1.5
"""From this many times as long as wide a piece is long."""


class Fault(StrEnum):
    """The kinds of finding."""

    TIGHT_CORNER = "tight corner"
    UNREACHABLE = "corner the bit can't reach"
    THIN_WALL = "thin wall"
    THIN_LINE = "line too thin to carve"
    ACROSS = "grain across"


@dataclass(frozen=True)
class Finding:
    """One thing that is wrong: a sentence for people, where it is (inches), and the shape to draw for it."""

    fault: Fault
    says: str
    at: Point
    shape: BaseGeometry


@dataclass(frozen=True)
class Limits:
    """What an outline is held against; inches and degrees. What is None is not asked.

    A sanding pad follows corners of about 0.3 to 0.4 in outside. Common practice, no source.
    """

    sanding_radius_in: float = 0.375
    least_wall_in: float = 0.25
    pocket_bit_in: float | None = None
    v_angle_degrees: float | None = None
    v_depth_in: float = 0.125


def check_outline(
    outline: Polygon, pockets: Sequence[Polygon], lines: Sequence[LineString] = (), *, limits: Limits
) -> tuple[Finding, ...]:
    """Every finding that applies to a design: outline, pockets and carved lines in inches, grain along x."""
    found = [*tight_corners(outline, limits.sanding_radius_in)]
    if limits.pocket_bit_in:
        found += [finding for pocket in pockets for finding in unreachable(pocket, limits.pocket_bit_in)]
    found += thin_walls(outline, pockets, limits.least_wall_in)
    if limits.v_angle_degrees:
        found += crowded_lines(lines, limits.v_angle_degrees, limits.v_depth_in)
        found += thin_areas(_strokes(pockets, limits.pocket_bit_in), limits.v_angle_degrees, limits.v_depth_in)
        found += lines_over_the_edge(lines, outline, limits.v_angle_degrees, limits.v_depth_in)
    left, low, right, high = outline.bounds
    found += grain_across(right - left, high - low)
    return tuple(found)


def _strokes(pockets: Sequence[Polygon], bit_in: float | None) -> list[Polygon]:
    """Closed shapes that no pocket bit enters: strokes for the V, as of letters."""
    return [pocket for pocket in pockets if bit_in is None or entered(pocket, bit_in).is_empty]


def tight_corners(outline: Polygon, radius_in: float) -> tuple[Finding, ...]:
    """Corners, outward and hollow, rounder than which a sanding pad of that radius can't go."""
    _check(radius_in, "sanding radius")
    outward = _parts(outline.difference(opened(outline, radius_in).buffer(HAIR_IN)), A_CORNER * radius_in**2)
    hollow = _parts(closed(outline, radius_in).difference(outline.buffer(HAIR_IN)), A_CORNER * radius_in**2)
    said = f"is tighter than {_say(radius_in)} in: a sanding pad doesn't follow it"
    return tuple(
        Finding(Fault.TIGHT_CORNER, f"The {what} at {_place(part)} {said}.", _middle(part), part)
        for what, parts in (("corner", outward), ("hollow", hollow))
        for part in parts
    )


def eased(outline: Polygon, radius_in: float) -> Polygon:
    """The same outline with every corner, outward and hollow, at least as round as `radius_in`.

    Raises OutlineError where the outline is nowhere wide enough for such a round, and where a part of it would be lost.
    """
    _check(radius_in, "sanding radius")
    whole = Polygon(outline.exterior)
    rounded = polygons_of(closed(opened(whole, radius_in), radius_in))
    if not rounded:
        raise OutlineError(f"The outline is nowhere as wide as {_say(2 * radius_in)} in; ease it by less.")
    found = Polygon(rounded[0].exterior)
    if lost := _parts(whole.difference(found.buffer(A_TIP * radius_in)), A_CORNER * radius_in**2):
        raise OutlineError(
            f"At {_place(lost[0])} the outline is narrower than {_say(2 * radius_in)} in and would be lost; "
            "ease it by less, or draw it wider there."
        )
    return found


def unreachable(pocket: Polygon, bit_diameter_in: float) -> tuple[Finding, ...]:
    """Corners of a pocket that a bit of that diameter can't reach, with the area it leaves standing."""
    _check(bit_diameter_in, "bit's diameter")
    bit = f"a {_say(bit_diameter_in)} in bit"
    reached = entered(pocket, bit_diameter_in)
    if reached.is_empty:
        says = f"The pocket at {_place(pocket)} is too narrow for {bit}: it doesn't enter it."
        return (Finding(Fault.UNREACHABLE, says, _middle(pocket), pocket),)
    return tuple(
        Finding(
            Fault.UNREACHABLE,
            f"The pocket's corner at {_place(part)} is too tight for {bit}: it leaves {part.area:.3f} square inches.",
            _middle(part),
            part,
        )
        for part in _parts(pocket.difference(reached.buffer(HAIR_IN)), LEAST_LEFT_IN2)
    )


def thin_walls(outline: Polygon, pockets: Sequence[Polygon], least_in: float) -> tuple[Finding, ...]:
    """Where wood is thinner than `least_in`: between a pocket and the edge or another pocket, where the outline itself
    is narrow, and islands in pockets."""
    _check(least_in, "thinnest wall")
    room = Polygon(outline.exterior)
    islands = [Polygon(ring) for pocket in pockets for ring in pocket.interiors]
    found = [*_thin_parts(room, "The outline", least_in)]
    found += [finding for island in islands for finding in _thin_parts(island, "The island in the pocket", least_in)]
    for number, pocket in enumerate(pockets):
        near = _parts(pocket.buffer(least_in - 1e-6).difference(room), 0.0)
        found += [_wall(part, pocket, room.exterior, "and the edge", least_in) for part in near]
        for other in pockets[:number]:
            if pocket.distance(other) < least_in - 1e-6:
                near = _parts(pocket.buffer(least_in).intersection(other), 0.0)
                found += [_wall(part, pocket, other, "and another pocket", least_in) for part in near]
    return tuple(found)


def _thin_parts(wood: Polygon, what: str, least_in: float) -> Iterator[Finding]:
    """Where a disc of that width doesn't go in, and it is more than a corner."""
    missed = wood.difference(opened(wood, least_in / 2 - HAIR_IN).buffer(2 * HAIR_IN))
    for part in _parts(missed, least_in**2):
        says = f"{what} is thinner than {_say(least_in)} in near {_place(part)}; {_say(least_in)} in is the least."
        yield Finding(Fault.THIN_WALL, says, _middle(part), part)


def thin_areas(
    areas: Sequence[Polygon], angle_degrees: float, depth_in: float, tip_in: float = 0.0
) -> tuple[Finding, ...]:
    """Areas, such as strokes of letters, too thin for a V-bit to carve to a depth: there it cuts wider than they are.

    At depth d a V of angle a is 2·d·tan(a/2) wide, and its tip's width more. Source: geometry.
    """
    width_in = carved_width_in(angle_degrees, depth_in, tip_in)
    found = []
    for area in areas:
        reached = area.buffer(HAIR_IN - width_in / 2).buffer(INTO_CORNERS * width_in / 2)
        thin = _parts(area.difference(reached), A_CORNER * width_in**2)
        for part in thin:
            says = (
                f"At {_place(part)} it is thinner than {_say(width_in)} in, "
                f"what a {angle_degrees:g}° V cuts at a depth of {_say(depth_in)} in."
            )
            found.append(Finding(Fault.THIN_LINE, says, _middle(part), part))
    return tuple(found)


def crowded_lines(lines: Sequence[LineString], angle_degrees: float, depth_in: float) -> tuple[Finding, ...]:
    """Carved lines that lie so near each other that, at that depth, nothing stands between them."""
    width_in = carved_width_in(angle_degrees, depth_in)
    found: list[Finding] = []
    if not lines:
        return ()
    near = STRtree(lines).query(lines, predicate="dwithin", distance=width_in).T.tolist()
    for one, other in sorted(near):
        apart_in = lines[one].distance(lines[other])
        if other < one and 0 < apart_in < width_in:
            between = LineString([point.coords[0] for point in nearest_points(lines[one], lines[other])])
            says = (
                f"The lines at {_place(between)} lie {_say(apart_in)} in apart: a {angle_degrees:g}° V cuts "
                f"{_say(width_in)} in wide at a depth of {_say(depth_in)} in, so nothing stands between them."
            )
            found.append(Finding(Fault.THIN_LINE, says, _middle(between), between))
            if len(found) == MOST_CROWDED:
                break
    return tuple(found)


def lines_over_the_edge(
    lines: Sequence[LineString], outline: Polygon, angle_degrees: float, depth_in: float
) -> tuple[Finding, ...]:
    """Carved lines so near the outline's edge that, at that depth, the V breaks through it."""
    width_in = carved_width_in(angle_degrees, depth_in)
    edge, found = outline.exterior, []
    for line in lines:
        apart_in = line.distance(edge)
        if apart_in < width_in / 2 - HAIR_IN:
            at = nearest_points(line, edge)[0]
            says = (
                f"The line at {at.x:.1f}, {at.y:.1f} in lies {_say(apart_in)} in from the edge: a {angle_degrees:g}° V "
                f"cuts {_say(width_in)} in wide at a depth of {_say(depth_in)} in and breaks through it."
            )
            found.append(Finding(Fault.THIN_LINE, says, (float(at.x), float(at.y)), at.buffer(max(width_in / 2, 0.1))))
    return tuple(found)


def carved_width_in(angle_degrees: float, depth_in: float, tip_in: float = 0.0) -> float:
    """How wide a V-bit cuts at a depth: 90 degrees cut twice as wide as deep. Source: geometry.

    >>> round(carved_width_in(90, 0.125), 4)
    0.25
    """
    if not (0 < angle_degrees < 180):
        raise OutlineError(f"A V-bit has an angle between 0 and 180 degrees, not {angle_degrees:g}.")
    _check(depth_in, "depth of carving")
    not_below_zero("tip of a V-bit in inches", tip_in)
    return 2 * depth_in * tan(radians(angle_degrees) / 2) + tip_in


def grain_across(length_in: float, width_in: float) -> tuple[Finding, ...]:
    """A piece that is long across its grain: it breaks along it and moves most where it is longest. `length_in` runs
    along the grain. Common practice, no source."""
    _check(length_in, "length")
    _check(width_in, "width")
    if width_in < LONG * length_in:
        return ()
    says = (
        f"The grain runs across it: it is {_say(length_in)} in along the grain and {_say(width_in)} in across; "
        "a long piece is strong and moves little only along its grain. Turn the outline a quarter."
    )
    across = LineString([(0.0, width_in / 2), (length_in, width_in / 2)])
    return (Finding(Fault.ACROSS, says, (length_in / 2, width_in / 2), across),)


def _wall(part: Polygon, pocket: Polygon, other: BaseGeometry, where: str, least_in: float) -> Finding:
    """The drawn shape is the wood between the two, where it is thin."""
    here = part.buffer(least_in)
    a, b = nearest_points(pocket.intersection(here) if pocket.intersects(here) else pocket, other)
    thick_in = float(a.distance(b))
    says = (
        f"The wall between the pocket {where} is {_say(thick_in)} in thick near {a.x:.1f}, {a.y:.1f} in; "
        f"{_say(least_in)} in is the least."
    )
    return Finding(Fault.THIN_WALL, says, (float(a.x), float(a.y)), a.buffer(max(least_in / 2, 0.1)))


def _parts(shape: BaseGeometry, least_in2: float) -> list[Polygon]:
    """The polygons of a difference that are large enough to be meant, in a fixed order."""
    if isinstance(shape, Polygon | MultiPolygon):
        found: Iterator[Polygon] = iter(shape.geoms if isinstance(shape, MultiPolygon) else (shape,))
    else:
        found = (part for part in getattr(shape, "geoms", ()) if isinstance(part, Polygon))
    kept = [part for part in found if not part.is_empty and part.area > max(least_in2, 1e-9)]
    return sorted(kept, key=lambda part: (-round(part.area, 6), part.bounds))


def _middle(shape: BaseGeometry) -> Point:
    point = shape.representative_point() if isinstance(shape, Polygon) else shape.centroid
    return float(point.x), float(point.y)


def _place(shape: BaseGeometry) -> str:
    x, y = _middle(shape)
    return f"{x:.1f}, {y:.1f} in"


def _say(inches: float) -> str:
    """To the nearest 64th, with ≈ where it is not exactly that."""
    return say_inches(round(inches * NM_PER_INCH))


def _check(value_in: float, what: str) -> None:
    if not (isfinite(value_in) and value_in > 0):
        raise OutlineError(f"The {what} is more than 0, not {value_in:g}.")
