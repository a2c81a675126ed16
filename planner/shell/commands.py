"""What each command does: documents in, an answer out, an exit status back."""

from __future__ import annotations

import signal
from argparse import Namespace

from planner import documents
from planner.compare import MODEL_AT_MOST, compare
from planner.costing import cost
from planner.exchange import read_plan, read_problem, write_plan
from planner.rules import broken_rules
from planner.saying import one_line
from planner.shell.searching import Search, Terminated
from planner.shell.tables import HEAD, line

GOOD, BREAKS_RULES = 0, 1
TERMINATED = 128 + signal.SIGTERM


def run(chosen: Namespace) -> int:
    """The exit status of the command that was chosen."""
    return {"solve": _solve, "check": _check, "compare": _compare, "prepare": _prepare}[chosen.command](chosen)


def _solve(chosen: Namespace) -> int:
    documents.check_writable(chosen.output)
    problem = read_problem(chosen.problem)
    start = read_plan(chosen.from_plan) if chosen.from_plan else None
    try:
        plan = Search(problem, start, chosen).run()
    except Terminated:
        return TERMINATED
    write_plan(plan, chosen.output)
    return GOOD


def _check(chosen: Namespace) -> int:
    problem = read_problem(chosen.problem)
    plan = read_plan(chosen.plan)
    broken = broken_rules(problem, plan)
    for sentence in broken:
        print(one_line(sentence))
    if broken:
        print(f"{len(broken)} rules broken")
        return BREAKS_RULES
    print(f"keeps every rule, costs {cost(problem, plan):g}")
    return GOOD


def _prepare(_chosen: Namespace) -> int:
    from planner.search.preparing import prepare

    prepare()
    print("The search is compiled.")
    return GOOD


def _compare(chosen: Namespace) -> int:
    """The engine's plan must keep every rule; what the others break stands in the table."""
    problem = read_problem(chosen.problem)
    print(HEAD, flush=True)
    first = last = None
    for last in compare(problem, seconds=chosen.seconds, workers=chosen.workers, seed=chosen.seed):
        first = first or last
        print(line(problem, last, first), flush=True)
    if len(problem.steps) > MODEL_AT_MOST:
        print(f"One CP-SAT model is not tried above {MODEL_AT_MOST:,} steps; its row is the list rule's plan.")
    return GOOD if last is None or not last.broken else BREAKS_RULES
