"""The moves of the search: think a neighbourhood through anew, or run the list rule in a slightly other order."""

from __future__ import annotations

import random
from dataclasses import dataclass

from planner.plan import Plan
from planner.search.listing import ListRule
from planner.search.neighbourhoods import NEIGHBOURHOODS, Neighbourhood, Neighbours, span_of
from planner.search.pressing import DAY, Pressing
from planner.search.stop import Stop

FIRST_SIZE = 50  # steps thought through together at first; it grows while that is quick
LEAST_SIZE, MOST_SIZE = 8, 250
SECONDS = 2.0  # for one neighbourhood


@dataclass
class Rethink:
    """Free a neighbourhood and let CP-SAT place it; the size follows how fast it is settled."""

    near: Neighbours
    neighbourhood: Neighbourhood
    workers: int
    size: float = FIRST_SIZE

    def __call__(self, plan: Plan, chance: random.Random, stop: Stop) -> Plan | None:
        from planner.search.cpsat.model import think
        from planner.search.cpsat.part import Part

        free = self.neighbourhood(self.near, plan, chance, round(self.size))
        if not free:
            return None
        part = Part(self.near.facts, plan, frozenset(free), span_of(plan, free, self.near.facts.now))
        thought = think(part, seconds=SECONDS, workers=self.workers, seed=chance.randrange(1 << 30), stop=stop)
        factor = 1.2 if thought.settled else 0.85
        self.size = min(MOST_SIZE, max(LEAST_SIZE, self.size * factor))
        return thought.plan


@dataclass
class Relist:
    """The list rule in the order of the plan, with some steps moved forward or back by chance."""

    rule: ListRule
    pressing: Pressing

    def __call__(self, plan: Plan, chance: random.Random, stop: Stop) -> Plan | None:  # noqa: ARG002 - quick enough
        spread = chance.choice((60, 240, DAY, 3 * DAY))
        share = chance.choice((0.005, 0.02, 0.1, 0.3))
        key = self.pressing.as_in(plan)
        for step in key:
            if chance.random() < share:
                key[step] = (key[step][0] + chance.gauss(0, spread), *key[step][1:])
        return self.rule.plan(key, chance.choice((0, 3, 6, 12, 30)))


@dataclass
class Prefer:
    """The list rule in the order of the plan, with one dear order earlier by some days."""

    rule: ListRule
    pressing: Pressing
    near: Neighbours

    def __call__(self, plan: Plan, chance: random.Random, stop: Stop) -> Plan | None:  # noqa: ARG002 - quick enough
        key = self.pressing.as_in(plan)
        order = self.near.dear_order(plan, chance)
        ahead = chance.choice((DAY, 3 * DAY, 10 * DAY))
        for step in self.near.needs(order):
            key[step] = (key[step][0] - ahead, *key[step][1:])
        return self.rule.plan(key, chance.choice((0, 6)))


def moves_for(rule: ListRule, workers: int) -> list[Rethink | Relist | Prefer]:
    """Every move that makes sense for a problem."""
    near = Neighbours(rule.facts, rule.clusters, rule.hopeless)
    pressing = Pressing(rule.facts)
    has_orders = bool(rule.problem.orders)
    about_orders = {"an_order_and_its_needs", "around_a_dear_order"}
    rethinks = [
        Rethink(near, neighbourhood, workers)
        for neighbourhood in NEIGHBOURHOODS
        if has_orders or neighbourhood.__name__ not in about_orders
    ]
    relists: list[Rethink | Relist | Prefer] = [Relist(rule, pressing)]
    return [*rethinks, *relists, *([Prefer(rule, pressing, near)] if has_orders else [])]
