"""From a problem, and a plan it stands at, to the records of compiled code."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from graphlib import TopologicalSorter
from heapq import heapify, heappop, heappush

import numpy as np

from planner.parts import Link, Order
from planner.search.books import Books
from planner.search.facts import StepFacts, last_wait
from planner.search.fast import table
from planner.search.fast.numbers import Flat, Numbers, Row, records
from planner.search.fast.places import Places
from planner.search.fast.table import FAR, NONE, Shop

NO_WISH = 1e11  # minutes
Keys = Sequence[Mapping[str, tuple[float, ...]]]


class Filling:
    """The records of one problem, with nothing placed but what has begun, as it is in `books`."""

    def __init__(self, numbers: Numbers, books: Books, horizon: int) -> None:
        self.numbers, self.horizon = numbers, horizon
        self.facts, self.problem, self.now = numbers.facts, numbers.problem, numbers.facts.now
        self.places = Places(numbers, books, horizon)
        self.flat = Flat()
        self.first: set[str] = set()
        self.keys: Keys = []

    def shop(self, seed: int) -> Shop:
        """All records, with `seed` for chance."""
        numbers, places = self.numbers, self.places
        steps, orders = len(numbers.steps), len(self.problem.orders)
        choice = records(table.CHOICE, list(self._choices()))
        link = records(table.LINK, [self._link(link) for name in numbers.steps for link in self.facts.links_in[name]])
        holds = self._holds()
        step = records(table.STEP, self._steps(holds))
        cluster = records(table.CLUSTER, self._clusters())
        order = records(table.ORDER, [self._order(order) for order in self.problem.orders])
        return Shop(
            step=step,
            choice=choice,
            link=link,
            hold=records(table.HOLD, holds),
            cluster=cluster,
            station=records(table.STATION, places.stations),
            queue=records(table.QUEUE, places.queues()),
            order=order,
            item=np.array(self.flat.items, dtype=np.int64),
            pair=np.array(self.flat.pairs, dtype=np.int64).reshape((-1, 2)),
            rank=np.array([self._ranks(key) for key in self.keys], dtype=np.int64).reshape((len(self.keys), -1)),
            changeover=places.changeovers(),
            bits=places.all_bits(),
            used=places.all_loads(),
            turn=np.zeros((len(numbers.queues), steps + 1), dtype=np.int64),
            bias=np.zeros(len(self.problem.people)),
            wish=self._wishes(),
            taste=np.zeros((2, 1 + len(self.problem.people))),
            log=np.zeros((8 * (steps + len(holds)) + 100, 6), dtype=np.int64),
            lists=np.zeros((len(table.LISTS), max(steps, orders) + 1), dtype=np.int64),
            best=np.zeros((4, steps), dtype=np.int64),
            all=records(table.ALL, [self._all()]),
            chance=np.array([2 * seed + 0x9E3779B97F4A7C15], dtype=np.uint64),
        )

    def _all(self) -> Row:
        prices = self.problem.prices
        return {
            "horizon": self.horizon,
            "now": self.now,
            "ended": max(self.facts.begun_end.values(), default=self.now) - self.now,
            "watched": self.places.watched,
            "late": prices.late_hour / 60,
            "finish": prices.finish_hour / 60,
            "changeover": prices.changeover_minute,
            "lost": prices.missed_window_hour / 60,
            "makespan": prices.makespan_hour / 60,
            "moved": self.facts.in_force.move_price,
        }

    def _choices(self) -> Iterator[Row]:
        queues = [station.id for station in self.numbers.queues]
        for name in self.numbers.steps:
            facts = self.facts.steps[name]
            for choice in facts.choices:
                queue = next((number for number, queue in enumerate(queues) if queue in choice), NONE)
                yield {"queue": queue, **self.flat.of_pairs("use", self._loads(facts, choice))}

    def _loads(self, step: StepFacts, choice: tuple[str, ...]) -> Iterable[tuple[int, int]]:
        """Each station once, with all the load the step puts on it."""
        loads: dict[int, int] = {}
        for name, load in zip(choice, step.loads, strict=True):
            station = self.numbers.station[name]
            loads[station] = loads.get(station, 0) + load
        return loads.items()

    def _link(self, link: Link) -> Row:
        last = last_wait(link)
        return {
            "before": self.numbers.step.get(link.before, NONE),
            "ended": self.facts.begun_end.get(link.before, self.now) - self.now,
            "ties": self.facts.ties(link),
            "last": FAR if last is None else last,
            **self.flat.of_pairs("wait", [(least, FAR if most is None else most) for least, most in link.waits]),
        }

    def _holds(self) -> list[Row]:
        """The holds that a step among the numbers begins or ends; where none of them ends it, until when it lasts."""
        found: list[Row] = []
        for hold in self.problem.holds:
            first, last = (self.numbers.step.get(step, NONE) for step in (hold.first, hold.last))
            until = self.facts.begun_end.get(hold.last, self.now + self.horizon) - self.now
            if first != NONE or (last != NONE and hold.first in self.facts.begun_end):
                station = self.numbers.station[hold.station]
                until = min(max(until, 0), self.horizon)
                found.append({"station": station, "load": hold.load, "first": first, "last": last, "until": until})
        return found

    def _steps(self, holds: Sequence[Row]) -> Sequence[Row]:
        of_holds: list[list[int]] = [[] for _ in self.numbers.steps]
        for number, hold in enumerate(holds):
            for step in {int(hold["first"]), int(hold["last"])} - {NONE}:
                of_holds[step].append(number)
        of_orders: list[list[int]] = [[] for _ in self.numbers.steps]
        for number, order in enumerate(self.problem.orders):
            for name in set(order.steps) & self.numbers.step.keys():
                of_orders[self.numbers.step[name]].append(number)
        links = 0
        rows: list[dict[str, float]] = []
        for number, name in enumerate(self.numbers.steps):
            rows.append(self._step(number, name) | self.flat.of("hold", of_holds[number]))
            rows[-1] |= self.flat.of("order", of_orders[number])
            rows[-1] |= {"link": links, "link_end": links + len(self.facts.links_in[name])}
            links = int(rows[-1]["link_end"])
        return rows

    def _step(self, number: int, name: str) -> dict[str, float]:
        step, numbers, flat = self.facts.steps[name], self.numbers, self.flat
        cluster, was = numbers.cluster_of[name], self.facts.in_force.rows.get(name)
        return {
            "minutes": step.minutes,
            "earliest": step.earliest - self.now,
            "state_in": numbers.states[step.state_in],
            "leaves": numbers.states[step.leaves],
            **flat.of_pairs("hands", step.hands),
            **flat.of_pairs("watch", step.watch),
            **flat.of("people", [numbers.person[person] for person in step.people]),
            "choice": numbers.first_choice[number],
            "choice_end": numbers.first_choice[number + 1],
            "cluster": cluster,
            "place": numbers.clusters[cluster].index(name),
            "was": was.start - self.now if was else NONE,
            "start": NONE,
        }

    def _clusters(self) -> list[Row]:
        waits_for = self.numbers.waits_for
        places = self._places_in_line()
        after: list[list[int]] = [[] for _ in waits_for]
        for cluster, others in enumerate(waits_for):
            for other in sorted(others):
                after[other].append(cluster)
        return [
            {
                **self.flat.of("step", [self.numbers.step[step] for step in part]),
                **self.flat.of("before", sorted(waits_for[cluster])),
                **self.flat.of("after", after[cluster]),
                "place": places[cluster],
                "comes_first": any(step in self.first for step in part),
                "stays": any(step in self.facts.stays for step in part),
            }
            for cluster, part in enumerate(self.numbers.clusters)
        ]

    def _places_in_line(self) -> list[int]:
        """Each cluster's place where all stand by rank of the first priority, after what they wait for."""
        ranks = self._ranks(self.keys[0])
        sorter = TopologicalSorter(dict(enumerate(self.numbers.waits_for)))
        sorter.prepare()
        places, ready = [0] * len(ranks), [(ranks[c], c) for c in sorter.get_ready()]
        heapify(ready)
        for place in range(len(ranks)):
            _, cluster = heappop(ready)
            places[cluster] = place
            sorter.done(cluster)
            for other in sorter.get_ready():
                heappush(ready, (ranks[other], other))
        return places

    def _wishes(self) -> np.ndarray:
        """By cluster: when the first of the orders it ends is due; far off where it ends none."""
        wishes = np.full((3, len(self.numbers.clusters)), NO_WISH)
        for order in self.problem.orders:
            for step in order.steps:
                if step in self.numbers.step:
                    cluster = self.numbers.cluster_of[step]
                    wishes[0, cluster] = min(wishes[0, cluster], order.due - self.now)
        return wishes

    def _ranks(self, key: Mapping[str, tuple[float, ...]]) -> list[int]:
        """Each cluster's place by its most pressing step."""
        pressing = [min(key[step] for step in part) for part in self.numbers.clusters]
        places = {number: place for place, number in enumerate(sorted(range(len(pressing)), key=pressing.__getitem__))}
        return [places[number] for number in range(len(pressing))]

    def _order(self, order: Order) -> Row:
        prices = self.problem.prices
        known = [step for step in order.steps if step in self.numbers.step]
        return {
            **self.flat.of("step", [self.numbers.step[step] for step in known]),
            **self.flat.of("needs", self._needs(known)),
            "ended": self._ended(order),
            "due": order.due - self.now,
            "weight": order.weight,
            "missed": prices.missed_hard if order.hard else 0.0,
        }

    def _ended(self, order: Order) -> int:
        """When what has no number has ended: begun steps, or the known hours where one is left out."""
        rest = [step for step in order.steps if step not in self.numbers.step]
        ends = [self.facts.begun_end.get(step, self.problem.latest_close) - self.now for step in rest]
        return max(ends, default=-FAR)

    def _needs(self, steps: Iterable[str]) -> list[int]:
        """The clusters of some steps and all that those wait for."""
        found: set[int] = set()
        waiting = [self.numbers.cluster_of[step] for step in steps]
        while waiting:
            cluster = waiting.pop()
            if cluster not in found:
                found.add(cluster)
                waiting += self.numbers.waits_for[cluster]
        return sorted(found)
