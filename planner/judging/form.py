"""Whether the rows of a plan are about this problem at all: each step once, with what it can have."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from planner.plan import Placed, Plan
from planner.problem import Problem, Step


def each_step_stands_once(problem: Problem, plan: Plan) -> Iterator[str]:
    """Each step of the problem is either placed or left out, once."""
    named = Counter([placed.step for placed in plan.placed] + [left.step for left in plan.unplaced])
    for step_id, times in named.items():
        if step_id not in problem.step:
            yield f"{step_id} is no step of this problem"
        elif times > 1:
            yield f"{step_id} stands {times} times in the plan"
    for step in problem.steps:
        if step.id not in named:
            yield f"{step.id} is neither placed nor said to be left out"


def steps_last_as_long_as_they_do(problem: Problem, plan: Plan) -> Iterator[str]:
    """A step ends when the last of its segments has been worked without a gap."""
    for placed in plan.placed:
        step = problem.step.get(placed.step)
        if step and placed.end - placed.start != step.minutes:
            yield f"{placed.step} takes {step.minutes} minutes, not {placed.end - placed.start}"
        if placed.changeover < 0:
            yield f"{placed.step}: a changeover cannot take {placed.changeover} minutes"


def people_fit(problem: Problem, plan: Plan) -> Iterator[str]:
    """A step with a skill has one person who has it; a step without one has nobody."""
    for placed in plan.placed:
        step = problem.step.get(placed.step)
        if step and not step.begun:
            yield from _person_fits(problem, step, placed)


def _person_fits(problem: Problem, step: Step, placed: Placed) -> Iterator[str]:
    person = problem.person.get(placed.person or "")
    if step.skill is None:
        if placed.person is not None:
            yield f"{step.id} needs nobody's skill but is given to {placed.person}"
    elif person is None:
        yield f"{step.id} needs somebody who can {step.skill}, not {placed.person}"
    elif step.skill not in person.skills:
        yield f"{placed.person} cannot {step.skill}, which {step.id} needs"


def stations_fit(problem: Problem, plan: Plan) -> Iterator[str]:
    """A step takes one station out of each of its choices, in their order."""
    for placed in plan.placed:
        step = problem.step.get(placed.step)
        if not step or step.begun:
            continue
        if len(placed.stations) != len(step.stations):
            yield f"{step.id} takes {len(step.stations)} stations, not {len(placed.stations)}"
            continue
        for need, station in zip(step.stations, placed.stations, strict=True):
            if station not in need.any_of:
                yield f"{step.id} cannot be done at {station}, only at {' or '.join(need.any_of)}"


def begun_steps_stay(problem: Problem, plan: Plan) -> Iterator[str]:
    """A step already begun keeps its start, person and stations, and needs no changeover."""
    for step in problem.steps:
        if not step.begun:
            continue
        if step.id not in plan:
            yield f"{step.id} has begun and cannot be left out"
            continue
        stands = plan[step.id]
        if (stands.start, stands.person, stands.stations) != (step.begun.start, step.begun.person, step.begun.stations):
            yield f"{step.id} has begun at minute {step.begun.start} and is moved"
        if stands.changeover:
            yield f"{step.id} has begun and needs no changeover"
