"""The rip plan: which boards to open, how to saw them, what to glue of the strips and what to buy."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import isfinite

from planner.errors import PlannerError
from planner.layout.cutting.solving import answered
from planner.layout.ripping.asking import THOUSANDTHS, Asked, asked
from planner.layout.ripping.boards import PanelWanted, RipAllowances, StockBoard
from planner.layout.ripping.placing import placed
from planner.layout.ripping.plan import BoardCut, PanelGlued, Purchase, RipPlan, Short
from planner.trade.lumber import WASTE_FRACTION, FinishedPart, to_buy

BOARD_IS_WORTH_BOARD_FEET = 0.5
"""So much wood may be wasted to leave one board more on the rack. Common practice, no source."""


def rip_plan(
    boards: Sequence[StockBoard],
    panels: Sequence[PanelWanted],
    allowances: RipAllowances | None = None,
    *,
    seconds: float = 10.0,
    board_is_worth_board_feet: float = BOARD_IS_WORTH_BOARD_FEET,
    waste_fraction: float = WASTE_FRACTION,
) -> RipPlan:
    """Which boards to rip into which strips for which panels, and what to buy for those that stock is too little for.

    As much as possible is made first (in board feet of finished panel). Then the least wood is opened, where opening a
    board counts `board_is_worth_board_feet` on top of its own board feet, so that few boards are opened; with 0 the
    wood alone counts. A board is crosscut into sections, each ripped into strips along the grain. Strips of a panel are
    equally wide, or as wide as a board of the stock gives with one that closes the panel; `is_proved` and the bound
    hold for strips of such widths. Rings of neighbours alternate. Purchases are whole board feet by species and
    quarter, with `waste_fraction` on top.

    Raises PlannerError for ids that stand twice and for values that make no sense. Source: Gilmore and Gomory,
    Multistage Cutting Stock Problems of Two and More Dimensions, 1965.

    >>> plan = rip_plan([StockBoard("b", 40, 6, 1, "cherry", quantity=3)], [PanelWanted("p", 18, 11, 0.75, "cherry")])
    >>> plan.boards_opened, [strip.width_in for strip in plan.panels[0].strips], plan.is_proved
    (1, [5.5, 5.5], True)
    """
    allowances = allowances or RipAllowances()
    _check(boards, panels, seconds, board_is_worth_board_feet)
    species = sorted({panel.species for panel in panels if panel.quantity})
    parts = [
        _of_species(
            [board for board in boards if board.species == each],
            [panel for panel in panels if panel.species == each and panel.quantity],
            allowances,
            seconds / len(species),
            board_is_worth_board_feet,
        )
        for each in species
    ]
    short = tuple(row for part in parts for row in part.short)
    return RipPlan(
        boards=tuple(row for part in parts for row in part.boards),
        panels=tuple(row for part in parts for row in part.panels),
        short=short,
        buy=tuple(_purchases(panels, short, waste_fraction)),
        cost_board_feet=sum(part.cost_board_feet for part in parts),
        bound_board_feet=sum(part.bound_board_feet for part in parts),
        is_proved=all(part.is_proved for part in parts),
    )


def _of_species(
    boards: Sequence[StockBoard],
    panels: Sequence[PanelWanted],
    allowances: RipAllowances,
    seconds: float,
    board_is_worth: float,
) -> RipPlan:
    question = asked(boards, panels, allowances, board_is_worth)
    answer = answered(question.question, seconds)
    cuts, glued = placed(boards, question, answer, allowances)
    cost = _cost(cuts, question, answer.cost, board_is_worth)
    bound = cost if answer.is_proved else min(cost, answer.bound * question.unit / THOUSANDTHS)
    return RipPlan(tuple(cuts), tuple(glued), tuple(_short(panels, glued)), (), cost, bound, answer.is_proved)


def _cost(cuts: Sequence[BoardCut], question: Asked, answered_cost: int, board_is_worth: float) -> float:
    """What was answered, to the thousandth, unless a board turned out not to be needed."""
    exact = sum(cut.board_feet + board_is_worth for cut in cuts)
    return min(exact, answered_cost * question.unit / THOUSANDTHS)


def _short(panels: Sequence[PanelWanted], glued: Sequence[PanelGlued]) -> Iterator[Short]:
    for panel in panels:
        missing = panel.quantity - sum(each.panel_id == panel.id for each in glued)
        if missing:
            yield Short(panel.id, missing)


def _purchases(panels: Iterable[PanelWanted], short: Sequence[Short], waste_fraction: float) -> Iterator[Purchase]:
    missing = {each.panel_id: each.quantity for each in short}
    wanted = [panel for panel in panels if panel.id in missing]
    for species in sorted({panel.species for panel in wanted}):
        parts = [
            FinishedPart(panel.length_in, panel.width_in, panel.thickness_in, missing[panel.id])
            for panel in wanted
            if panel.species == species
        ]
        for quarter, board_feet in to_buy(parts, waste_fraction=waste_fraction).items():
            yield Purchase(species, quarter, board_feet)


def _check(boards: Sequence[StockBoard], panels: Sequence[PanelWanted], seconds: float, board_is_worth: float) -> None:
    for name, ids in (("Board", [board.id for board in boards]), ("Panel", [panel.id for panel in panels])):
        for each in ids:
            if ids.count(each) > 1:
                raise PlannerError(f"{name} {each} stands there twice; give each its own id.")
    if not (isfinite(seconds) and seconds > 0):
        raise PlannerError(f"A search takes some seconds, not {seconds:g}.")
    if not (isfinite(board_is_worth) and board_is_worth >= 0):
        raise PlannerError(f"Opening a board is worth 0 board feet or more, not {board_is_worth:g}.")
