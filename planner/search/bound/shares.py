"""What each order must buy: minutes of people and stations, late enough to be possible, early enough to be done.

A step that several orders wait for is bought by each of them in part.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from planner.problem import Hold
from planner.search.bits import lowest
from planner.search.bound.buying import Flat, Ints, Numbers
from planner.search.bound.crowding import Work, crowded_end
from planner.search.bound.domains import Domains
from planner.search.bound.finishes import NEVER, Finishes, Minutes
from planner.search.bound.supply import Giver, Supply, person, station

CHUNK = 60  # minutes of a long use that are bought in one stretch
NOT_THEN = -1


@dataclass(frozen=True)
class Promise:
    """Steps that have all ended when a price is due: an order, or the whole plan; `worth` an hour decides who buys."""

    steps: frozenset[str]
    earliest: int
    worth: float
    price: Callable[[Minutes], Numbers] = field(repr=False)


@dataclass(frozen=True, slots=True)
class Use:
    """From `begin` to `end` minutes after the start of its step, `load` is taken at one of the givers."""

    begin: int
    end: int
    load: int
    starts: tuple[tuple[Giver, int], ...]


class Shares:
    """Promises own uses, uses own choices: a giver, and the stretches in which it could be asked."""

    def __init__(self, domains: Domains, supply: Supply, bounds: Minutes, promises: list[Promise]) -> None:
        self.domains, self.supply, self.bounds = domains, supply, bounds
        self.facts = domains.facts
        self.finishes = Finishes(domains, bounds)
        self.stretch_ends = np.append(bounds[1:], NEVER)
        self.needed = {place: self.finishes.needed_for(promise.steps) for place, promise in enumerate(promises)}
        self.worth: dict[str, float] = defaultdict(float)
        for place, promise in enumerate(promises):
            for step in self.needed[place]:
                self.worth[step] += promise.worth
        self.crowding = 0.0  # what the promises added cost more than alone, each by itself
        self.first_end: list[int] = []
        self.prices: list[Numbers] = []
        self.uses_from = [0]
        self.minutes: list[float] = []
        self.choices_from = [0]
        self.giver: list[int] = []
        self.first_stretch: list[int] = []
        self.done_by: list[npt.NDArray[np.int32]] = []

    def flat(self) -> Flat:
        """All that was added, as `buy` takes it."""
        return Flat(
            first_end=np.array(self.first_end, np.int64),
            prices_from=_starts([len(prices) for prices in self.prices]),
            prices=np.concatenate([*self.prices, np.zeros(0)]),
            uses_from=np.array(self.uses_from, np.int64),
            choices_from=np.array(self.choices_from, np.int64),
            minutes=np.array(self.minutes, np.float64),
            giver=np.array(self.giver, np.int64),
            first_stretch=np.array(self.first_stretch, np.int64),
            done_from=_starts([len(done_by) for done_by in self.done_by]),
            done_by=np.concatenate([*self.done_by, np.zeros(0, np.int32)]),
        )

    def add(self, place: int, promise: Promise) -> None:
        """All that one promise needs."""
        needed = self.needed[place]
        uses = [(step, use) for step in needed for use in self._uses(step)]
        earliest = max(promise.earliest, self._crowded(uses, self.finishes.tails(needed)))
        ends = self._possible_ends(promise, earliest)
        least, at_least = promise.price(np.array([promise.earliest, earliest]))
        self.crowding += float(at_least - least)
        self.first_end.append(len(self.bounds) - len(ends))
        self.prices.append(np.maximum(0.0, promise.price(ends) - at_least))
        tables = self.finishes.tables(needed, promise.steps)
        for step, use in uses:
            self._add_use(step, use, tables, promise)
        self.uses_from.append(len(self.choices_from) - 1)

    def _crowded(self, uses: list[tuple[str, Use]], tails: dict[str, int]) -> int:
        """When all that is needed can have been worked at best by those who can."""
        works = [
            Work(
                givers=frozenset(self.supply.row[giver] for giver, _ in use.starts),
                minutes=(use.end - use.begin)
                * use.load
                / max(self.supply.capacity_of(giver) for giver, _ in use.starts),
                head=lowest(self.domains.starts[step]) + use.begin,
                tail=self.facts.steps[step].minutes - use.end + tails[step],
            )
            for step, use in uses
        ]
        return crowded_end(works, self.supply.minutes, self.bounds)

    def _possible_ends(self, promise: Promise, earliest: int) -> Minutes:
        """The first minute of each stretch, from that of the earliest end on, at which one of the steps could end."""
        first = int(self.finishes.stretch_of(np.array([earliest]))[0])
        ends = np.maximum(self.bounds[first:], earliest)
        found = np.full(len(ends), NEVER)
        for step in promise.steps:
            if step in self.facts.steps:
                minutes = self.facts.steps[step].minutes
                found = np.minimum(found, self.finishes.next_start(self.domains.starts[step], ends - minutes) + minutes)
            else:
                found = np.minimum(found, ends)
        return np.where(found < NEVER, np.maximum(found, ends), ends)

    def _uses(self, step: str) -> Iterator[Use]:
        its, row = self.facts.steps[step], self.facts.problem.step[step]
        by_person = tuple((person(each), self.domains.with_person(step, each)) for each in its.people if each)
        for begin, end in its.hands:
            yield Use(begin, end, 1, by_person)
        starts = self.domains.starts[step]
        for need in row.stations:
            places = tuple((station(name), starts) for name in need.any_of)
            yield from (Use(begin, end, need.load, places) for begin, end in _chunks(its.minutes))
        for hold in self.facts.holds_of[step]:
            if hold.first == step:
                places = ((station(hold.station), starts),)
                yield from (Use(begin, end, hold.load, places) for begin, end in _chunks(self._held(hold)))

    def _held(self, hold: Hold) -> int:
        """How long a hold lasts at least; 0 where that is not known, or where its station closes in between."""
        links = [link for link in self.facts.links_in.get(hold.last, ()) if link.before == hold.first]
        if (
            not links
            or hold.last in self.domains.hopeless
            or self.facts.problem.station[hold.station].hours is not None
        ):
            return 0
        return sum(self.facts.steps[step].minutes for step in (hold.first, hold.last)) + links[0].waits[0][0]

    def _add_use(self, step: str, use: Use, tables: Mapping[str, Minutes], promise: Promise) -> None:
        before = len(self.giver)
        for giver, starts in use.starts:
            self._add_choice(giver, starts, step, use, tables, promise)
        if len(self.giver) > before:
            self.choices_from.append(len(self.giver))

    def _add_choice(
        self, giver: Giver, starts: int, step: str, use: Use, tables: Mapping[str, Minutes], promise: Promise
    ) -> None:
        """In which stretches some minute of the use may lie, and in which one the promise is then kept at best."""
        row = self.supply.row[giver]
        start = self.finishes.next_start(starts, np.maximum(self.bounds - use.end + 1, 0))
        then = (start + use.begin < self.stretch_ends) & (self.supply.minutes[row] > 0)
        then[-1] = start[-1] < NEVER
        ends = np.where(then, self.finishes.ends(step, start, tables, promise.steps), NEVER)
        places = np.flatnonzero(ends < NEVER)
        if len(places):
            seen = slice(places[0], places[-1] + 1)
            done_by = np.where(ends[seen] < NEVER, self.finishes.stretch_of(ends[seen]), NOT_THEN)
            self.giver.append(row)
            load = use.load * promise.worth / self.worth[step]
            self.minutes.append((use.end - use.begin) * load / self.supply.capacity_of(giver))
            self.first_stretch.append(int(places[0]))
            self.done_by.append(done_by.astype(np.int32))


def _chunks(minutes: int) -> Iterator[tuple[int, int]]:
    parts = max(1, round(minutes / CHUNK))
    return pairwise(minutes * part // parts for part in range(parts + 1)) if minutes else iter(())


def _starts(lengths: list[int]) -> Ints:
    return np.cumsum([0, *lengths], dtype=np.int64)
