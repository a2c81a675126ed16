"""What a nest must keep, judged by the outlines themselves, whoever laid them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import chain

import shapely
from shapely import Polygon, STRtree

from planner.layout.panels import Nest, NestPiece, PanelNest, PanelRules, outline_on_panel

HAIR_IN = 1e-5
"""A quarter of a thousandth of a millimetre is no break of a rule."""


def broken_nest_rules(pieces: Sequence[NestPiece], rules: PanelRules, nest: Nest) -> tuple[str, ...]:
    """A sentence for each rule that the nest breaks: spacing, margins, turns, panel sizes, and each piece once."""
    known = {piece.id: piece for piece in pieces}
    return tuple(
        chain(
            _counted(known, nest),
            *(_panel(n, panel, known, rules) for n, panel in enumerate(nest.panels, start=1)),
        )
    )


def _counted(known: Mapping[str, NestPiece], nest: Nest) -> Iterator[str]:
    """Each piece lies somewhere once, or is said not to."""
    seen = Counter(placed.id for panel in nest.panels for placed in panel.placed)
    seen.update(piece.id for piece in nest.unplaced)
    for each in sorted(known.keys() | seen.keys()):
        if each not in known:
            yield f"{each} was not asked for"
        elif seen[each] != 1:
            yield f"{each} is there {seen[each]} times, not once"


def _panel(number: int, panel: PanelNest, known: Mapping[str, NestPiece], rules: PanelRules) -> Iterator[str]:
    where = f"on panel {number}"
    if panel.size.length_in > rules.bed_length_in + HAIR_IN or panel.size.width_in > rules.bed_width_in + HAIR_IN:
        yield f"panel {number} of {panel.size} is larger than the bed"
    lying = [(known[placed.id], placed) for placed in panel.placed if placed.id in known]
    outlines = [outline_on_panel(piece, placed) for piece, placed in lying]
    for (piece, placed), outline in zip(lying, outlines, strict=True):
        if not piece.may_turn(placed.turn_degrees):
            yield f"{piece.id} is turned by {placed.turn_degrees:g} degrees {where}"
        if not _is_inside(outline, panel, rules):
            yield f"{piece.id} lies in the margin {where}"
    yield from _too_near([piece.id for piece, _ in lying], outlines, rules.spacing_in, where)
    area_in2 = sum(piece.area_in2 for piece, _ in lying)
    if abs(area_in2 - panel.yield_fraction * panel.size.area_in2) > 1e-6 * panel.size.area_in2:
        yield f"the yield {where} is {area_in2 / panel.size.area_in2:.4f}, not {panel.yield_fraction:.4f}"


def _is_inside(outline: Polygon, panel: PanelNest, rules: PanelRules) -> bool:
    left, low, right, high = outline.bounds
    ends, edges = rules.end_margin_in - HAIR_IN, rules.edge_margin_in - HAIR_IN
    return bool(min(left, panel.size.length_in - right) >= ends and min(low, panel.size.width_in - high) >= edges)


def _too_near(ids: Sequence[str], outlines: Sequence[Polygon], spacing_in: float, where: str) -> Iterator[str]:
    """Pairs that are nearer than the spacing, or share more than a hair's width of wood."""
    whole = [Polygon(outline.exterior) for outline in outlines]
    tree = STRtree(whole)
    for n, one in enumerate(whole):
        for m in sorted(int(near) for near in tree.query(one.buffer(spacing_in)) if near > n):
            if spacing_in > HAIR_IN:
                if shapely.distance(one, whole[m]) < spacing_in - HAIR_IN:
                    yield f"{ids[n]} and {ids[m]} are nearer than {spacing_in:g} in {where}"
            elif not one.buffer(-HAIR_IN).disjoint(whole[m].buffer(-HAIR_IN)):
                yield f"{ids[n]} and {ids[m]} overlap {where}"
