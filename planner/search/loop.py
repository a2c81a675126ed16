"""Large neighbourhood search (Shaw 1998) with moves chosen by what they have brought (Ropke and Pisinger 2006).

Everything that varies is handed in: the moves, when to stop, chance, who judges and who is told.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from time import monotonic
from typing import Protocol

from planner.plan import Plan
from planner.search.stop import Stop

MEMORY = 0.8  # of a move's standing kept each time it is tried
LEAST = 0.2  # of the best standing that even the worst move keeps
WORTH_KEEPING = 1e-6  # of cost that a better plan must save


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
    plan: Plan,
    moves: Sequence[Move],
    *,
    stop: Stop,
    chance: random.Random,
    keeps_rules: Callable[[Plan], bool],
    tell: Callable[[Plan], None],
    good_enough: Callable[[Plan], bool],
) -> Plan:
    """The best plan met until the stop, or until one is good enough; only plans that keep the rules are kept."""
    tried = [_Tried(move) for move in moves]
    while not stop.reached() and not good_enough(plan):
        choice = _choose(tried, chance)
        began = monotonic()
        found = choice.move(plan, chance, stop)
        better = found is not None and found.cost < plan.cost - WORTH_KEEPING and keeps_rules(found)
        choice.learn(plan.cost - found.cost if found and better else 0.0, monotonic() - began)
        if found and better:
            plan = found
            tell(plan)
    return plan


def _choose(tried: list[_Tried], chance: random.Random) -> _Tried:
    """Each move gets time, not turns, by its standing: a quick one is tried more often than a slow one."""
    floor = LEAST * max(each.standing for each in tried) + 1e-9
    return chance.choices(tried, [max(each.standing, floor) / each.seconds for each in tried])[0]
