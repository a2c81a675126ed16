"""Pieces on panels as a document: how they lie, what is left, how much wood that saves against a blank for each."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Sequence
from typing import Any

from planner import NM_PER_INCH, NestPiece, PanelNest, PanelRules, Turns, nest, outline_on_panel
from shop.designs import shapes
from shop.designs.models import Pass
from shop.figures.models import Figures
from shop.pictures import SCALE, Sheet
from shop.stations.models import Station
from shop.wood.wanted import Wanted

MOST_PIECES = 60
"""More at once are worked out in more than one go: a page must not wait for ever."""
SCREW_MARGIN_IN = 0.75
USUAL_BIT_IN = 0.25
TRIES = 120


def nested(wanted: Sequence[Wanted], figures: Figures, *, enough: Callable[[], bool]) -> list[dict[str, Any]]:
    """A group for every wood and stock thickness, each with its panels drawn."""
    groups: dict[tuple[int, int], list[Wanted]] = defaultdict(list)
    for each in wanted:
        groups[each.species.pk, each.design.stock_thickness_nm].append(each)
    router = Station.objects.filter(role=Station.Role.ROUTER).first()
    if router is None:
        return []
    planer = Station.objects.filter(role=Station.Role.PLANER).first()
    return [_group(own, _rules(own, router, planer, figures), figures, enough) for own in groups.values()]


def _group(wanted: Sequence[Wanted], rules: PanelRules, figures: Figures, enough: Callable[[], bool]) -> dict[str, Any]:
    pieces = [
        NestPiece(f"p{piece.pk}", each.design.name, shapes.outline(each.design), Turns(each.design.turns))
        for each in wanted
        for piece in each.pieces
    ][:MOST_PIECES]
    least = figures.offcut_nm / NM_PER_INCH
    found = nest(pieces, rules, least_offcut_in=(max(least, 2 * least), least), tries=TRIES, enough=enough)
    by_id = {piece.id: piece for piece in pieces}
    alone = sum(each.quantity * _blank_in2(each, figures) for each in wanted)
    return {
        "species": wanted[0].species.name,
        "thickness_nm": wanted[0].design.stock_thickness_nm,
        "pieces": len(pieces),
        "left_out": sum(each.quantity for each in wanted) - len(pieces),
        "panels": [_drawn(panel, by_id) for panel in found.panels],
        "unplaced": [each.why for each in found.unplaced],
        "yield_percent": round(100 * found.yield_fraction),
        "saved_percent": round(100 * (1 - found.area_in2 / alone)) if alone and not found.unplaced else None,
    }


def _drawn(panel: PanelNest, pieces: dict[str, NestPiece]) -> dict[str, Any]:
    sheet = Sheet(panel.size.length_in, panel.size.width_in)
    placed = []
    for each in panel.placed:
        outline = outline_on_panel(pieces[each.id], each)
        middle = outline.representative_point()
        placed.append(
            {
                "path": sheet.path(outline),
                "name": pieces[each.id].name,
                "at": list(sheet.at(middle.x, middle.y)),
                "turned": round(each.turn_degrees) % 360,
            }
        )
    length, width = (round(side * 16) * NM_PER_INCH // 16 for side in (panel.size.length_in, panel.size.width_in))
    return {
        "frame": sheet.frame,
        "size": [round(panel.size.length_in * SCALE), round(panel.size.width_in * SCALE)],
        "length_nm": length,
        "width_nm": width,
        "placed": placed,
        "offcuts": [
            [round(v * 100) for v in (x, panel.size.width_in - y - w, length_in, w)]
            for x, y, length_in, w in panel.offcuts
        ],
        "yield_percent": round(100 * panel.yield_fraction),
    }


def _rules(wanted: Sequence[Wanted], router: Station, planer: Station | None, figures: Figures) -> PanelRules:
    cut_out = Pass.objects.filter(design__in={each.design.pk for each in wanted}, kind=Pass.Kind.PROFILE)
    diameters = [row.bit.diameter_nm / NM_PER_INCH for row in cut_out.select_related("bit")]
    return PanelRules(
        bit_diameter_in=max(diameters, default=USUAL_BIT_IN),
        web_in=figures.web_nm / NM_PER_INCH,
        edge_margin_in=figures.edge_margin_nm / NM_PER_INCH,
        screw_margin_in=SCREW_MARGIN_IN,
        planer_width_in=(planer or Station()).opening_nm / NM_PER_INCH,
        bed_length_in=router.bed_length_nm / NM_PER_INCH,
        bed_width_in=router.bed_width_nm / NM_PER_INCH,
    )


def _blank_in2(wanted: Wanted, figures: Figures) -> float:
    margin = 2 * figures.edge_margin_nm
    return (wanted.design.length_nm + margin) * (wanted.design.width_nm + margin) / NM_PER_INCH**2
