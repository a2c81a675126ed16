"""Which boards to open and which lengths to crosscut each to, so that the sections have width enough for all panels.

A panel's wood is one width here, cut anywhere. Any plan answers that, so what it costs bounds plans with strips of any
widths. A board takes one of its full ways to be crosscut, which keeps the model's relaxation close to its answer. Where
panels have so many lengths that the ways can't be listed, the bound takes some lengths for the next shorter one, and
plans are made of ways drawn by lot.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import islice, product
from random import Random
from typing import Any, NamedTuple

from planner.layout.cutting.deadline import Deadline
from planner.layout.ripping.bench import Bench, Class, Section, Wood

MIL = 25_400
"""Nanometres in a thousandth of an inch, what the model counts in: sections rounded up, panels down."""
MOST_WAYS = 3_000
DRAWN_WAYS, KEPT_WAYS = 2_000, 200
"""By lot for boards of one length, and of these as many as waste least."""
MOST_SPARE = 500
"""Thousandths of what panels need."""
NEAR_ENOUGH = 0.002
"""Of the cheapest boards, where nothing is proved by them."""
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
    model = _Model(bench, further, _lengths_of(bench))
    if any(ways_to_crosscut(length, bench.kerf, model.lengths) is None for length, _, _ in bench.sizes):
        bound = 0 if further else _bound_of_fewer_lengths(bench, deadline.share(0.4))
        return _chosen(model, further, deadline)._replace(bound=bound)
    return _chosen(model, further, deadline)


def _chosen(model: _Model, further: float, deadline: Deadline) -> Chosen:
    model.cheapest()
    chosen = model.solved(deadline.share(0.8), NEAR_ENOUGH if further else 0.0)
    if chosen.sections is None:
        return chosen
    model.roomiest(Counter(stock for stock, _ in {(each.stock, each.copy) for each in chosen.sections}))
    return chosen._replace(sections=model.solved(deadline).sections or chosen.sections)


def _bound_of_fewer_lengths(bench: Bench, deadline: Deadline) -> int:
    """Where a few lengths stand for all, each for those up to the next one: no plan costs less."""
    lengths = list(_lengths_of(bench))
    while any(ways_to_crosscut(length, bench.kerf, tuple(lengths)) is None for length, _, _ in bench.sizes):
        lengths.remove(min(lengths[1:], key=lambda each: _cut_short(bench, lengths, each)))
    model = _Model(bench, 0.0, tuple(lengths))
    model.cheapest()
    return model.solved(deadline).bound


def _cut_short(bench: Bench, lengths: Sequence[int], without: int) -> int:
    """How much wood goes uncounted if a length is taken for the next shorter one."""
    place = lengths.index(without)
    until = lengths[place + 1] if place + 1 < len(lengths) else without + 1
    widths = sum(wood.width for wood in bench.wood if without <= wood.own.length < until)
    return widths * (without - lengths[place - 1])


def _lengths_of(bench: Bench) -> tuple[int, ...]:
    return tuple(sorted({wood.own.length for wood in bench.wood}))


class _Model:
    """The model with sections of some lengths, shortest first."""

    def __init__(self, bench: Bench, further: float, lengths: tuple[int, ...]) -> None:
        from ortools.sat.python import cp_model

        self.bench, self.cp_model, self.model, self.lengths = bench, cp_model, cp_model.CpModel(), lengths
        self.usable = [bench.usable(stock) for stock in range(len(bench.sizes))]
        self.ways = [self._ways(stock) for stock in range(len(bench.sizes))]
        self.opened = [sum(times for _, times in ways) for ways in self.ways]
        for quantity, opened in zip(bench.quantities, self.opened, strict=True):
            self.model.add(opened <= quantity)
        self.spare = self.model.new_int_var(0, MOST_SPARE, "")
        for length, thickness in product(lengths, sorted({wood.own.thickness for wood in bench.wood})):
            self._serve(Class(length, thickness), further)
            self._serve_strips(Class(length, thickness))

    def _ways(self, stock: int) -> list[tuple[Way, Any]]:
        """Each way with how many boards take it."""
        length, quantity = self.bench.sizes[stock][0], self.bench.quantities[stock]
        if not self.usable[stock]:
            return []
        ways = ways_to_crosscut(length, self.bench.kerf, self.lengths)
        if ways is None:
            ways = ways_by_lot(length, self.bench.kerf, self.lengths)
        return [(way, self.model.new_int_var(0, quantity, "")) for way in ways]

    def _serve(self, least: Class, further: float) -> None:
        """Panels at least so long and thick are made of sections that are: of the wood that their strips have, and of
        their whole width with as few strips as each panel can have."""
        bench = self.bench
        finished: Any = 0
        whole: Any = 0
        for stock, (_, width, thickness) in enumerate(bench.sizes):
            if thickness >= least.thickness:
                sections = self._sections_of(stock, least)
                finished += sections * -(-self.usable[stock] // MIL)
                whole += sections * -(-(width + bench.kerf) // MIL)
        served = [wood for wood in bench.wood if wood.own.serves(least)]
        need = sum(wood.width + round(further * (wood.strips or 1) * bench.loss) for wood in served) // MIL
        self.model.add(finished >= need + self.spare * (need // 1000))
        self.model.add(whole >= sum(wood.width + self._fewest(wood) * bench.loss for wood in served) // MIL)

    def _serve_strips(self, least: Class) -> None:
        """Strips whose width is said lie side by side in sections as wide, each whole."""
        served = [wood for wood in self.bench.wood if wood.strips and wood.own.serves(least)]
        for strip in {wood.narrowest for wood in served}:
            wanted = sum(wood.strips or 0 for wood in served if wood.narrowest >= strip)
            room = sum(
                self._sections_of(stock, least) * ((width + self.bench.kerf) // (strip + self.bench.loss))
                for stock, (_, width, thickness) in enumerate(self.bench.sizes)
                if thickness >= least.thickness and width + self.bench.kerf >= strip + self.bench.loss
            )
            self.model.add(room >= wanted)

    def _sections_of(self, stock: int, least: Class) -> Any:
        """How many at least so long."""
        return sum(
            sum(n for n, length in zip(way, self.lengths, strict=True) if length >= least.length) * times
            for way, times in self.ways[stock]
        )

    def _fewest(self, wood: Wood) -> int:
        widest = max((self.bench.widest_of(width, wood) for _, width, _ in self.bench.sizes), default=0)
        fewest: int = wood.strips or -(-wood.width // (widest or wood.width))
        return fewest

    def cheapest(self) -> None:
        costs = zip(self.bench.costs, self.opened, strict=True)
        self.model.minimize(sum(cost * opened for cost, opened in costs))

    def roomiest(self, opened: Mapping[int, int]) -> None:
        """With so many boards of each stock, the sections that leave every class of panels most to spare."""
        for stock, count in enumerate(self.opened):
            self.model.add(count == opened.get(stock, 0))
        self.model.maximize(self.spare)

    def solved(self, deadline: Deadline, gap: float = 0.0) -> Chosen:
        solver = self.cp_model.CpSolver()
        solver.parameters.relative_gap_limit = gap
        solver.parameters.max_time_in_seconds = max(0.05, deadline.left())
        solver.parameters.num_workers = WORKERS
        solver.parameters.random_seed = 0
        status = solver.solve(self.model)
        bound = 0 if status == self.cp_model.INFEASIBLE else max(0, round(solver.best_objective_bound))
        if status not in {self.cp_model.OPTIMAL, self.cp_model.FEASIBLE}:
            return Chosen(None, 0, bound)
        return Chosen(list(self._sections(solver)), round(solver.objective_value), bound)

    def _sections(self, solver: Any) -> Iterator[Section]:
        for stock, ways in enumerate(self.ways):
            _, width, thickness = self.bench.sizes[stock]
            taken = [way for way, times in ways for _ in range(solver.value(times))]
            for copy, way in enumerate(taken):
                for count, length in zip(way, self.lengths, strict=True):
                    yield from [Section(stock, copy, length, width, thickness)] * count


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


@lru_cache(maxsize=256)
def ways_by_lot(length: int, kerf: int, lengths: tuple[int, ...]) -> tuple[Way, ...]:
    """Some of the full ways, always the same: with each length those that waste least of many drawn by lot."""
    rng = Random(0)  # noqa: S311
    sizes = [each + kerf for each in lengths if each <= length]
    kept: set[Way] = set()
    for first in range(len(sizes)):
        found: dict[Way, int] = {}
        for _ in range(DRAWN_WAYS // len(sizes)):
            way, room = _filled(length + kerf, sizes, first, rng)
            found[(*way, *[0] * (len(lengths) - len(sizes)))] = room
        kept |= set(sorted(found, key=lambda way: (found[way], way))[: KEPT_WAYS // len(sizes) + 1])
    return tuple(sorted(kept))


def _filled(room: int, sizes: Sequence[int], first: int, rng: Random) -> tuple[Way, int]:
    """A way with `first` in it, and the room left; the longest that fits comes last."""
    counts, place = [0] * len(sizes), first
    while True:
        counts[place] += 1
        room -= sizes[place]
        fit = [each for each, size in enumerate(sizes) if size <= room]
        if not fit:
            return tuple(counts), room
        is_last = room - sizes[fit[-1]] < sizes[0]
        place = fit[-1] if is_last else rng.choice(fit)
