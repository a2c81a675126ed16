"""Compiles all inner loops of the search, and keeps what comes of it, so that no search spends its seconds on that."""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from planner.parts import Need, Order, Person, Prices, Segment, Station, StationNeed
from planner.problem import Problem, Step
from planner.search.facts import Facts
from planner.search.listing import ListRule, list_plans
from planner.search.stop import Stop

if TYPE_CHECKING:
    from planner.search.loop import Move

SECONDS = 60.0  # more than any part needs once it is compiled
TRIES = 1
CHANCE = random.Random(0)  # noqa: S311 - a repeatable search, no secret


def prepare() -> None:
    """Run every compiled function once; what is kept already is only loaded."""
    for part in (_ruin_and_recreate, _turns, _job_shop, _bound):
        part()


def _ruin_and_recreate() -> None:
    from planner.search.fast.clustering import clear_out
    from planner.search.fast.line import clear_the_rest
    from planner.search.fast.line_move import LineUp
    from planner.search.fast.ruin_move import RuinAndRecreate

    rule = ListRule(_few_steps(Prices(late_hour=1), people=True))
    move = RuinAndRecreate(rule, 0)
    _once(move, rule)
    clear_out(move.shop)
    line = LineUp(rule, 0)
    _once(line, rule)
    clear_the_rest(line.shop)


def _turns() -> None:
    from planner.search.sequences import sequence_moves

    _all_once(_few_steps(Prices(late_hour=1), people=False), lambda facts: list(sequence_moves(facts, 0)))


def _job_shop() -> None:
    from planner.search.sequences import sequence_moves

    shop = _few_steps(Prices(makespan_hour=1), people=False, stations=("router", "router", "bench"))
    _all_once(shop, lambda facts: list(sequence_moves(facts, 0)))


def _bound() -> None:
    from planner.search.bound import lower_bound

    lower_bound(Facts(_few_steps(Prices(late_hour=1), people=True)), stop=Stop(SECONDS))


def _all_once(problem: Problem, moves: Callable[[Facts], list[Move]]) -> None:
    rule = ListRule(problem)
    for move in moves(rule.facts):
        _once(move, rule)


def _once(move: Move, rule: ListRule) -> None:
    stop = Stop(SECONDS)
    stop.iterations = TRIES
    move(next(iter(list_plans(rule, None))), CHANCE, stop)


def _few_steps(prices: Prices, *, people: bool, stations: tuple[str, ...] = ("router", "router")) -> Problem:
    """A step for each name of a station, one of which must be late; with people's hands it is no pure sequence."""
    need, hours = (Need.HANDS, ((0, 60), (90, 600))) if people else (Need.ALONE, ((0, 600),))
    steps = tuple(
        Step(f"step-{number}", (Segment(30, need),), "wood" if people else None, (StationNeed((name,)),))
        for number, name in enumerate(stations)
    )
    return Problem(
        origin=datetime(2026, 3, 2, tzinfo=UTC),
        now=0,
        people=(Person("one", frozenset({"wood"}), hours),),
        stations=tuple(Station(name) for name in dict.fromkeys(stations)),
        steps=steps,
        orders=tuple(Order(step.id, (step.id,), 30) for step in steps),
        prices=prices,
    )
