"""A job shop from a problem into numbers, and from starts back into a plan."""

from __future__ import annotations

from collections.abc import Iterable
from heapq import heapify, heappop, heappush
from itertools import count
from random import Random

import numpy as np

from planner.plan import Placed, Plan
from planner.search.drafting import finished_plan
from planner.search.sequences.job_shop import JobShop
from planner.search.sequences.one_machine import least_tails
from planner.search.sequences.shop import Ints, Shop


class ShopNumbers:
    """The numbers of a job shop's steps; minutes count from now."""

    def __init__(self, form: JobShop) -> None:
        self.form = form
        names = {name: number for number, name in enumerate(dict.fromkeys(form.machines.values()))}
        self.machine = np.array([names[form.machines[step.id]] for step in form.steps], np.int64)
        self.machines = len(names)
        counts = [count() for _ in names]
        place = [next(counts[machine]) for machine in self.machine.tolist()]
        self.places = max(place) + 1
        links = [(form.number[link.before], form.number[link.after], link.min_wait) for link in form.links]
        now = form.facts.now
        self.shop = Shop(
            np.array([step.minutes for step in form.steps], np.int64),
            np.array([form.ready[step.id] - now for step in form.steps], np.int64),
            np.array(place, np.int64),
            *_by_step(len(form.steps), ((after, before, wait) for before, after, wait in links)),
            *_by_step(len(form.steps), links),
        )

    def starts(self, plan: Plan) -> Ints:
        """The starts of a plan."""
        return np.array([plan[step.id].start for step in self.form.steps], np.int64)

    def plan(self, starts: Ints) -> Plan:
        """The plan of some starts, in minutes from now."""
        now = self.form.facts.now
        placed = [
            Placed(step.id, now + start, now + start + step.minutes, step.people[0], step.choices[0])
            for step, start in zip(self.form.steps, starts.tolist(), strict=True)
        ]
        return finished_plan(self.form.facts, placed, set())

    def by_chance(self, chance: Random) -> Ints:
        """Places in some order that keeps every link: those with most behind them first, more or less."""
        shop, n = self.shop, len(self.shop.minutes)
        tails = least_tails(self.form)
        behind = [step.minutes + tails[step.id] for step in self.form.steps]
        most = max(behind)
        urgent = [-each - chance.random() * most for each in behind]
        waits = (shop.before_at[1:] - shop.before_at[:-1]).tolist()
        ready = [(urgent[step], step) for step in range(n) if not waits[step]]
        heapify(ready)
        order = np.zeros(n, np.int64)
        for place in range(n):
            step = heappop(ready)[1]
            order[step] = place
            for after in shop.after[shop.after_at[step] : shop.after_at[step + 1]].tolist():
                waits[after] -= 1
                if not waits[after]:
                    heappush(ready, (urgent[after], after))
        return order


def _by_step(n: int, rows: Iterable[tuple[int, int, int]]) -> tuple[Ints, Ints, Ints]:
    """Rows of (step, other, wait) as three arrays: where the rows of each step begin, the others, the waits."""
    ordered = sorted(rows)
    counts = np.bincount([step for step, _, _ in ordered], minlength=n) if ordered else np.zeros(n, np.int64)
    at = np.concatenate(([0], np.cumsum(counts))).astype(np.int64)
    return (
        at,
        np.array([other for _, other, _ in ordered], np.int64),
        np.array([wait for *_, wait in ordered], np.int64),
    )
