"""Why an order is late: the chain from its last step back to the first cause, and a small change that would help."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from planner.errors import PlanError
from planner.explain import Cause, Kind, causes
from planner.helping import cheapest_help
from planner.judging.places import uses_of_hands
from planner.plan import Plan
from planner.problem import Order, Problem
from planner.saying import HOUR, at, lasting, named

WHOLE_CHAIN = 8  # links of a chain that are told one by one
FIRST, LAST = 4, 3  # of a longer one
DAY = 24 * HOUR


@dataclass(frozen=True, slots=True)
class Lateness:
    """How late an order is, what each step of it waits for (the last step first), and what would help."""

    headline: str
    chain: tuple[str, ...] = ()
    help: str = ""

    @property
    def sentences(self) -> tuple[str, ...]:
        return (self.headline, *self.chain, *([self.help] if self.help else []))


def why_late(problem: Problem, plan: Plan, order_id: str) -> Lateness:
    """Why an order is complete after its due, in sentences; raises `PlanError` for an unknown order.

    What would help is tried: each small change is planned by the list rule beside the problem as it is.
    """
    order = next((order for order in problem.orders if order.id == order_id), None)
    if order is None:
        raise PlanError(f"{order_id} is no order of this problem")
    left_out = {left.step: left.why for left in plan.unplaced}
    for step in order.steps:
        if step in left_out:
            return Lateness(f"{order_id} cannot be completed: {left_out[step]}")
    finish = max(plan[step].end for step in order.steps)
    if finish <= order.due:
        return Lateness(f"{order_id} is in time.")
    links = list(chain_of(problem, plan, order))
    return Lateness(
        _headline(problem, order, finish),
        tuple(_told([f"{named(problem.step[step])}: {cause.words}" for step, cause in links])),
        cheapest_help(problem, plan, order, [cause for _, cause in links]),
    )


def _headline(problem: Problem, order: Order, finish: int) -> str:
    due, done = at(problem.origin, order.due), at(problem.origin, finish)
    return f"{order.id} is {lasting(finish - order.due)} late: it was due {due} and is complete {done}."


def chain_of(problem: Problem, plan: Plan, order: Order) -> Iterator[tuple[str, Cause]]:
    """From the step that ends last back through what each step waits for, with the cause of each."""
    step: str | None = max(order.steps, key=lambda each: plan[each].end)
    seen: set[str] = set()
    while step is not None and step not in seen:
        seen.add(step)
        if problem.step[step].begun:
            yield step, Cause(Kind.NOW, f"It began at {at(problem.origin, plan[step].start)}.", plan[step].start)
            return
        cause = _telling(problem, plan, step, seen)
        yield step, cause
        step = cause.step


def _telling(problem: Problem, plan: Plan, step: str, seen: set[str]) -> Cause:
    """The first cause that leads on; where all lead back, what was ready last before the step stands in for it."""
    found = list(causes(problem, plan, step))
    fresh = next((cause for cause in found if cause.step not in seen), None)
    if fresh is not None:
        return _with_what_came_before(problem, plan, step, fresh)
    ready, before = max((each for each in _ready(problem, plan, step) if each[1] not in seen), default=(0, ""))
    if not before or ready <= plan[step].start - DAY:
        return replace(found[0], step=None)
    words = f"{found[0].words} {named(problem.step[before])} was ready for it {at(problem.origin, ready)}."
    return replace(found[0], words=words, step=before)


def _with_what_came_before(problem: Problem, plan: Plan, step_id: str, cause: Cause) -> Cause:
    """Where somebody's break or night comes before a step: what kept it from being done before that."""
    if cause.kind is not Kind.HOURS or cause.who not in problem.person:
        return cause
    step = problem.step[step_id]
    closed = max((closes for _, closes in problem.person[cause.who].openings if closes <= cause.until), default=None)
    ready, waited_for = max(_ready(problem, plan, step_id), default=(problem.now, ""))
    if closed is None or closed <= problem.now:
        return cause
    said = cause.words.rstrip(".")
    if ready > closed - step.minutes:
        words = (
            f"{said}, and {named(problem.step[waited_for])} was not ready for it sooner." if waited_for else cause.words
        )
        return replace(cause, words=words, step=waited_for or None)
    for use in uses_of_hands(problem, plan)[cause.who]:
        if use.step != step_id and closed - step.minutes < use.end <= closed:
            words = f"{said}, and is busy with {named(problem.step[use.step])} before the break."
            return replace(cause, words=words, step=use.step)
    return cause


def _ready(problem: Problem, plan: Plan, step_id: str) -> Iterator[tuple[int, str]]:
    """When each step that comes before allows this one."""
    for link in problem.links:
        if link.after == step_id and link.before in plan:
            yield plan[link.before].end + link.waits[0][0], link.before


def _told(sentences: list[str]) -> Iterator[str]:
    """All of a short chain, the two ends of a long one."""
    if len(sentences) <= WHOLE_CHAIN:
        yield from sentences
        return
    yield from sentences[:FIRST]
    yield f"Then {len(sentences) - FIRST - LAST} more steps, each waiting for the one named next, back to:"
    yield from sentences[-LAST:]
