"""Makers for the tests of the compiled search: a problem's records with a plan standing in them, and how they stand."""

from __future__ import annotations

from typing import Any

import numpy as np

from planner import Plan, Problem
from planner.search.compiled import PLAIN, machine_code
from planner.search.facts import InForce
from planner.search.fast.clustering import stand_at
from planner.search.fast.filling import Filling
from planner.search.fast.move import horizon_of
from planner.search.fast.numbers import Numbers
from planner.search.fast.table import Shop
from planner.search.listing import ListRule
from planner.search.pressing import PRIORITIES, Pressing


def for_python(function: Any) -> Any:
    """A function that only compiled ones call, so that Python can; not kept, as what it calls may change."""
    return machine_code(**PLAIN)(function.py_func)


class Standing:
    """A problem's records, with one of its list plans standing in them."""

    def __init__(self, problem: Problem, in_force: InForce | None = None, patience: float = 0) -> None:
        self.rule = ListRule(problem, in_force)
        self.plan = self.rule.plan(PRIORITIES[0](Pressing(self.rule.facts)), patience)
        self.numbers = Numbers(self.rule.facts, self.plan, self.rule.clusters)

    def empty(self, seed: int = 1) -> Shop:
        filling = Filling(self.numbers, self.rule.new_draft().books, horizon_of(self.rule, self.plan))
        filling.keys = [key(Pressing(self.rule.facts)) for key in PRIORITIES]
        return filling.shop(seed)

    def shop(self, plan: Plan | None = None) -> Shop:
        shop = self.empty()
        stand_at(shop, self.numbers.rows_of(plan or self.plan))
        return shop

    @property
    def moves_nothing(self) -> bool:
        return not self.numbers.steps


def rows_in(shop: Shop) -> np.ndarray:
    """Start, person, choice and changeover of each step as it stands."""
    return np.array([shop.step[name] for name in ("start", "person", "chosen", "change")])


def state_of(shop: Shop) -> list[list[int]]:
    """All that a plan changes: where steps stand, whose minutes are free, what stations are loaded with, the turns."""
    turns = [shop.turn[queue, : shop.queue[queue]["turns"]].tolist() for queue in range(shop.queue.size)]
    placed = [row if row[0] >= 0 else row[:1] for row in rows_in(shop).T.tolist()]  # what is out may say where it was
    return [*placed, *shop.bits.tolist(), *shop.used.tolist(), *turns]
