"""Pieces on panels as a document: how they lie, what is left, how much wood that saves against a blank for each."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from shapely import MultiPoint

from planner import (
    FEWEST_TABS,
    NM_PER_INCH,
    Nest,
    NestPiece,
    PanelNest,
    PanelRules,
    PlannerError,
    Turns,
    nest,
    outline_on_panel,
    tab_places,
    tabs_for,
)
from shop.designs import shapes
from shop.designs.models import Pass
from shop.figures.models import Figures
from shop.pictures import SCALE, Sheet, shares_of_the_longest
from shop.stations.models import Station
from shop.wood.naming import letter
from shop.wood.wanted import Wanted
from shop.words import counted

MOST_PIECES = 60
"""More at once are worked out in more than one go: a page must not wait for ever."""
USUAL_BIT_IN = 0.25
TRIES = 120
NAME_HEIGHT_IN, NAME_WIDTH = 0.9, 0.55
"""How high a name is written on a piece, and how wide its letters are against that."""


def nested(wanted: Sequence[Wanted], figures: Figures, *, enough: Callable[[], bool]) -> dict[str, Any]:
    """A group for every wood and stock thickness, each with its panels drawn, all to one scale."""
    router = Station.objects.filter(role=Station.Role.ROUTER).first()
    if router is None:
        return {"groups": [], "no_saving": []}
    planer = Station.objects.filter(role=Station.Role.PLANER).first()
    together: dict[tuple[int, int], list[Lettered]] = defaultdict(list)
    for number, each in enumerate(wanted):
        together[each.species.pk, each.design.stock_thickness_nm].append(Lettered(letter(number), each))
    cut_outs = Pass.objects.filter(design__in={each.design.pk for each in wanted}, kind=Pass.Kind.PROFILE)
    profiles = {row.design_id: row for row in cut_outs.select_related("bit")}
    groups = [_Group(own, profiles, figures).document(router, planer, enough) for own in together.values()]
    shares_of_the_longest(panel for group in groups for panel in group["panels"])
    return {
        "groups": groups,
        "no_saving": [
            [group["species"], group["thickness_nm"]]
            for group in groups
            if group["saved_percent"] is not None and group["saved_percent"] <= 0
        ],
    }


@dataclass(frozen=True)
class Lettered:
    """Pieces of one design in one wood, and the letter they have in all drawings."""

    letter: str
    wanted: Wanted


class _Group:
    """Pieces of one wood and thickness: they may share a panel."""

    def __init__(self, lettered: Sequence[Lettered], profiles: Mapping[int, Pass], figures: Figures) -> None:
        self.lettered, self.figures = lettered, figures
        self.first = lettered[0].wanted
        self.pieces: dict[str, NestPiece] = {}
        self.letters: dict[str, str] = {}
        self.tabs: dict[str, int] = {}
        self.faults: list[str] = []
        own = {each.wanted.design.pk for each in lettered}
        self.profiles = {design: row for design, row in profiles.items() if design in own}
        for each in lettered:
            self._take(each)
        self.left_out = max(0, len(self.pieces) - MOST_PIECES)
        self.pieces = dict(list(self.pieces.items())[:MOST_PIECES])

    def _take(self, lettered: Lettered) -> None:
        """A design that can't be drawn is named, and leaves the others alone."""
        design = lettered.wanted.design
        try:
            outline = shapes.outline(design)
            own = [
                NestPiece(f"p{piece.pk}", design.name, outline, Turns(design.turns)) for piece in lettered.wanted.pieces
            ]
        except PlannerError as error:
            self.faults.append(f"{design}: {error}")
            return
        profile = self.profiles.get(design.pk)
        for piece in own:
            self.pieces[piece.id] = piece
            self.letters[piece.id] = lettered.letter
            self.tabs[piece.id] = tabs_for(piece.rim) if profile is None else profile.tabs

    def document(self, router: Station, planer: Station | None, enough: Callable[[], bool]) -> dict[str, Any]:
        try:
            found = self._found(router, planer, enough)
        except PlannerError as error:
            found = Nest((), ())
            self.faults.append(str(error))
        alone_in2 = sum(each.wanted.quantity * _blank_in2(each.wanted, self.figures) for each in self.lettered)
        is_whole = not (found.unplaced or self.faults or self.left_out) and alone_in2
        return {
            "species": self.first.species.name,
            "thickness_nm": self.first.design.stock_thickness_nm,
            "pieces": sum(len(panel.placed) for panel in found.panels),
            "left_out": self.left_out,
            "legend": [self._legend(each) for each in self.lettered if each.letter in self.letters.values()],
            "panels": [self._drawn(panel) for panel in found.panels],
            "unplaced": self.faults + list(dict.fromkeys(each.why for each in found.unplaced)),
            "yield_percent": round(100 * found.yield_fraction),
            "saved_percent": round(100 * (1 - found.area_in2 / alone_in2)) if is_whole else None,
        }

    def _found(self, router: Station, planer: Station | None, enough: Callable[[], bool]) -> Nest:
        least = self.figures.offcut_nm / NM_PER_INCH
        rules = self._rules(router, planer)
        pieces = list(self.pieces.values())
        return nest(pieces, rules, least_offcut_in=(2 * least, least), tries=TRIES, enough=enough)

    def _legend(self, lettered: Lettered) -> dict[str, Any]:
        tabs = next(self.tabs[piece] for piece, own in self.letters.items() if own == lettered.letter)
        warning = f"fewer than {FEWEST_TABS} let a piece rock as it comes free" if 0 < tabs < FEWEST_TABS else ""
        return {
            "letter": lettered.letter,
            "name": lettered.wanted.design.name,
            "count": lettered.wanted.quantity,
            "tabs": counted(tabs, "tab") if tabs else "no tabs: tape or another hold",
            "warning": warning,
        }

    def _drawn(self, panel: PanelNest) -> dict[str, Any]:
        sheet = Sheet(panel.size.length_in, panel.size.width_in, border_in=0)
        placed = []
        for each in panel.placed:
            outline = outline_on_panel(self.pieces[each.id], each)
            middle = outline.representative_point()
            left, _, right, _ = outline.bounds
            name = self.pieces[each.id].name
            placed.append(
                {
                    "path": sheet.path(outline),
                    "tabs": sheet.path(MultiPoint(tab_places(outline, self.tabs[each.id]))),
                    "letter": self.letters[each.id],
                    "name": name,
                    "has_room": len(name) * NAME_WIDTH * NAME_HEIGHT_IN < right - left,
                    "at": list(sheet.at(middle.x, middle.y)),
                    "turned": round(each.turn_degrees) % 360,
                }
            )
        length, width = (round(side * 16) * NM_PER_INCH // 16 for side in (panel.size.length_in, panel.size.width_in))
        return {
            "frame": sheet.frame,
            "size": [round(panel.size.length_in * SCALE), round(panel.size.width_in * SCALE)],
            "length_in": panel.size.length_in,
            "length_nm": length,
            "width_nm": width,
            "placed": placed,
            "offcuts": [
                [round(v * SCALE) for v in (x, panel.size.width_in - y - w, length_in, w)]
                for x, y, length_in, w in panel.offcuts
            ],
            "yield_percent": round(100 * panel.yield_fraction),
        }

    def _rules(self, router: Station, planer: Station | None) -> PanelRules:
        figures = self.figures
        return PanelRules(
            bit_diameter_in=max(
                (row.bit.diameter_nm / NM_PER_INCH for row in self.profiles.values()), default=USUAL_BIT_IN
            ),
            web_in=figures.web_nm / NM_PER_INCH,
            edge_margin_in=figures.edge_margin_nm / NM_PER_INCH,
            screw_margin_in=figures.screw_margin_nm / NM_PER_INCH,
            planer_width_in=(planer or Station()).opening_nm / NM_PER_INCH,
            bed_length_in=router.bed_length_nm / NM_PER_INCH,
            bed_width_in=router.bed_width_nm / NM_PER_INCH,
        )


def _blank_in2(wanted: Wanted, figures: Figures) -> float:
    length_nm, width_nm = shapes.blank_nm(wanted.design, figures)
    return length_nm * width_nm / NM_PER_INCH**2
