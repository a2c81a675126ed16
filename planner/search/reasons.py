"""Why a step is left out, in a sentence that says what is missing."""

from __future__ import annotations

from collections import deque

from planner.problem import Interval, Problem, Step
from planner.saying import can_do, lasting, named
from planner.search.facts import Facts, StepFacts, last_wait


def reasons(facts: Facts, out: set[str]) -> dict[str, str]:
    """For each step left out, one sentence for an owner: its own reason, or that of the step that drags it along."""
    left = [step for step in facts.steps if step in out]
    said = {step: why for step in left if (why := _of_the_step_alone(facts, facts.steps[step]))}
    _hand_on(facts, out, said)
    for step in sorted(left, key=facts.order.__getitem__):  # the first of those for which no time is left
        if step not in said:
            said[step] = _no_time_left(facts, out, step)
            _hand_on(facts, out, said)
    return {step: said[step] for step in left}


def _hand_on(facts: Facts, out: set[str], said: dict[str, str]) -> None:
    """Whoever is dragged along gets the reason of the nearest that has one."""
    waiting = deque(said)
    while waiting:
        step = waiting.popleft()
        for other in facts.dragged_by(step):
            if other in out and other not in said:
                said[other] = said[step]
                waiting.append(other)


def _no_time_left(facts: Facts, out: set[str], step: str) -> str:
    name = named(facts.problem.step[step])
    for link in facts.links_out[step]:
        most = last_wait(link)
        if link.after in out and facts.ties(link) and most is not None:
            after = named(facts.problem.step[link.after])
            return f"{after} must follow {name} within {lasting(most)}, and no hours are left that fit both."
    return f"All known hours and places are taken before {name} could start; enter more hours."


def _of_the_step_alone(facts: Facts, step: StepFacts) -> str | None:
    """What is missing whatever else is planned."""
    problem, row = facts.problem, facts.problem.step[step.id]
    if "impossible" in row.about:
        return str(row.about["impossible"])
    if row.skill is not None and not step.people:
        return f"Nobody can {can_do(row.skill)}."
    return _nobody_long_enough(problem, step, row) or _no_room(problem, step, row)


def _nobody_long_enough(problem: Problem, step: StepFacts, row: Step) -> str | None:
    openings = [each for person in step.people if person for each in problem.person[person].openings]
    hands = max((end - start for start, end in step.hands), default=0)
    if hands and longest(openings, step.earliest) < hands:
        whose = f"anybody who can {can_do(str(row.skill))}"
        return f"{named(row)} needs {lasting(hands)} in one go, longer than {whose} works from now on."
    watch = max((end - start for start, end in step.watch), default=0)
    if watch and longest(problem.watched, step.earliest) < watch:
        return f"{named(row)} needs somebody within earshot for {lasting(watch)}, longer than anyone works from now on."
    return None


def _no_room(problem: Problem, step: StepFacts, row: Step) -> str | None:
    for need in row.stations:
        stations = [problem.station[name] for name in need.any_of]
        names = " or ".join(need.any_of)
        roomy = [station for station in stations if station.capacity >= need.load]
        if not roomy:
            return f"{named(row)} needs room for {need.load} at {names}, more than there is."
        left = [None if s.openings is None else longest(s.openings, step.earliest) for s in roomy]
        if not any(left) and None not in left:
            return f"{names} is not open at any time from now on, and {named(row)} needs it."
        if all(minutes is not None and minutes < step.minutes for minutes in left):
            return f"{named(row)} takes {lasting(step.minutes)}, longer than {names} is open in one go from now on."
    return None


def longest(openings: tuple[Interval, ...] | list[Interval], earliest: int) -> int:
    """The longest opening that is left from `earliest` on, in minutes; 0 where there is none."""
    return max((closes - max(opens, earliest) for opens, closes in openings), default=0)
