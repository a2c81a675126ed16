"""The rip plan as a document: boards drawn with their strips, panels with their order of strips, what to buy."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from typing import Any

from planner import (
    NM_PER_INCH,
    PanelWanted,
    PlannerError,
    RipAllowances,
    RipPlan,
    StockBoard,
    caul_width_in,
    moisture_findings,
    quarter_for,
    rip_plan,
)
from shop.designs import shapes
from shop.figures.models import Figures
from shop.pictures import SCALE, shares_of_the_longest
from shop.stock.models import Board, Glue
from shop.wood.naming import board_names, letter, runs
from shop.wood.wanted import Wanted
from shop.words import inches

NM_PER_64TH = NM_PER_INCH // 64
LEAST_CAUL_QUARTERS = 3
"""A narrower bar bends. Common practice, no source."""
SHORT_TO_RIP_IN = 12
"""Makers of table saws: a piece that is shorter, or narrower than 6 in, never goes through without a push block."""


def ripped(wanted: Sequence[Wanted], figures: Figures, *, seconds: float) -> dict[str, Any]:
    """Everything the page shows of it. Raises PlannerError where a figure makes no sense."""
    boards = list(
        Board.objects.filter(quantity__gt=0, species__in={each.species.pk for each in wanted}).select_related("species")
    )
    found = rip_plan(
        [_board(board) for board in boards],
        [_panel(each, figures) for each in wanted],
        _allowances(figures),
        seconds=seconds,
        waste_fraction=float(figures.waste_percent) / 100,
    )
    letters = {each.key: letter(number) for number, each in enumerate(wanted)}
    by_key = {each.key: each for each in wanted}
    drawing = _Drawing(boards, letters, figures.shop_air.moisture_percent)
    opened = [drawing.drawn(cut) for cut in found.boards]
    shares_of_the_longest(opened)
    return {
        "boards": opened,
        "panels": _glued(found, by_key, letters, figures),
        "whole": _of_one_board(found, by_key, letters),
        "whole_tags": [f"{letters[panel.panel_id]}{panel.number}" for panel in found.panels if len(panel.strips) == 1],
        "key": [[letters[each.key], str(each), each.quantity, each.key] for each in wanted],
        "short": [
            [str(by_key[each.panel_id]), each.quantity, _not_sold(by_key[each.panel_id], figures)]
            for each in found.short
        ],
        "buy": [[each.species, each.quarter, each.board_feet] for each in found.buy],
        "board_feet": round(sum(cut.board_feet for cut in found.boards), 1),
        "waste_percent": _waste_percent(found),
        "glue_grams": round(sum(panel.glue_grams for panel in found.panels)),
        "is_proved": found.is_proved,
        "cost": round(found.cost_board_feet, 2),
        "bound": round(found.bound_board_feet, 2),
    }


def _panel(wanted: Wanted, figures: Figures) -> PanelWanted:
    design = wanted.design
    length_nm, width_nm = shapes.blank_nm(design, figures)
    return PanelWanted(
        id=wanted.key,
        length_in=length_nm / NM_PER_INCH,
        width_in=width_nm / NM_PER_INCH,
        thickness_in=design.stock_thickness_nm / NM_PER_INCH,
        species=wanted.species.name,
        quantity=wanted.quantity,
        strips=None if design.is_glued else 1,
    )


def _board(board: Board) -> StockBoard:
    return StockBoard(
        id=str(board.pk),
        length_in=board.length_nm / NM_PER_INCH,
        width_in=board.width_nm / NM_PER_INCH,
        thickness_in=board.thickness_nm / NM_PER_INCH,
        species=board.species.name,
        moisture_percent=None if board.moisture_percent is None else float(board.moisture_percent),
        quantity=board.quantity,
    )


def _allowances(figures: Figures) -> RipAllowances:
    return RipAllowances(
        kerf_in=figures.kerf_nm / NM_PER_INCH,
        jointing_in=figures.jointing_nm / NM_PER_INCH,
        planing_in=figures.planing_nm / NM_PER_INCH,
        trim_in=figures.panel_trim_nm / NM_PER_INCH,
        widest_strip_in=figures.ripped_above_nm / NM_PER_INCH,
        spread_g_m2=float((Glue.objects.filter(in_use=True).first() or Glue()).grams_per_m2),
    )


def _not_sold(wanted: Wanted, figures: Figures) -> str:
    """Why no board can be bought for it, or nothing."""
    try:
        quarter_for(wanted.design.stock_thickness_nm / NM_PER_INCH, planing_in=figures.planing_nm / NM_PER_INCH)
    except PlannerError as error:
        return str(error)
    return ""


class _Drawing:
    """Opened boards with their strips in drawing units, y down, and in words."""

    def __init__(self, boards: Sequence[Board], letters: dict[str, str], shop_percent: float) -> None:
        self.boards = {str(board.pk): board for board in boards}
        self.names = board_names(boards)
        self.letters = letters
        self.shop_percent = shop_percent

    def drawn(self, cut: Any) -> dict[str, Any]:
        board = self.boards[cut.board_id]
        width = cut.width_in

        def box(x_in: float, y_in: float, length_in: float, width_in: float) -> list[int]:
            return [round(value * SCALE) for value in (x_in, width - y_in - width_in, length_in, width_in)]

        name = self.names[board.pk]
        metered = [] if cut.moisture_percent is None else [(name, cut.moisture_percent)]
        strips = [strip for section in cut.sections for strip in section.strips]
        return {
            "name": name if board.quantity == 1 else f"{name}, {cut.number} of {board.quantity}",
            "species": board.species.name,
            "rest": " ".join(moisture_findings(metered, self.shop_percent)),
            "length_in": cut.length_in,
            "frame": f"0 0 {round(cut.length_in * SCALE)} {round(width * SCALE)}",
            "size": [round(cut.length_in * SCALE), round(width * SCALE)],
            "strips": [
                {"box": box(strip.x_in, strip.y_in, strip.length_in, strip.width_in), "letter": self._tag(strip)}
                for strip in strips
            ],
            "panels": sorted({self._tag(strip) for strip in strips}),
            "kept": [box(o.x_in, o.y_in, o.length_in, o.width_in) for o in cut.offcuts if o.is_kept],
            "cuts": self._cuts(cut),
            "is_short": any(section.length_in < SHORT_TO_RIP_IN for section in cut.sections),
            "waste_percent": round(100 * cut.waste_fraction),
        }

    def _tag(self, strip: Any) -> str:
        return f"{self.letters[strip.panel_id]}{strip.panel_number}"

    def _cuts(self, cut: Any) -> list[str]:
        """How to saw it, from one end: sections that are alike together, and for which panels their strips are."""
        alike: dict[str, list[str]] = defaultdict(list)
        times: Counter[str] = Counter()
        for section in cut.sections:
            widths = ", ".join(_inches(strip.width_in) for strip in section.strips)
            said = f"{_inches(section.length_in)} in long, ripped to {widths}"
            times[said] += 1
            alike[said] += [self._tag(strip) for strip in section.strips]
        return [
            f"{f'{times[said]} × ' if times[said] > 1 else ''}{said}: {', '.join(dict.fromkeys(tags))}"
            for said, tags in alike.items()
        ]


def _glued(
    found: RipPlan, by_key: dict[str, Wanted], letters: dict[str, str], figures: Figures
) -> list[dict[str, Any]]:
    """Panels with joints; those of one design with the same strips in the same order in one row."""
    rows: dict[tuple[str, ...], dict[str, Any]] = {}
    for panel in found.panels:
        if len(panel.strips) == 1:
            continue
        wanted = by_key[panel.panel_id]
        strips = [f"{_inches(strip.width_in)} {strip.rings.value}" for strip in panel.strips]
        gap = None if panel.moisture_gap_percent is None else round(panel.moisture_gap_percent, 1)
        row = rows.setdefault(
            (panel.panel_id, *strips, str(gap)),
            {
                "key": panel.panel_id,
                "name": str(wanted),
                "numbers": [],
                "strips": strips,
                "clamps": panel.clamps,
                "caul": _caul(panel, wanted, figures),
                "glue_grams": round(panel.glue_grams),
                "gap": gap,
            },
        )
        row["numbers"].append(panel.number)
    for row in rows.values():
        row["letter"] = letters[row["key"]]
        row["panels"] = runs(row["letter"], row["numbers"])
    return list(rows.values())


def _caul(panel: Any, wanted: Wanted, figures: Figures) -> str:
    """How wide a caul its outer strips want, to the next quarter of an inch and as stiff as a caul is; or nothing."""
    outer_in = min(panel.strips[0].width_in, panel.strips[-1].width_in)
    length_in = shapes.blank_nm(wanted.design, figures)[0] / NM_PER_INCH
    quarters = -(-caul_width_in(length_in, panel.clamps, outer_in) * 4 // 1)
    return inches(max(int(quarters), LEAST_CAUL_QUARTERS) * NM_PER_INCH // 4) if quarters else ""


def _of_one_board(found: RipPlan, by_key: dict[str, Wanted], letters: dict[str, str]) -> list[list[str]]:
    """Blanks that want no glue, by design."""
    numbers: dict[str, list[int]] = defaultdict(list)
    for panel in found.panels:
        if len(panel.strips) == 1:
            numbers[panel.panel_id].append(panel.number)
    return [[runs(letters[key], own), str(by_key[key])] for key, own in numbers.items()]


def _waste_percent(found: RipPlan) -> int:
    area = sum(cut.area_in2 for cut in found.boards)
    return round(100 * sum(cut.waste_in2 for cut in found.boards) / area) if area else 0


def _inches(value_in: float) -> str:
    """To the 64th, as it is marked on wood."""
    return inches(round(value_in * NM_PER_INCH / NM_PER_64TH) * NM_PER_64TH)
