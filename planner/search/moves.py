"""The moves of the search: ruin and recreate at machine speed, and a neighbourhood thought through anew with CP-SAT."""

from __future__ import annotations

import random
from dataclasses import dataclass
from typing import TYPE_CHECKING

from planner.plan import Plan
from planner.search.listing import ListRule
from planner.search.neighbourhoods import NEIGHBOURHOODS, Neighbourhood, Neighbours, span_of
from planner.search.stop import Stop

if TYPE_CHECKING:
    from planner.search.loop import Move

FIRST_SIZE = 50  # steps thought through together at first; it grows while that is quick
LEAST_SIZE, MOST_SIZE = 8, 250
SECONDS = 2.0  # for one neighbourhood
HEATS = (2.0, 0.7)  # of the workers in turn: one strays further, the other keeps closer
LINED_UP_FROM = 250  # steps: where there are fewer, ruin and recreate alone does as well
ABOUT_ORDERS = {"an_order_and_its_needs", "around_a_dear_order"}


@dataclass
class Rethink:
    """Free a neighbourhood and let CP-SAT place it; the size follows how fast it is settled."""

    near: Neighbours
    neighbourhood: Neighbourhood
    size: float = FIRST_SIZE

    def __call__(self, plan: Plan, chance: random.Random, stop: Stop) -> Plan | None:
        from planner.search.cpsat.model import think
        from planner.search.cpsat.part import Part

        free = self.neighbourhood(self.near, plan, chance, round(self.size)) - self.near.facts.stays
        if not free:
            return None
        part = Part(self.near.facts, plan, frozenset(free), span_of(plan, free, self.near.facts.now))
        thought = think(part, seconds=SECONDS, workers=1, seed=chance.randrange(1 << 30), stop=stop)
        factor = 1.2 if thought.settled else 0.85
        self.size = min(MOST_SIZE, max(LEAST_SIZE, self.size * factor))
        return thought.plan


def compiled_moves(rule: ListRule, plan: Plan, seed: int, worker: int = 0) -> list[Move]:
    """The moves of one worker that run at machine speed; none where the calendar is too long to hold by the minute."""
    from planner.search.fast.line_move import LineUp, LineUpThenRuin
    from planner.search.fast.ruin_move import RuinAndRecreate
    from planner.search.fast.standing import can_stand
    from planner.search.sequences import sequence_moves

    moves: list[Move] = [*sequence_moves(rule.facts, seed)]
    if not moves and can_stand(rule, plan):
        ruin = RuinAndRecreate(rule, seed, HEATS[worker % len(HEATS)])
        lines = rule.problem.orders and len(rule.facts.steps) >= LINED_UP_FROM
        moves = [LineUpThenRuin(LineUp(rule, seed), ruin) if lines else ruin]
    return moves


def rethinks(rule: ListRule) -> list[Move]:
    """The moves of one worker that think a neighbourhood through."""
    near = Neighbours(rule.facts, rule.clusters, rule.hopeless)
    return [
        Rethink(near, neighbourhood)
        for neighbourhood in NEIGHBOURHOODS
        if rule.problem.orders or neighbourhood.__name__ not in ABOUT_ORDERS
    ]
