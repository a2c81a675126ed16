"""The move of the search for job shops: tabu searches from schedules that lie between two good ones.

Path relinking as by Peng, Lu and Cheng (2015), with another way between two schedules: steps in the order of a
weighted mean of their starts keep every order of two steps that both schedules agree on.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field

import numpy as np

from planner.plan import Plan
from planner.search.sequences.job_shop import JobShop
from planner.search.sequences.one_machine import least_span
from planner.search.sequences.shop import BEST, STALE, Ints, Schedule, schedule_of, settle
from planner.search.sequences.shop_numbers import ShopNumbers
from planner.search.sequences.tabu import search
from planner.search.stop import Stop

STEPS_A_CALL = 25_000_000  # iterations of tabu search for one call, times the steps of the shop
SLICES = 10  # looks at the clock within a call
PATIENCE = 20_000  # moves without anything better that end one tabu search
ELITE = 6  # schedules among which ways are taken
IDLE = 20  # tabu searches on such ways that bring no other elite, and it begins anew from the best alone


@dataclass
class Elite:
    """The best schedules met, no two with the same starts, the best first."""

    rows: list[tuple[int, Ints]] = field(default_factory=list)

    def take(self, span: int, starts: Ints) -> bool:
        """Take a schedule in if it is new and good enough; whether it was."""
        known = any(span == other and np.array_equal(starts, their) for other, their in self.rows)
        if known or (len(self.rows) == ELITE and span >= self.rows[-1][0]):
            return False
        self.rows = sorted([*self.rows, (span, starts.copy())], key=_span)[:ELITE]
        return True

    def between(self, chance: random.Random) -> Ints:
        """Starts, not to be kept, that lie between two of the schedules."""
        (_, one), (_, other) = chance.sample(self.rows, 2)
        share = round(chance.uniform(0.3, 0.7) * 1000)
        return one * share + other * (1000 - share)


class BetterShop:
    """Goes on searching where it stopped, and gives a plan when it has found one that is better than the best."""

    def __init__(self, form: JobShop, seed: int) -> None:
        self.numbers = ShopNumbers(form)
        self.least = least_span(form)
        self.chance = random.Random(seed)  # noqa: S311 - a repeatable search, no secret
        self.seed = seed
        self.elite = Elite()
        self.idle = 0
        self.schedule: Schedule | None = None

    def __call__(self, plan: Plan, chance: random.Random, stop: Stop) -> Plan | None:  # noqa: ARG002 - has its own
        if self.schedule is None:
            numbers = self.numbers
            starts = numbers.by_chance(self.chance) if plan.unplaced else numbers.starts(plan)
            self.schedule = schedule_of(numbers.shop, numbers.machines, numbers.places, self.seed)
            settle(numbers.shop, self.schedule, numbers.machine, starts)
        self._search(self.schedule, stop)
        found = self.numbers.plan(
            min([(int(self.schedule.spans[BEST]), self.schedule.best), *self.elite.rows], key=_span)[1]
        )
        return found if found.cost < plan.cost else None

    def _search(self, schedule: Schedule, stop: Stop) -> None:
        shop = self.numbers.shop
        left = STEPS_A_CALL // len(shop.minutes)
        part = left // SLICES + 1
        while left > 0 and not stop.reached():
            left -= part - search(shop, schedule, part, PATIENCE, self.least)
            if schedule.spans[BEST] <= self.least:
                break  # none is shorter
            if schedule.numbers[STALE] >= PATIENCE:
                taken = self.elite.take(int(schedule.spans[BEST]), schedule.best)
                self.idle = 0 if taken else self.idle + 1
                settle(shop, schedule, self.numbers.machine, self._anew())

    def _anew(self) -> Ints:
        """Starts for another tabu search."""
        if self.idle > IDLE:
            self.elite.rows, self.idle = self.elite.rows[:1], 0
        if len(self.elite.rows) < ELITE:
            return self.numbers.by_chance(self.chance)
        return self.elite.between(self.chance)


def _span(row: tuple[int, Ints]) -> int:
    return row[0]
