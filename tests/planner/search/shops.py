"""Makers for the tests of the compiled search: a problem's records with a plan standing in them, and how they stand."""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from planner import Plan, Problem, broken_rules, cost, quick_plan
from planner.search.compiled import PLAIN, machine_code
from planner.search.facts import InForce
from planner.search.fast.clustering import stand_at
from planner.search.fast.move import ShopMove
from planner.search.fast.numbers import Numbers
from planner.search.fast.ruin_move import RuinAndRecreate
from planner.search.fast.standing import shop_of
from planner.search.fast.table import Shop
from planner.search.listing import ListRule
from planner.search.pressing import PRIORITIES, Pressing
from planner.search.second_chance import with_all_that_fits
from planner.search.stop import Stop

Make = Callable[[ListRule, int], ShopMove]
CHANCE = random.Random(1)  # noqa: S311 - not asked by these moves


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
        return shop_of(self.rule, self.plan, seed)[1]

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


def moved(problem: Problem, make: Make = RuinAndRecreate, slices: int = 3, seed: int = 1) -> list[Plan]:
    """What a move finds, each from the plan it found before."""
    rule, plan, stop = ListRule(problem), quick_plan(problem), Stop(60)
    stop.iterations = slices
    if not any(step in plan for step in rule.facts.steps):
        return []
    move, found = make(rule, seed), [plan]
    for _ in range(slices):
        found.append(move(found[-1], CHANCE, stop) or found[-1])
        stop.count()
    return found


def check(problem: Problem, make: Make = RuinAndRecreate) -> list[Plan]:
    """What is found costs what it says, and keeps every rule, at least once all that fits is in."""
    found = moved(problem, make)
    facts = ListRule(problem).facts
    for plan in found[1:]:
        assert plan.cost == pytest.approx(cost(problem, plan))
        assert broken_rules(problem, with_all_that_fits(facts, plan)) == []
    return found
