"""The engine beside simpler planners: the same problem, seconds and workers for each, every plan judged."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from planner.costing import is_proved
from planner.plan import Plan, Status
from planner.problem import Problem
from planner.rules import broken_rules
from planner.search.stop import Stop
from planner.solve import quick_plan, solve

MODEL_AT_MOST = 3_000  # steps


@dataclass(frozen=True, slots=True)
class Effort:
    """What each planner is given."""

    seconds: float
    workers: int
    seed: int


@dataclass(frozen=True, slots=True)
class Row:
    """One planner's plan, the seconds it took, and the rules it breaks (none, unless the planner is at fault)."""

    planner: str
    plan: Plan
    seconds: float
    broken: tuple[str, ...]


def compare(problem: Problem, *, seconds: float, workers: int, seed: int = 0) -> Iterator[Row]:
    """Each planner's plan in turn: three list rules, one CP-SAT model of the whole, the engine.

    The first, the plain rule by due dates, is what costs are compared with; the list rules take what they take.
    """
    from planner.search.cpsat import model  # noqa: F401 - loaded before any clock runs

    effort = Effort(seconds, workers, seed)
    for name, planner in PLANNERS.items():
        clock = Stop(seconds)
        plan = planner(problem, effort)
        gone = clock.seconds_gone()
        yield Row(name, plan, gone, tuple(broken_rules(problem, plan)))


def by_due_dates(problem: Problem, _: Effort) -> Plan:
    """One pass of the list rule, the order that is due soonest first; no step waits to save a changeover."""
    from planner.search.listing import ListRule
    from planner.search.pressing import Pressing, by_due

    rule = ListRule(problem)
    return rule.plan(by_due(Pressing(rule.facts)))


def first_come_first_served(problem: Problem, _: Effort) -> Plan:
    """One pass of the list rule, orders as they stand in the document; steps of no order last."""
    from planner.search.listing import ListRule
    from planner.search.pressing import Pressing, as_they_came

    rule = ListRule(problem)
    return rule.plan(as_they_came(Pressing(rule.facts)))


def best_list_rule(problem: Problem, _: Effort) -> Plan:
    """What the engine has at once."""
    return quick_plan(problem)


def one_model(problem: Problem, effort: Effort) -> Plan:
    """The whole problem as one CP-SAT model with the plan by due dates as its hint; that plan where it finds none.

    Above `MODEL_AT_MOST` steps it is not even tried: stating the model alone takes minutes.
    """
    from planner.search.bound import bound_with_something_out
    from planner.search.cpsat.model import think
    from planner.search.cpsat.part import is_exact, whole
    from planner.search.listing import ListRule
    from planner.search.pressing import Pressing, by_due

    stop = Stop(effort.seconds)
    rule = ListRule(problem)
    hint = rule.plan(by_due(Pressing(rule.facts)))
    if len(problem.steps) > MODEL_AT_MOST:
        return hint
    left_out = {left.step for left in hint.unplaced} - rule.hopeless
    thought = think(
        whole(rule.facts, hint, left_out),
        seconds=effort.seconds,
        workers=effort.workers,
        seed=effort.seed,
        stop=stop,
    )
    if thought.plan is None:
        return hint
    best = min(hint, thought.plan, key=lambda plan: plan.cost)
    if best.unplaced or not is_exact(rule.facts):
        return best
    return _with_bound(best, min(thought.bound, bound_with_something_out(rule.facts)))


def _with_bound(plan: Plan, bound: float) -> Plan:
    """A plan that leaves nothing out, with a bound on every plan."""
    status = Status.OPTIMAL if is_proved(plan.cost, bound) else Status.FEASIBLE
    return replace(plan, bound=min(bound, plan.cost), status=status)


def the_engine(problem: Problem, effort: Effort) -> Plan:
    """`planner.solve`, as `python -m planner solve` runs it."""
    return solve(problem, seconds=effort.seconds, workers=effort.workers, seed=effort.seed)


PLANNERS: dict[str, Callable[[Problem, Effort], Plan]] = {
    "list rule by due dates": by_due_dates,
    "first come, first served": first_come_first_served,
    "list rule, the best of several": best_list_rule,
    "one CP-SAT model of the whole": one_model,
    "the engine": the_engine,
}
