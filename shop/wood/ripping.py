"""The rip plan as a document: boards drawn with their strips, panels with their order of strips, what to buy."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import Any

from planner import NM_PER_INCH, PanelWanted, RipAllowances, RipPlan, StockBoard, moisture_findings, rip_plan
from shop.figures.models import Figures
from shop.pictures import SCALE
from shop.stock.models import Board, Glue
from shop.wood.air import shop_air
from shop.wood.wanted import Wanted
from shop.words import inches

LARGEST_QUANTITY = 200
NM_PER_64TH = NM_PER_INCH // 64


def ripped(wanted: Sequence[Wanted], figures: Figures, *, seconds: float) -> dict[str, Any]:
    """Everything the page shows of it. Raises PlannerError where a size makes no sense."""
    boards = list(
        Board.objects.filter(quantity__gt=0, species__in={each.species.pk for each in wanted}).select_related("species")
    )
    panels = [_panel(each, figures) for each in wanted]
    found = rip_plan(
        [_board(board) for board in boards],
        panels,
        _allowances(figures),
        seconds=seconds,
        waste_fraction=float(figures.waste_percent) / 100,
    )
    shop_percent = shop_air(figures).moisture_percent
    letters = {each.key: _letter(number) for number, each in enumerate(wanted)}
    names = {each.key: str(each) for each in wanted}
    return {
        "boards": [_drawn(cut, {str(b.pk): b for b in boards}, letters, shop_percent) for cut in found.boards],
        "panels": _glued(found, names, letters),
        "key": [[letters[each.key], names[each.key], each.quantity] for each in wanted],
        "short": [[names[each.panel_id], each.quantity] for each in found.short],
        "buy": [[each.species, each.quarter, each.board_feet] for each in found.buy],
        "board_feet": round(sum(cut.board_feet for cut in found.boards), 1),
        "waste_percent": _waste_percent(found),
        "glue_grams": round(sum(panel.glue_grams for panel in found.panels)),
        "is_proved": found.is_proved,
        "cost": round(found.cost_board_feet, 2),
        "bound": round(found.bound_board_feet, 2),
    }


def _panel(wanted: Wanted, figures: Figures) -> PanelWanted:
    design, margin = wanted.design, 2 * figures.edge_margin_nm
    return PanelWanted(
        id=wanted.key,
        length_in=(design.length_nm + margin) / NM_PER_INCH,
        width_in=(design.width_nm + margin) / NM_PER_INCH,
        thickness_in=design.stock_thickness_nm / NM_PER_INCH,
        species=wanted.species.name,
        quantity=min(wanted.quantity, LARGEST_QUANTITY),
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


def _drawn(cut: Any, boards: dict[str, Board], letters: dict[str, str], shop_percent: float) -> dict[str, Any]:
    """A board with its strips in drawing units, y down."""
    width = cut.width_in
    board = boards[cut.board_id]

    def box(x_in: float, y_in: float, length_in: float, width_in: float) -> list[int]:
        return [round(value * SCALE) for value in (x_in, width - y_in - width_in, length_in, width_in)]

    name = f"{board.species} {board.pk}"
    metered = [] if cut.moisture_percent is None else [(name, cut.moisture_percent)]
    return {
        "name": name if board.quantity == 1 else f"{name}, the {_nth(cut.number)}",
        "rest": " ".join(moisture_findings(metered, shop_percent)),
        "length_nm": board.length_nm,
        "width_nm": board.width_nm,
        "thickness_nm": board.thickness_nm,
        "frame": f"-20 -20 {round(cut.length_in * SCALE) + 40} {round(width * SCALE) + 40}",
        "size": [round(cut.length_in * SCALE), round(width * SCALE)],
        "strips": [
            {
                "box": box(strip.x_in, strip.y_in, strip.length_in, strip.width_in),
                "letter": f"{letters[strip.panel_id]}{strip.panel_number}",
            }
            for section in cut.sections
            for strip in section.strips
        ],
        "kept": [box(o.x_in, o.y_in, o.length_in, o.width_in) for o in cut.offcuts if o.is_kept],
        "cuts": _words(cut),
        "waste_percent": round(100 * cut.waste_fraction),
    }


def _words(cut: Any) -> str:
    """How to saw it, from one end: sections and the strips ripped from each."""
    said: Counter[str] = Counter()
    for section in cut.sections:
        widths = ", ".join(_inches(strip.width_in) for strip in section.strips)
        said[f"{_inches(section.length_in)} in long, ripped to {widths}"] += 1
    return "; ".join(f"{times} × {cuts}" if times > 1 else cuts for cuts, times in said.items())


def _glued(found: RipPlan, names: dict[str, str], letters: dict[str, str]) -> list[dict[str, Any]]:
    return [
        {
            "letter": f"{letters[panel.panel_id]}{panel.number}",
            "name": names[panel.panel_id],
            "strips": [f"{_inches(strip.width_in)} {strip.rings.value}" for strip in panel.strips],
            "clamps": panel.clamps,
            "glue_grams": round(panel.glue_grams),
            "gap": None if panel.moisture_gap_percent is None else round(panel.moisture_gap_percent, 1),
        }
        for panel in found.panels
    ]


def _waste_percent(found: RipPlan) -> int:
    area = sum(cut.area_in2 for cut in found.boards)
    return round(100 * sum(cut.waste_in2 for cut in found.boards) / area) if area else 0


def _letter(number: int) -> str:
    """A, B, ... Z, AA, AB: what is written on a strip in chalk."""
    letters = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def _nth(number: int) -> str:
    return {1: "1st", 2: "2nd", 3: "3rd"}.get(number, f"{number}th")


def _inches(value_in: float) -> str:
    """To the 64th, as it is marked on wood."""
    return inches(round(value_in * NM_PER_INCH / NM_PER_64TH) * NM_PER_64TH)
