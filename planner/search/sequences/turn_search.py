"""The move of the search that looks for a better sequence at one station."""

from __future__ import annotations

import random

import numpy as np

from planner.plan import Plan
from planner.search.sequences.descent import BEST, Trail, search, trail_of
from planner.search.sequences.one_station import OneStation
from planner.search.sequences.turn_numbers import Turns
from planner.search.sequences.turns import Line
from planner.search.stop import Stop

TRIES = 250_000  # changes tried between two looks at the clock
SLICES = 20  # of that at most, for one call
PATIENCE = 4  # times as many descents as steps without anything better, and it begins anew


class BetterTurns:
    """Goes on searching where it stopped, and gives a plan when it has found one that is better than the best."""

    def __init__(self, form: OneStation, seed: int) -> None:
        self.turns = Turns(form)
        self.patience = PATIENCE * len(form.steps)
        self.seed = seed
        self.line: Line | None = None
        self.trail: Trail | None = None

    def __call__(self, plan: Plan, chance: random.Random, stop: Stop) -> Plan | None:  # noqa: ARG002 - has its own seed
        if self.line is None or self.trail is None:
            self.line = self.turns.line(plan)
            self.trail = trail_of(self.line, self.seed)
        before = self.trail.costs[BEST]
        for _ in range(SLICES):
            left = search(self.turns.work, self.line, self.trail, TRIES, self.patience)
            if left > 0 or stop.reached() or self.trail.costs[BEST] < before:
                break
        found = self.turns.plan(np.asarray(self.trail.best[1:-1]).tolist())
        return found if found.cost < plan.cost else None
