"""From a filled draft to a plan: rows, lost windows, what is left out and why, and the cost."""

from __future__ import annotations

from dataclasses import replace

from planner.costing import cost
from planner.plan import Missed, Placed, Plan, Status, Unplaced
from planner.problem import Problem
from planner.search.facts import Facts, last_wait
from planner.search.placing import Draft
from planner.search.reasons import reasons


def plan_of(draft: Draft) -> Plan:
    """The plan of a draft, its rows by start."""
    placed = [
        Placed(spot.step, spot.start, spot.end, spot.person, spot.stations, draft.books.changeovers[spot.step])
        for spot in draft.spots.values()
    ]
    return finished_plan(draft.facts, placed, draft.out)


def finished_plan(facts: Facts, placed: list[Placed], out: set[str]) -> Plan:
    """A plan of these rows and the begun steps, priced, with lost windows and what is left out."""
    problem = facts.problem
    begun = [
        Placed(step.id, step.begun.start, step.begun.start + step.minutes, step.begun.person, step.begun.stations)
        for step in problem.steps
        if step.begun
    ]
    rows = tuple(sorted([*begun, *placed], key=lambda row: (row.start, row.end, row.step)))
    starts = {row.step: row.start for row in rows}
    plan = Plan(
        status=Status.PARTIAL if out else Status.FEASIBLE,
        cost=0,
        placed=rows,
        missed=tuple(_missed(facts, starts)),
        unplaced=tuple(Unplaced(step, why) for step, why in reasons(facts, out).items()),
    )
    return priced(problem, plan)


def priced(problem: Problem, plan: Plan) -> Plan:
    """The plan with its cost worked out."""
    return replace(plan, cost=cost(problem, plan))


def _missed(facts: Facts, starts: dict[str, int]) -> list[Missed]:
    missed = []
    for links in facts.links_in.values():
        for link in links:
            most = last_wait(link)
            if not facts.is_soft(link) or most is None or link.after not in starts:
                continue
            excess = starts[link.after] - facts.begun_end[link.before] - most
            if excess > 0:
                missed.append(Missed(link.before, link.after, excess))
    return missed
