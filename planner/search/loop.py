"""Large neighbourhood search (Shaw 1998) with moves chosen by what they have brought (Ropke and Pisinger 2006).

Several workers share the best plan, each a thread with moves of its own: solvers and compiled loops run side by side.
Everything that varies is handed in: the moves, when to stop, chance, who judges and who is told.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor, as_completed
from dataclasses import dataclass
from itertools import repeat
from time import monotonic
from typing import Protocol

from planner.plan import Plan
from planner.search.best import Best
from planner.search.stop import Stop

MEMORY = 0.8  # of a move's standing kept each time it is tried
LEAST = 0.2  # of the best standing that even the worst move keeps


class Move(Protocol):
    """Takes a plan and gives another, better or worse, or None where it finds none."""

    def __call__(self, plan: Plan, chance: random.Random, stop: Stop) -> Plan | None: ...


@dataclass
class _Tried:
    """A move with what it lately saved a second, and how long it lately took."""

    move: Move
    standing: float = 0.0
    seconds: float = 0.1

    def learn(self, saved: float, seconds: float) -> None:
        seconds = max(seconds, 0.001)
        self.standing = MEMORY * self.standing + (1 - MEMORY) * saved / seconds
        self.seconds = MEMORY * self.seconds + (1 - MEMORY) * seconds


def improve(
    best: Best,
    teams: Sequence[Sequence[Move]],
    *,
    stop: Stop,
    chance: random.Random,
    aside: Callable[[], None] | None = None,
) -> None:
    """Better the plan until the stop, or until it is good enough: each team of moves in a thread of its own.

    `aside` is what the last team does before anything else.
    """
    if len(teams) == 1:
        _work(best, teams[0], stop, chance, aside)
        return
    chances = [random.Random(chance.randrange(1 << 62)) for _ in teams]  # noqa: S311 - repeatable, no secret
    asides = [None] * (len(teams) - 1) + [aside]
    with ThreadPoolExecutor(max_workers=len(teams)) as threads:
        works = [threads.submit(_work, best, *each) for each in zip(teams, repeat(stop), chances, asides, strict=False)]
        for work in as_completed(works):
            work.result()


def _work(
    best: Best, moves: Sequence[Move], stop: Stop, chance: random.Random, aside: Callable[[], None] | None
) -> None:
    if aside:
        aside()
    tried = [_Tried(move) for move in moves]
    while tried and not stop.reached() and not best.is_good_enough():
        choice = chance.choice(tried) if stop.is_repeatable else _choose(tried, chance)
        began = monotonic()
        found = choice.move(best.plan, chance, stop)
        saved = 0.0 if found is None else best.offer(found)
        choice.learn(saved, monotonic() - began)
        stop.count()


def _choose(tried: list[_Tried], chance: random.Random) -> _Tried:
    """Each move gets time, not turns, by its standing: a quick one is tried more often than a slow one."""
    floor = LEAST * max(each.standing for each in tried) + 1e-9
    return chance.choices(tried, [max(each.standing, floor) / each.seconds for each in tried])[0]
