"""Why a step is left out, in a sentence that says what is missing."""

from __future__ import annotations

from planner.problem import Interval, Problem
from planner.search.facts import Facts, StepFacts


def reasons(facts: Facts, out: set[str]) -> dict[str, str]:
    """For each step left out, one sentence for a shop owner."""
    return {step: _why(facts, out, step) for step in facts.steps if step in out}


def _why(facts: Facts, out: set[str], step: str) -> str:
    own = _of_the_step_alone(facts, facts.steps[step])
    if own:
        return own
    for link in facts.links_in[step]:
        if link.before in out:
            return f"It comes after {link.before}, for which no time is left."
    for link in facts.links_out[step]:
        if link.after in out and facts.ties(link):
            return f"{link.after} must follow it within a set time, and for that no time is left."
    return "All known hours and places are taken before it could start; enter more hours."


def _of_the_step_alone(facts: Facts, step: StepFacts) -> str | None:
    """What is missing whatever else is planned."""
    problem = facts.problem
    skill = problem.step[step.id].skill
    if skill is not None and not step.people:
        return f"Nobody can do {skill}."
    return _nobody_long_enough(problem, step, skill) or _no_room(problem, step)


def _nobody_long_enough(problem: Problem, step: StepFacts, skill: str | None) -> str | None:
    openings = [each for person in step.people if person for each in problem.person[person].openings]
    hands = max((end - start for start, end in step.hands), default=0)
    if hands and longest(openings, step.earliest) < hands:
        return f"It needs {hands} minutes of {skill} in one go, longer than anyone who can do it works from now on."
    watch = max((end - start for start, end in step.watch), default=0)
    if watch and longest(problem.watched, step.earliest) < watch:
        return f"It needs somebody within earshot for {watch} minutes, longer than anyone works from now on."
    return None


def _no_room(problem: Problem, step: StepFacts) -> str | None:
    for need in problem.step[step.id].stations:
        stations = [problem.station[name] for name in need.any_of]
        names = " or ".join(need.any_of)
        roomy = [station for station in stations if station.capacity >= need.load]
        if not roomy:
            return f"It needs room for {need.load} at {names}, which hold less."
        if all(s.openings is not None and longest(s.openings, step.earliest) < step.minutes for s in roomy):
            return f"It takes {step.minutes} minutes, longer than {names} is ever open in one go from now on."
    return None


def longest(openings: tuple[Interval, ...] | list[Interval], earliest: int) -> int:
    """The longest opening that is left from `earliest` on, in minutes; 0 where there is none."""
    return max((closes - max(opens, earliest) for opens, closes in openings), default=0)
