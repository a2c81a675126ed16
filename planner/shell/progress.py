"""What is known of a search while it runs, told as one JSON object a line on standard error."""

from __future__ import annotations

import json
import resource
import sys
from contextlib import suppress
from dataclasses import replace
from typing import Any

from planner.costing import distance_words, late_orders
from planner.plan import Plan, Status
from planner.problem import Problem
from planner.saying import one_line

BETWEEN_LINES = 0.2  # seconds


class Progress:
    """The best plan heard of so far, with the bound on any plan."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.plan: Plan | None = None
        self.bound: float | None = None
        self.told_at = -BETWEEN_LINES

    def hear(self, seconds: float, plan: Plan, bound: float | None) -> None:
        """A better plan or bound, as the search's observer; of many at once the first and the last are told."""
        self.plan, self.bound = plan, bound
        if seconds - self.told_at >= BETWEEN_LINES:
            self.tell(seconds)

    def tell(self, seconds: float, **more: Any) -> None:
        """One line; before the first plan there is nothing to tell."""
        plan, bound = self.plan, self.bound
        if plan is None:
            return
        self.told_at = seconds
        late = late_orders(self.problem, plan)
        line = {"seconds": round(seconds, 2), "cost": plan.cost, "bound": bound, "late_orders": late}
        say(json.dumps(line | more | {"says": in_words(plan, bound, late)}))

    def tell_end(self, plan: Plan) -> None:
        """The last line: the plan that is written, and the most memory that was ever in use."""
        self.plan, self.bound = plan, plan.bound
        self.tell(plan.seconds, memory_mib=peak_memory_mib())

    def best_so_far(self, seconds: float) -> Plan | None:
        """The plan to be content with where the search does not come to its own end."""
        if self.plan is None:
            return None
        status = Status.PARTIAL if self.plan.unplaced else Status.FEASIBLE
        return replace(self.plan, status=status, bound=self.bound, seconds=seconds)


def in_words(plan: Plan, bound: float | None, late: int) -> str:
    """`cost 113.2, at most 21 % from the best possible, 3 orders late`."""
    left_out = f", {_counted(len(plan.unplaced), 'step')} left out" if plan.unplaced else ""
    return f"cost {plan.cost:,.1f}, {distance_words(plan.cost, bound)}, {_counted(late, 'order')} late{left_out}"


def _counted(count: int, what: str) -> str:
    return f"{count or 'no'} {what}{'' if count == 1 else 's'}"


def peak_memory_mib() -> int:
    """The most memory this process ever had, in MiB."""
    unit = 1 if sys.platform == "darwin" else 1024  # getrusage(2): kilobytes on Linux, bytes there
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * unit // 1024**2


def say(sentence: object) -> None:
    """One line on standard error; that nobody listens any more is no reason to end a search."""
    if sys.stderr is not None:
        with suppress(OSError, ValueError):
            print(one_line(str(sentence)), file=sys.stderr, flush=True)
