"""Strips as wide as sections give: first which lengths each board is crosscut to, then which panel takes what of each.

The first question takes a panel's wood as one width, cut anywhere, with the saw's and the jointer's loss of as few
strips as it can have. Any plan answers it, so that its bound holds for strips of any widths. The second one shares the
sections out; where losses of further strips leave too little, the first is asked again with that much more.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, NamedTuple

from planner.layout.cutting.deadline import Deadline
from planner.layout.cutting.question import Answer, Pattern
from planner.layout.ripping.asking import Asked, Strip, alike, asked_in, opening_cost, strip_for
from planner.layout.ripping.boards import PanelWanted, RipAllowances, StockBoard
from planner.layout.ripping.widths import Widths, equal, nm

WORKERS = 8  # strategies, more than cores

MOST_PANELS = 200
MOST_STRIPS_FROM_ONE = 4
"""Of one section for one panel."""
TRIES = ((0.0, 0.3, 0.1, 0.15), (1.0, 0.3, 0.15, 0.5), (1.5, 0.3, 0.2, 0.9))
"""Further strips for each section, for whose loss more wood is cut; shares of the time left for choosing boards, for
their sections, and for sharing these out. The first gives the bound, and the best plan where it can be shared out."""
MOST_SPARE = 500
"""Thousandths of what panels need."""


class Class(NamedTuple):
    """Panels of one length and thickness, as sawn, in nanometres."""

    length: int
    thickness: int


class Crosscut(NamedTuple):
    """A section of a board: of which stock, which of its copies, its length and full width."""

    stock: int
    copy: int
    length: int
    width: int
    thickness: int


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
    if not panels or sum(panel.quantity for panel in panels) > MOST_PANELS:
        return Freely(None, 0)
    bench = _Bench(boards, panels, allowances, board_is_worth)
    bound = 0
    for losses, for_boards, for_sections, for_sharing in TRIES:
        crosscuts, bound_now = bench.crosscut(losses, deadline.share(for_boards))
        bound = bound if losses else bound_now
        if crosscuts is None or not deadline.left():
            break
        opened = Counter(each.stock for each in {(each.stock, each.copy): each for each in crosscuts}.values())
        roomier, _ = bench.crosscut(losses, deadline.share(for_sections), only=opened)
        shares = bench.shared_out(roomier or crosscuts, deadline.share(for_sharing))
        if shares is not None:
            return _written(bench, shares, bound)
    return Freely(None, bound)


class _Bench:
    """Boards and panels of one species in nanometres."""

    def __init__(
        self,
        boards: Sequence[StockBoard],
        panels: Sequence[PanelWanted],
        allowances: RipAllowances,
        board_is_worth: float,
    ) -> None:
        self.boards, self.panels, self.allowances, self.board_is_worth = boards, panels, allowances, board_is_worth
        self.stock = alike(boards)
        self.sizes = sorted(self.stock)
        self.quantities = [sum(each.quantity for each in self.stock[size]) for size in self.sizes]
        self.costs = [opening_cost(self.stock[size][0], board_is_worth) for size in self.sizes]
        self.kerf, self.jointed = nm(allowances.kerf_in), 2 * nm(allowances.jointing_in)
        self.loss = self.kerf + self.jointed
        self.copies = [panel for panel in panels for _ in range(panel.quantity)]

    def class_of(self, panel: PanelWanted) -> Class:
        strip = strip_for(panel, 0, self.allowances)
        return Class(strip.length, strip.thickness)

    def width(self, panel: PanelWanted) -> int:
        """Of all its finished strips together."""
        return nm(panel.width_in) if panel.strips is None else sum(equal(nm(panel.width_in), panel.strips))

    def needs(self) -> dict[Class, int]:
        """The width that panels of each class take of sections, with the loss of as few strips as may be."""
        found: dict[Class, int] = defaultdict(int)
        for panel in self.copies:
            fewest = panel.strips or -(-nm(panel.width_in) // nm(self.allowances.widest_strip_in))
            found[self.class_of(panel)] += self.width(panel) + fewest * self.loss
        return found

    def crosscut(
        self, losses: float, deadline: Deadline, only: Mapping[int, int] | None = None
    ) -> tuple[list[Crosscut] | None, int]:
        """Sections of the cheapest boards that have width enough for every class, and the bound of their cost.

        With `only` so many of each stock, the sections of those that leave every class most to spare.
        """
        from ortools.sat.python import cp_model

        needs = self.needs()
        lengths = sorted({each.length for each in needs})
        model = cp_model.CpModel()
        cost: Any = 0
        supply: dict[Class, list[Any]] = defaultdict(list)
        times: dict[Crosscut, Any] = {}
        for stock, (length, width, thickness) in enumerate(self.sizes):
            most = min(self.quantities[stock], MOST_PANELS) if only is None else only.get(stock, 0)
            opened = [model.new_bool_var("") for _ in range(most)]
            for one, other in pairwise(opened):
                model.add_implication(other, one)
            usable = max(0, width + self.kerf - round(losses * self.loss))
            for copy, is_open in enumerate(opened):
                along: Any = 0
                for each in lengths:
                    if each <= length:
                        count = model.new_int_var(0, (length + self.kerf) // (each + self.kerf), "")
                        along += count * (each + self.kerf)
                        supply[Class(each, thickness)].append(count * usable)
                        times[Crosscut(stock, copy, each, width, thickness)] = count
                model.add(along <= (length + self.kerf) * is_open)
                cost += self.costs[stock] * is_open
        spare = model.new_int_var(0, 0 if only is None else MOST_SPARE, "")
        self._serve(model, needs, supply, spare)
        if only is None:
            model.minimize(cost)
        else:
            model.maximize(spare)
        solver = _solver(cp_model, deadline)
        status = solver.solve(model)
        if status not in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
            return None, 0 if status == cp_model.INFEASIBLE else max(0, round(solver.best_objective_bound))
        sections = [each for each, count in times.items() for _ in range(solver.value(count))]
        return sections, max(0, round(solver.best_objective_bound))

    def _serve(self, model: Any, needs: Mapping[Class, int], supply: Mapping[Class, Sequence[Any]], spare: Any) -> None:
        """Longer and thicker sections may serve shorter and thinner panels."""
        given: dict[Class, list[Any]] = {each: [] for each in needs}
        for section, widths in supply.items():
            taken = []
            for each, need in needs.items():
                if each.length <= section.length and each.thickness <= section.thickness:
                    flow = model.new_int_var(0, 2 * need, "")
                    given[each].append(flow)
                    taken.append(flow)
            model.add(sum(taken) <= sum(widths))
        for each, need in needs.items():
            model.add(sum(given[each]) >= need + spare * (need // 1000))

    def shared_out(self, crosscuts: Sequence[Crosscut], deadline: Deadline) -> list[Share] | None:
        """Who takes how many strips, and how wide in all, of which section: as few strips as possible."""
        from ortools.sat.python import cp_model

        model = cp_model.CpModel()
        taken: dict[tuple[int, int], tuple[Any, Any]] = {}
        for place, section in enumerate(crosscuts):
            for number, panel in enumerate(self.copies):
                if (found := self._taken(model, section, panel)) is not None:
                    taken[place, number] = found
            own = [found for key, found in taken.items() if key[0] == place]
            model.add(sum(width + self.loss * count for count, width in own) <= section.width + self.kerf)
        for number, panel in enumerate(self.copies):
            model.add(sum(width for key, (_, width) in taken.items() if key[1] == number) == self.width(panel))
        counts = [count for count, _ in taken.values()]
        solver = _solved(cp_model, model, deadline.share(0.7))
        if solver is None:
            return None
        for count in counts:
            model.add_hint(count, solver.value(count))
        model.minimize(sum(counts))
        solver = _solved(cp_model, model, deadline) or solver
        return [
            Share(crosscuts[place], place, number, _parts(solver.value(width), solver.value(count)))
            for (place, number), (count, width) in taken.items()
            if solver.value(count)
        ]

    def _taken(self, model: Any, section: Crosscut, panel: PanelWanted) -> tuple[Any, Any] | None:
        """How many strips of a section a panel takes and how wide they are together; None where it can't take any."""
        own = self.class_of(panel)
        widest = section.width - self.jointed
        if panel.strips != 1:
            widest = min(widest, nm(self.allowances.widest_strip_in))
        if own.length > section.length or own.thickness > section.thickness or widest <= 0:
            return None
        count = model.new_int_var(0, MOST_STRIPS_FROM_ONE, "")
        if panel.strips is not None:
            strip = equal(nm(panel.width_in), panel.strips)[0]
            return (count, strip * count) if strip <= widest else None
        width = model.new_int_var(0, self.width(panel), "")
        model.add(width >= min(nm(self.allowances.narrowest_strip_in), self.width(panel)) * count)
        model.add(width <= widest * count)
        return count, width


class Share(NamedTuple):
    """What a section gives to one panel: finished widths of strips."""

    crosscut: Crosscut
    place: int
    """Which of the sections."""
    panel: int
    """Which of the panels, each copy by itself."""
    widths: Widths


def _written(bench: _Bench, shares: Sequence[Share], bound: int) -> Freely:
    """The plan as a question with these very ways, and its answer."""
    ways_of = [_ways(shares, number) for number in range(len(bench.copies))]
    rows: list[Counter[Widths]] = []
    first = 0
    for panel in bench.panels:
        rows.append(Counter(ways_of[first : first + panel.quantity]))
        first += panel.quantity
    question = asked_in([list(row) for row in rows], bench.boards, bench.panels, bench.allowances, bench.board_is_worth)
    numbers = {strip: number for number, strip in enumerate(question.strips)}
    cut = tuple((pattern, 1) for pattern in _patterns(bench, shares, numbers))
    cost = sum(bench.costs[pattern.stock] for pattern, _ in cut) // question.unit
    answer = Answer(cut, tuple(tuple(row.values()) for row in rows), 0, 0, cost, -(-bound // question.unit))
    return Freely((question, answer), bound)


def _ways(shares: Sequence[Share], number: int) -> Widths:
    return tuple(sorted((width for share in shares if share.panel == number for width in share.widths), reverse=True))


def _patterns(bench: _Bench, shares: Sequence[Share], numbers: Mapping[Strip, int]) -> Iterator[Pattern]:
    """One for each board, its longest sections first."""
    boards: dict[tuple[int, int], dict[int, list[Share]]] = defaultdict(lambda: defaultdict(list))
    for share in shares:
        boards[share.crosscut.stock, share.crosscut.copy][share.place].append(share)
    for (stock, _), sections in boards.items():
        found = []
        for own in sections.values():
            strips = [strip_for(bench.copies[each.panel], w, bench.allowances) for each in own for w in each.widths]
            items = Counter(numbers[strip] for strip in strips)
            found.append((own[0].crosscut.length, tuple(sorted(items.items()))))
        yield Pattern(stock, tuple(sorted(found, reverse=True)))


def _parts(width: int, count: int) -> Widths:
    """As equal as nanometres allow."""
    return tuple(width // count + (number < width % count) for number in range(count))


def _solved(cp_model: Any, model: Any, deadline: Deadline) -> Any:
    """The solver with an answer, or None."""
    solver = _solver(cp_model, deadline)
    return solver if solver.solve(model) in {cp_model.OPTIMAL, cp_model.FEASIBLE} else None


def _solver(cp_model: Any, deadline: Deadline) -> Any:
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = max(0.05, deadline.left())
    solver.parameters.num_workers = WORKERS
    solver.parameters.random_seed = 0
    return solver
