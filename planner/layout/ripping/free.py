"""Strips as wide as sections give: first which lengths each board is crosscut to, then which panel takes what of each.

The more strips panels are made of, the more wood the saw takes, and how many they need shows when sections are shared
out. So boards are chosen as if panels needed no strip but one of each section (what that costs is a bound), and where
that can't be shared out, for more of them, halving what is between too few and enough.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from planner.layout.cutting.deadline import Deadline
from planner.layout.cutting.question import Answer, Pattern
from planner.layout.ripping.asking import Asked, Strip, asked_in, strip_for
from planner.layout.ripping.bench import Bench
from planner.layout.ripping.boards import PanelWanted, RipAllowances, StockBoard
from planner.layout.ripping.crosscutting import crosscut
from planner.layout.ripping.sharing import Share, shared_out
from planner.layout.ripping.widths import Widths

MOST_PANELS = 200
SHARE_FOR_BOUND, SHARE_FOR_BOARDS, SHARE_FOR_STRIPS = 0.35, 0.3, 0.2
"""Of the time left when each begins."""
MOST_FURTHER = 8.0
CLOSE_ENOUGH = 0.15
"""Further strips for each panel, the most tried and how far too few and enough are from each other in the end."""


@dataclass(frozen=True, slots=True)
class Freely:
    """A plan with strips of any widths, if one was found, and the least that any plan costs."""

    found: tuple[Asked, Answer] | None
    bound: int
    """In thousandths of a board foot; 0 where nothing is known."""

    @property
    def is_open(self) -> bool:
        """Whether a cheaper plan may be there."""
        return self.found is None or self.cost > self.bound

    @property
    def cost(self) -> int:
        """Of the plan found, in thousandths of a board foot."""
        asked, answer = self.found or (None, None)
        return answer.cost * asked.unit if asked and answer else 0


def freely(
    boards: Sequence[StockBoard],
    panels: Sequence[PanelWanted],
    allowances: RipAllowances,
    board_is_worth: float,
    deadline: Deadline,
) -> Freely:
    """A plan that makes every panel; without one where stock is too little for that or panels are too many."""
    if not boards or not 0 < sum(panel.quantity for panel in panels) <= MOST_PANELS:
        return Freely(None, 0)
    bench = Bench(boards, panels, allowances, board_is_worth)
    shares, bound = _searched(bench, deadline)
    if shares is None:
        return Freely(None, bound)
    rows = _ways_by_panel(panels, shares)
    question = asked_in([list(row) for row in rows], boards, panels, allowances, board_is_worth)
    numbers = {strip: number for number, strip in enumerate(question.strips)}
    cut = tuple((pattern, 1) for pattern in _patterns(bench, shares, numbers))
    cost = _cost(bench, shares) // question.unit
    answer = Answer(cut, tuple(tuple(row.values()) for row in rows), 0, 0, cost, -(-bound // question.unit))
    return Freely((question, answer), bound)


def _searched(bench: Bench, deadline: Deadline) -> tuple[list[Share] | None, int]:
    """The cheapest shares found, and the bound in thousandths of a board foot."""
    cheapest = crosscut(bench, 0.0, deadline.share(SHARE_FOR_BOUND))
    if cheapest.sections is None:
        return None, cheapest.bound
    best = shared_out(bench, cheapest.sections, deadline.share(SHARE_FOR_STRIPS))
    too_few, enough, further = 0.0, 0.0 if best else None, 1.0
    while further <= MOST_FURTHER and deadline.left() and (enough is None or enough - too_few > CLOSE_ENOUGH):
        chosen = crosscut(bench, further, deadline.share(SHARE_FOR_BOARDS))
        if chosen.sections is None:
            enough = further
        elif shares := shared_out(bench, chosen.sections, deadline.share(SHARE_FOR_STRIPS)):
            enough, best = further, min((each for each in (best, shares) if each), key=lambda each: _cost(bench, each))
        else:
            too_few = further
        further = 2 * further if enough is None else (too_few + enough) / 2
    return best, cheapest.bound


def _cost(bench: Bench, shares: Sequence[Share]) -> int:
    return sum(bench.costs[stock] for stock, _ in {(each.section.stock, each.section.copy) for each in shares})


def _ways_by_panel(panels: Sequence[PanelWanted], shares: Sequence[Share]) -> list[Counter[Widths]]:
    """How many of each panel are made in which widths."""
    ways: dict[int, list[int]] = defaultdict(list)
    for share in shares:
        ways[share.panel] += share.widths
    rows, first = [], 0
    for panel in panels:
        copies = range(first, first + panel.quantity)
        rows.append(Counter(tuple(sorted(ways[number], reverse=True)) for number in copies))
        first += panel.quantity
    return rows


def _patterns(bench: Bench, shares: Sequence[Share], numbers: Mapping[Strip, int]) -> Iterator[Pattern]:
    """One for each board, its longest sections first."""
    boards: dict[tuple[int, int], dict[int, list[Share]]] = defaultdict(lambda: defaultdict(list))
    for share in shares:
        boards[share.section.stock, share.section.copy][share.place].append(share)
    for (stock, _), sections in boards.items():
        found = []
        for own in sections.values():
            strips = [strip_for(bench.copies[each.panel], w, bench.allowances) for each in own for w in each.widths]
            items = Counter(numbers[strip] for strip in strips)
            found.append((own[0].section.length, tuple(sorted(items.items()))))
        yield Pattern(stock, tuple(sorted(found, reverse=True)))
