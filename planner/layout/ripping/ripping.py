"""The rip plan: which boards to open, how to saw them, what to glue of the strips and what to buy."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from math import isfinite
from typing import NamedTuple

from planner.errors import PlannerError
from planner.layout.cutting.deadline import Deadline
from planner.layout.cutting.question import Answer
from planner.layout.cutting.solving import answered
from planner.layout.ripping.asking import THOUSANDTHS, Asked, asked
from planner.layout.ripping.bench import Bench
from planner.layout.ripping.boards import PanelWanted, RipAllowances, StockBoard
from planner.layout.ripping.free import freely
from planner.layout.ripping.placing import placed
from planner.layout.ripping.plan import BoardCut, PanelGlued, Purchase, RipPlan, Short
from planner.trade.lumber import WASTE_FRACTION, FinishedPart, is_sold_so_thick, to_buy

BOARD_IS_WORTH_BOARD_FEET = 0.5
"""So much wood may be wasted to leave one board more on the rack. Common practice, no source."""
SHARES_FOR_ANY_WIDTHS = (0.9, 0.75)
"""Of the time, where panels are many and where they are few."""
MOST_PANELS_FOR_NICER, SECONDS_FOR_NICER = 16, 4.0
"""Where a plan is found already, for one as cheap with equal strips, which match better in moisture."""


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
    equally wide, or as wide as sections give. Rings of neighbours alternate. Purchases are whole board feet by species
    and quarter, with `waste_fraction` on top.

    The bound holds for strips of any widths; of the widths thought of (equal ones, or as wide as whole boards with one
    that closes the panel) where stock is too little for all or more than 200 panels are wanted.

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
        buy=tuple(_purchases(panels, short, allowances.planing_in, waste_fraction)),
        cost_board_feet=sum(part.cost_board_feet for part in parts),
        bound_board_feet=sum(part.bound_board_feet for part in parts),
        is_proved=all(part.is_proved for part in parts),
    )


class _Found(NamedTuple):
    """A plan as a question and its answer, its bound in thousandths of a board foot."""

    found: tuple[Asked, Answer]
    bound: int
    is_proved: bool


def _of_species(
    boards: Sequence[StockBoard],
    panels: Sequence[PanelWanted],
    allowances: RipAllowances,
    seconds: float,
    board_is_worth: float,
) -> RipPlan:
    bench = Bench(boards, panels, allowances, board_is_worth)
    able = [panel for panel in panels if bench.can_make(panel)]
    best = _best(boards, able, allowances, board_is_worth, Deadline(seconds))
    return _planned(boards, panels, allowances, best, board_is_worth)


def _best(
    boards: Sequence[StockBoard],
    panels: Sequence[PanelWanted],
    allowances: RipAllowances,
    board_is_worth: float,
    deadline: Deadline,
) -> _Found:
    """The better of two plans: with strips of any widths, or of some widths chosen from all that boards allow. Where
    stock is too little for all, the second says what is made, and the first how."""
    is_few = sum(panel.quantity for panel in panels) <= MOST_PANELS_FOR_NICER
    free = freely(boards, panels, allowances, board_is_worth, deadline.share(SHARES_FOR_ANY_WIDTHS[is_few]))
    freely_found = _Found(free.found, free.bound, not free.is_open) if free.found else None
    if freely_found and not is_few:
        return freely_found
    question = asked(boards, panels, allowances, board_is_worth)
    left = min(deadline.left(), SECONDS_FOR_NICER) if not free.is_open else deadline.left()
    answer = answered(question.question, left if freely_found else left / 2)
    cost = answer.cost * question.unit
    if freely_found and (answer.short or free.cost < cost):
        return freely_found
    if answer.short:
        made = [replace(panel, quantity=sum(ways)) for panel, ways in zip(panels, answer.made, strict=True)]
        again = freely(boards, made, allowances, board_is_worth, deadline)
        if again.found and again.cost < cost:
            return _Found(again.found, min(answer.bound * question.unit, again.cost), is_proved=False)
    elif free.bound and not all(panel.strips for panel in panels):
        return _Found((question, answer), free.bound, cost <= free.bound)
    return _Found((question, answer), answer.bound * question.unit, answer.is_proved)


def _planned(
    boards: Sequence[StockBoard],
    panels: Sequence[PanelWanted],
    allowances: RipAllowances,
    best: _Found,
    board_is_worth: float,
) -> RipPlan:
    """The plan laid out; panels that no board is large enough for are short."""
    cuts, glued = placed(boards, *best.found, allowances)
    cost = _cost(cuts, best.found, board_is_worth)
    least = cost if best.is_proved else min(cost, best.bound / THOUSANDTHS)
    return RipPlan(tuple(cuts), tuple(glued), tuple(_short(panels, glued)), (), cost, least, best.is_proved)


def _cost(cuts: Sequence[BoardCut], found: tuple[Asked, Answer], board_is_worth: float) -> float:
    """What was answered, to the thousandth, unless a board turned out not to be needed."""
    question, answer = found
    exact = sum(cut.board_feet + board_is_worth for cut in cuts)
    return min(exact, answer.cost * question.unit / THOUSANDTHS)


def _short(panels: Sequence[PanelWanted], glued: Sequence[PanelGlued]) -> Iterator[Short]:
    for panel in panels:
        missing = panel.quantity - sum(each.panel_id == panel.id for each in glued)
        if missing:
            yield Short(panel.id, missing)


def _purchases(
    panels: Iterable[PanelWanted], short: Sequence[Short], planing_in: float, waste_fraction: float
) -> Iterator[Purchase]:
    """What is thicker than any board that is sold stays short: nothing is bought for it."""
    missing = {each.panel_id: each.quantity for each in short}
    wanted = [
        panel for panel in panels if panel.id in missing and is_sold_so_thick(panel.thickness_in, planing_in=planing_in)
    ]
    for species in sorted({panel.species for panel in wanted}):
        parts = [
            FinishedPart(panel.length_in, panel.width_in, panel.thickness_in, missing[panel.id])
            for panel in wanted
            if panel.species == species
        ]
        for quarter, board_feet in to_buy(parts, planing_in=planing_in, waste_fraction=waste_fraction).items():
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
