"""Which boards to open and which lengths to crosscut each to, so that the sections have width enough for all panels.

A panel's wood is one width here, cut anywhere. Any plan answers that, so what it costs bounds plans with strips of any
widths. A board takes one of its full ways to be crosscut where they can be listed, which keeps the model's relaxation
close to its answer.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import islice, pairwise, product
from typing import Any, NamedTuple

from planner.layout.cutting.deadline import Deadline
from planner.layout.ripping.bench import Bench, Class, Section, Wood

MIL = 25_400
"""Nanometres in a thousandth of an inch, what the model counts in: sections rounded up, panels down."""
MOST_WAYS = 3_000
MOST_SPARE = 500
"""Thousandths of what panels need."""
WORKERS = 8  # strategies, more than cores

Way = tuple[int, ...]
"""How many sections of each length, shortest first."""


class Chosen(NamedTuple):
    """Sections, or None where none were found; what their boards cost and what no boards cost less than, in
    thousandths of a board foot."""

    sections: list[Section] | None
    cost: int
    bound: int


def crosscut(bench: Bench, further: float, deadline: Deadline) -> Chosen:
    """The cheapest boards, crosscut so that every panel has its width and the loss of `further` strips besides.

    One strip of each section is counted anyway. The bound holds for every plan where `further` is 0.
    """
    model = _Model(bench, further)
    model.cheapest()
    chosen = model.solved(deadline.share(0.8))
    if chosen.sections is None:
        return chosen
    model.roomiest(Counter(stock for stock, _ in {(each.stock, each.copy) for each in chosen.sections}))
    return chosen._replace(sections=model.solved(deadline).sections or chosen.sections)


class _Model:
    def __init__(self, bench: Bench, further: float) -> None:
        from ortools.sat.python import cp_model

        self.bench, self.cp_model, self.model = bench, cp_model, cp_model.CpModel()
        self.lengths = tuple(sorted({wood.own.length for wood in bench.wood}))
        self.stocks = [self._stock(stock) for stock in range(len(bench.sizes))]
        self.usable = [bench.usable(stock) for stock in range(len(bench.sizes))]
        self.spare = self.model.new_int_var(0, MOST_SPARE, "")
        for length, thickness in product(self.lengths, sorted({wood.own.thickness for wood in bench.wood})):
            self._serve(Class(length, thickness), further)

    def _stock(self, stock: int) -> _ByWays | _ByCounts:
        bench = self.bench
        length, quantity = bench.sizes[stock][0], min(bench.quantities[stock], len(bench.copies) * len(self.lengths))
        ways = ways_to_crosscut(length, bench.kerf, self.lengths)
        if ways is None:
            return _ByCounts(self.model, length + bench.kerf, [each + bench.kerf for each in self.lengths], quantity)
        return _ByWays(self.model, ways, quantity)

    def _serve(self, least: Class, further: float) -> None:
        """Panels at least so long and thick are made of sections that are: of the wood that their strips have, and of
        their whole width with as few strips as each panel can have."""
        bench = self.bench
        finished, whole = [], []
        for stock, (_, width, thickness) in enumerate(bench.sizes):
            if thickness >= least.thickness and self.usable[stock]:
                count = self.stocks[stock].count([each >= least.length for each in self.lengths])
                finished.append(count * -(-self.usable[stock] // MIL))
                whole.append(count * -(-(width + bench.kerf) // MIL))
        served = [wood for wood in bench.wood if wood.own.serves(least)]
        need = sum(wood.width + round(further * (wood.strips or 1) * bench.loss) for wood in served) // MIL
        self.model.add(sum(finished) >= need + self.spare * (need // 1000))
        self.model.add(sum(whole) >= sum(wood.width + self._fewest(wood) * bench.loss for wood in served) // MIL)

    def _fewest(self, wood: Wood) -> int:
        widest = max((self.bench.widest_of(width, wood) for _, width, _ in self.bench.sizes), default=0)
        fewest: int = wood.strips or -(-wood.width // (widest or wood.width))
        return fewest

    def cheapest(self) -> None:
        costs = zip(self.bench.costs, self.stocks, strict=True)
        self.model.minimize(sum(cost * stock.opened for cost, stock in costs))

    def roomiest(self, opened: Mapping[int, int]) -> None:
        """With so many boards of each stock, the sections that leave every class of panels most to spare."""
        for number, stock in enumerate(self.stocks):
            self.model.add(stock.opened == opened.get(number, 0))
        self.model.maximize(self.spare)

    def solved(self, deadline: Deadline) -> Chosen:
        solver = self.cp_model.CpSolver()
        solver.parameters.max_time_in_seconds = max(0.05, deadline.left())
        solver.parameters.num_workers = WORKERS
        solver.parameters.random_seed = 0
        status = solver.solve(self.model)
        bound = 0 if status == self.cp_model.INFEASIBLE else max(0, round(solver.best_objective_bound))
        if status not in {self.cp_model.OPTIMAL, self.cp_model.FEASIBLE}:
            return Chosen(None, 0, bound)
        return Chosen(list(self._sections(solver)), round(solver.objective_value), bound)

    def _sections(self, solver: Any) -> Iterator[Section]:
        for number, stock in enumerate(self.stocks):
            _, width, thickness = self.bench.sizes[number]
            for copy, way in enumerate(stock.chosen(solver)):
                for count, length in zip(way, self.lengths, strict=True):
                    yield from [Section(number, copy, length, width, thickness)] * count


class _ByWays:
    """So many boards alike, each crosscut in one of the ways listed."""

    def __init__(self, model: Any, ways: Sequence[Way], quantity: int) -> None:
        self.times = [(way, model.new_int_var(0, quantity, "")) for way in ways]
        self.opened = sum(times for _, times in self.times)
        model.add(self.opened <= quantity)

    def count(self, counted: Sequence[bool]) -> Any:
        return sum(
            sum(n for n, is_counted in zip(way, counted, strict=True) if is_counted) * times
            for way, times in self.times
        )

    def chosen(self, solver: Any) -> Iterator[Way]:
        for way, times in self.times:
            yield from [way] * solver.value(times)


class _ByCounts:
    """So many boards alike, each with as many sections of each length as fit; sizes with a kerf each."""

    def __init__(self, model: Any, room: int, lengths: Sequence[int], quantity: int) -> None:
        self.boards = [[model.new_int_var(0, room // each, "") for each in lengths] for _ in range(quantity)]
        is_open = [model.new_bool_var("") for _ in self.boards]
        for counts, this in zip(self.boards, is_open, strict=True):
            model.add(sum(count * each for count, each in zip(counts, lengths, strict=True)) <= room * this)
        for one, other in pairwise(is_open):
            model.add_implication(other, one)
        self.opened = sum(is_open)

    def count(self, counted: Sequence[bool]) -> Any:
        return sum(n for counts in self.boards for n, is_counted in zip(counts, counted, strict=True) if is_counted)

    def chosen(self, solver: Any) -> Iterator[Way]:
        ways = (tuple(solver.value(count) for count in counts) for counts in self.boards)
        yield from (way for way in ways if any(way))


@lru_cache(maxsize=256)
def ways_to_crosscut(length: int, kerf: int, lengths: tuple[int, ...]) -> tuple[Way, ...] | None:
    """The full ways to crosscut a board into sections of these lengths, shortest first, but for those that another
    one could replace: a longer section does for a shorter one. None where there are too many to list.

    >>> ways_to_crosscut(96, 0, (24, 40))
    ((0, 2), (2, 1), (4, 0))
    """
    full = list(islice(_full_ways(length + kerf, [each + kerf for each in lengths]), MOST_WAYS + 1))
    if len(full) > MOST_WAYS:
        return None
    reach = {tuple(sum(way[place:]) for place in range(len(way))): way for way in full}
    kept: list[Way] = []
    for each in sorted(reach, key=lambda counts: (-sum(counts), counts)):
        if not any(all(a >= b for a, b in zip(other, each, strict=True)) for other in kept):
            kept.append(each)
    return tuple(sorted(reach[each] for each in kept if any(each)))


def _full_ways(room: int, lengths: Sequence[int]) -> Iterator[Way]:
    """Longest first, each filled up with the shortest."""
    *shorter, longest = lengths
    if not shorter:
        yield (room // longest,)
        return
    for count in range(room // longest, -1, -1):
        for way in _full_ways(room - count * longest, shorter):
            yield (*way, count)
