"""The plan exchange from a shell: `python -m planner solve problem.json -o plan.json` and `... check`."""

from __future__ import annotations

import argparse
import json
import os
import signal
import sys
from threading import Event, Thread
from types import FrameType

from planner.errors import PlannerError
from planner.exchange import read_plan, read_problem, write_plan
from planner.plan import Plan
from planner.problem import Problem
from planner.rules import broken_rules, cost
from planner.search.stop import Stop
from planner.solve import solve

STOPPED = 128 + signal.SIGTERM


def main(arguments: list[str] | None = None) -> int:
    """0 for a good answer, 1 for a plan that breaks rules, 2 with one line for documents that cannot be read."""
    chosen = _parser().parse_args(arguments)
    try:
        return int(chosen.run(chosen))
    except PlannerError as error:
        print(error, file=sys.stderr)
        return 2
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 2


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m planner", description="Plan a workshop's steps, or check a plan.")
    commands = parser.add_subparsers(required=True, metavar="solve|check")
    solving = commands.add_parser("solve", help="read a problem, write a plan")
    solving.add_argument("problem", help="the problem document, - for standard input")
    solving.add_argument("-o", "--output", default="-", help="where the plan is written, - for standard output")
    solving.add_argument("--seconds", type=float, default=10, help="how long to search; 0 for the list rule alone")
    solving.add_argument("--workers", type=int, default=2, help="how many threads may search")
    solving.add_argument("--start", help="the plan in force, as a first plan")
    solving.add_argument("--seed", type=int, default=0, help="the same seed gives the same choices")
    solving.set_defaults(run=_solve)
    checking = commands.add_parser("check", help="say which rules a plan breaks and what it costs")
    checking.add_argument("problem")
    checking.add_argument("plan")
    checking.set_defaults(run=_check)
    return parser


def _check(chosen: argparse.Namespace) -> int:
    problem = read_problem(chosen.problem)
    plan = read_plan(chosen.plan)
    broken = broken_rules(problem, plan)
    for sentence in broken:
        print(sentence)
    if broken:
        print(f"{len(broken)} rules broken")
        return 1
    print(f"keeps every rule, costs {cost(problem, plan):g}")
    return 0


def _solve(chosen: argparse.Namespace) -> int:
    problem = read_problem(chosen.problem)
    start = read_plan(chosen.start) if chosen.start else None
    plan = Search(problem, start, chosen).run()
    if plan is None:
        return STOPPED
    write_plan(plan, chosen.output)
    return 0


class Search:
    """The search in a thread of its own, so that signals are heard and progress is told every second."""

    def __init__(self, problem: Problem, start: Plan | None, chosen: argparse.Namespace) -> None:
        self.problem, self.start, self.chosen = problem, start, chosen
        self.stop = Stop(chosen.seconds)
        self.finished = Event()
        self.cancelled = False
        self.cost: float | None = None
        self.bound: float | None = None
        self.plan: Plan | None = None
        self.error: BaseException | None = None

    def run(self) -> Plan | None:
        """The plan, or None where a signal ended the search."""
        signal.signal(signal.SIGTERM, self._cancel)
        Thread(target=self._search, daemon=True).start()
        while not self.finished.wait(1):
            self._tell(self.stop.seconds_gone())
        signal.signal(signal.SIGTERM, signal.SIG_IGN)
        if self.error:
            raise self.error
        return None if self.cancelled else self.plan

    def _cancel(self, _signal: int, _frame: FrameType | None) -> None:
        self.cancelled = True
        Thread(target=self.stop.now).start()

    def _search(self) -> None:
        try:
            self.plan = solve(
                self.problem,
                seconds=self.chosen.seconds,
                workers=self.chosen.workers,
                start=self.start,
                observer=self._hear,
                seed=self.chosen.seed,
                stop=self.stop,
            )
        except BaseException as error:
            self.error = error
        finally:
            self.finished.set()

    def _hear(self, seconds: float, cost_now: float, bound: float | None) -> None:
        self.cost, self.bound = cost_now, bound
        self._tell(seconds)

    def _tell(self, seconds: float) -> None:
        """One JSON object a line; before the first plan there is nothing to tell."""
        if self.cost is not None:
            line = {"seconds": round(seconds, 2), "cost": self.cost, "bound": self.bound}
            print(json.dumps(line), file=sys.stderr, flush=True)


if __name__ == "__main__":
    sys.exit(main())
