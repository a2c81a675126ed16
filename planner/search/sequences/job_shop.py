"""The workshop's problem in another pure form: a job shop, where all that counts is when the last step ends."""

from __future__ import annotations

from dataclasses import dataclass

from planner.parts import Link
from planner.search.facts import Facts, StepFacts
from planner.search.sequences.form import Form
from planner.search.sequences.unlimited import is_watched, only_station

MOST_STEPS = 3_000  # the tabu list has a row for each


@dataclass(frozen=True)
class JobShop(Form):
    """Steps that each take one machine and nobody's hands, with waits between them."""

    machines: dict[str, str]  # by step; a step without a station is a machine of its own
    ready: dict[str, int]  # what has begun before a step counted in
    links: tuple[Link, ...]


def job_shop(facts: Facts) -> JobShop | None:
    """The problem in this form; None where it has none."""
    links = tuple(link for links in facts.links_in.values() for link in links)
    if not 2 <= len(facts.steps) <= MOST_STEPS or facts.problem.holds or not _only_the_end_counts(facts):
        return None
    if any(len(link.waits) > 1 or link.max_wait is not None for link in links):
        return None
    ready = _ready(facts, links)
    span = (facts.now, max(ready.values()) + sum(_longest(facts, step.id) for step in facts.steps.values()))
    machines = {step.id: _machine(facts, step, span) for step in facts.steps.values()}
    known = {step: machine for step, machine in machines.items() if machine is not None}
    if len(known) < len(machines) or len(set(known.values())) == len(known):
        return None
    return JobShop(facts, known, ready, tuple(link for link in links if link.before in facts.steps))


def _only_the_end_counts(facts: Facts) -> bool:
    prices = facts.problem.prices
    by_order = prices.late_hour + prices.missed_hard + prices.finish_hour
    return prices.makespan_hour > 0 and not any(by_order * order.weight for order in facts.problem.orders)


def _machine(facts: Facts, step: StepFacts, span: tuple[int, int]) -> str | None:
    """The one machine that a step needs; None where it needs more than that."""
    problem = facts.problem
    if step.hands or not step.people or not is_watched(problem, step, span):
        return None
    if step.choices == ((),):
        return f"nothing, for {step.id}"
    station = only_station(facts, step, span)
    if station is None or (problem.station[station].has_states and (step.state_in or step.leaves)):
        return None
    return station


def _longest(facts: Facts, step: str) -> int:
    """A step's minutes and the waits before it."""
    return facts.steps[step].minutes + sum(link.min_wait for link in facts.links_in[step])


def _ready(facts: Facts, links: tuple[Link, ...]) -> dict[str, int]:
    """From when on each step may start, for what has begun before it or runs on its machine."""
    taken: dict[str, int] = {}
    for step in facts.problem.steps:
        for station in step.begun.stations if step.begun else ():
            taken[station] = max(taken.get(station, facts.now), facts.begun_end[step.id])
    ready = {
        step.id: max([step.earliest, *(taken.get(name, facts.now) for choice in step.choices for name in choice)])
        for step in facts.steps.values()
    }
    for link in links:
        if link.before in facts.begun_end:
            ready[link.after] = max(ready[link.after], facts.begun_end[link.before] + link.min_wait)
    return ready
