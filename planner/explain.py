"""Why a step stands where it stands: what keeps it from starting a minute earlier, as a sentence."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import UTC, timedelta

from planner.errors import PlanError
from planner.judging.calendar import lies_within, segments_at
from planner.judging.links import lost_minutes
from planner.judging.places import Use, uses_of_hands, uses_of_stations
from planner.plan import Placed, Plan
from planner.problem import Need, Problem, Step
from planner.saying import lasting, named


def why(problem: Problem, plan: Plan, step_id: str) -> str:
    """One sentence on why a step stands where it does, or is left out; raises `PlanError` for an unknown step."""
    if step_id not in problem.step:
        raise PlanError(f"{step_id} is no step of this problem")
    left_out = next((left.why for left in plan.unplaced if left.step == step_id), None)
    if left_out is not None:
        return left_out
    if step_id not in plan:
        raise PlanError(f"{step_id} is not in this plan")
    step, stands = problem.step[step_id], plan[step_id]
    if step.begun:
        return f"It began at {_at(problem, stands.start)}."
    return next(_causes(problem, plan, step, stands), "Nothing keeps it from starting earlier.")


def _causes(problem: Problem, plan: Plan, step: Step, stands: Placed) -> Iterator[str]:
    """What forbids a minute earlier, the most telling first."""
    yield from _lost_windows(problem, plan, step)
    yield from _waits(problem, plan, step, stands)
    yield from _first_minutes(problem, step, stands)
    yield from _nobody_works(problem, step, stands)
    yield from _person_is_busy(problem, plan, step, stands)
    yield from _station_is_busy(problem, plan, step, stands)
    yield from _followers(problem, plan, step, stands)


def _lost_windows(problem: Problem, plan: Plan, step: Step) -> Iterator[str]:
    for link in problem.links:
        if link.after == step.id and link.before in plan:
            minutes = lost_minutes(problem, plan, link) - link.margin
            if minutes > 0:
                before = named(problem.step[link.before])
                yield f"It comes {lasting(minutes)} after the window behind {before}; no earlier time was left."


def _waits(problem: Problem, plan: Plan, step: Step, stands: Placed) -> Iterator[str]:
    for link in problem.links:
        if link.after != step.id or link.before not in plan:
            continue
        before, name = plan[link.before].end, named(problem.step[link.before])
        for least, _ in link.waits:
            if before + least == stands.start:
                waits = f", which rests {lasting(least)}," if least else ""
                yield f"It waits for {name}{waits} until {_at(problem, stands.start)}."


def _first_minutes(problem: Problem, step: Step, stands: Placed) -> Iterator[str]:
    first = stands.start - stands.changeover
    if first == problem.now:
        yield "It is the first thing that can be done from now on."
    if first == step.release:
        yield f"It may not start before {_at(problem, first)}."


def _nobody_works(problem: Problem, step: Step, stands: Placed) -> Iterator[str]:
    openings = problem.person[stands.person].openings if stands.person else ()
    for start, end in _worked(step, stands):
        if not lies_within(start - 1, end - 1, openings):
            yield f"{stands.person} does not work in the minutes before {_at(problem, start)}."
    for segment, start, end in segments_at(step, stands.start):
        if segment.need is Need.WATCH and not lies_within(start - 1, end - 1, problem.watched):
            yield f"Nobody would be within earshot before {_at(problem, start)}."
    for name in stands.stations:
        hours = problem.station[name].openings
        if hours is not None and not lies_within(stands.start - stands.changeover - 1, stands.end - 1, hours):
            yield f"{name} is closed before {_at(problem, stands.start - stands.changeover)}."


def _worked(step: Step, stands: Placed) -> Iterator[tuple[int, int]]:
    """When the step's person has it in hand."""
    if stands.changeover:
        yield stands.start - stands.changeover, stands.start
    for segment, start, end in segments_at(step, stands.start):
        if segment.need is Need.HANDS:
            yield start, end


def _person_is_busy(problem: Problem, plan: Plan, step: Step, stands: Placed) -> Iterator[str]:
    if stands.person is None:
        return
    others = [use for use in uses_of_hands(problem, plan)[stands.person] if not use.what.endswith(step.id)]
    for start, _ in _worked(step, stands):
        for use in _ending_at(others, start):
            yield f"{stands.person} is busy with {_use(problem, use)} until {_at(problem, start)}."


def _station_is_busy(problem: Problem, plan: Plan, _: Step, stands: Placed) -> Iterator[str]:
    start = stands.start - stands.changeover
    uses = uses_of_stations(problem, plan)
    for name in stands.stations:
        for use in _ending_at(uses[name], start):
            yield f"{name} is busy with {_use(problem, use)} until {_at(problem, start)}."


def _ending_at(uses: Iterable[Use], minute: int) -> Iterator[Use]:
    return (use for use in uses if use.end == minute)


def _use(problem: Problem, use: Use) -> str:
    """What takes a person or a place, with the names of its steps for their ids."""
    return " ".join(named(problem.step[word]) if word in problem.step else word for word in use.what.split(" "))


def _followers(problem: Problem, plan: Plan, step: Step, stands: Placed) -> Iterator[str]:
    for link in problem.links:
        if link.before == step.id and link.after in plan and link.max_wait is not None:
            follows, after = plan[link.after].start, named(problem.step[link.after])
            yield (
                f"{after} must follow within {lasting(link.max_wait)} and stands at {_at(problem, follows)}, "
                f"so it cannot be earlier than the plan has it."
                if follows - stands.end == link.max_wait
                else f"It stands so that {after} at {_at(problem, follows)} falls into its window."
            )


def _at(problem: Problem, minute: int) -> str:
    """A minute as the shop's clock shows it."""
    instant = (problem.origin.astimezone(UTC) + timedelta(minutes=minute)).astimezone(problem.origin.tzinfo)
    return f"{instant:%a} {instant.day} {instant:%b} {instant:%H:%M}"
