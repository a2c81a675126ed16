"""Whether neither hours nor people stand in the way of a step within some stretch of time."""

from __future__ import annotations

from planner.parts import Interval
from planner.problem import Problem, Step
from planner.search.facts import Facts, StepFacts

NOBODY = ""  # a person that can't be had


def covers(openings: tuple[Interval, ...] | None, span: Interval) -> bool:
    """Whether a calendar is open all the time; None is always."""
    return openings is None or any(opens <= span[0] and span[1] <= closes for opens, closes in openings)


def only_station(facts: Facts, step: StepFacts, span: Interval) -> str | None:
    """The one station of room for one that a step takes; None where there is a choice, or its hours matter."""
    if len(step.choices) != 1 or step.loads != (1,):
        return None
    station = facts.problem.station[step.choices[0][0]]
    return station.id if station.capacity == 1 and covers(station.openings, span) else None


def is_watched(problem: Problem, step: StepFacts, span: Interval) -> bool:
    """Whether somebody is there whenever the step may need it."""
    return not step.watch or covers(problem.watched, span)


def always_there(facts: Facts, step: StepFacts, span: Interval) -> str | None:
    """Somebody with the step's skill who is there, and free of begun work, all the time; `NOBODY` where there is none.

    None for a step that needs no skill.
    """
    if step.people == (None,):
        return None
    busy = {each.begun.person for each in facts.problem.steps if each.begun and is_running(each, facts.now)}
    for person in step.people:
        if person is not None and person not in busy and covers(facts.problem.person[person].openings, span):
            return person
    return NOBODY


def is_running(step: Step, now: int) -> bool:
    """Whether a begun step goes on beyond now."""
    return step.begun is not None and step.begun.start + step.minutes > now
