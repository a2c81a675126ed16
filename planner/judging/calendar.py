"""Rules about hours: hands within one opening of their person, watching within anybody's, stations within theirs."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence

from planner.plan import Placed, Plan
from planner.problem import Interval, Need, Problem, Segment, Step


def to_be_judged(problem: Problem, plan: Plan) -> Iterator[tuple[Step, Placed]]:
    """The placed steps that had not begun: only these are held to hours, `now` and windows."""
    for placed in plan.placed:
        step = problem.step[placed.step]
        if not step.begun:
            yield step, placed


def segments_at(step: Step, start: int) -> Iterator[tuple[Segment, int, int]]:
    """Each segment with its start and end when the step starts at `start`."""
    for segment in step.segments:
        yield segment, start, start + segment.minutes
        start += segment.minutes


def lies_within(start: int, end: int, openings: Sequence[Interval]) -> bool:
    """Whether the half-open [start, end] lies wholly inside one of the openings (sorted, none touching)."""
    place = bisect_right(openings, start, key=lambda opening: opening[0]) - 1
    return place >= 0 and end <= openings[place][1]


def hands_in_hours(problem: Problem, plan: Plan) -> Iterator[str]:
    """Each hands segment lies wholly inside one opening of the step's person."""
    for step, placed in to_be_judged(problem, plan):
        for segment, start, end in segments_at(step, placed.start):
            if segment.need is not Need.HANDS or placed.person is None:
                continue
            if not lies_within(start, end, problem.person[placed.person].openings):
                yield f"{step.id} needs {placed.person}'s hands from {start} to {end}, outside their hours"


def watch_in_hours(problem: Problem, plan: Plan) -> Iterator[str]:
    """Each minute of a watch segment lies in the hours of some person."""
    for step, placed in to_be_judged(problem, plan):
        for segment, start, end in segments_at(step, placed.start):
            if segment.need is Need.WATCH and not lies_within(start, end, problem.watched):
                yield f"{step.id} runs from {start} to {end} with nobody within earshot all the time"


def in_station_hours(problem: Problem, plan: Plan) -> Iterator[str]:
    """A step, its changeover included, lies inside one opening of each of its stations."""
    for step, placed in to_be_judged(problem, plan):
        for name in placed.stations:
            openings = problem.station[name].openings
            start = placed.start - placed.changeover
            if openings is not None and not lies_within(start, placed.end, openings):
                yield f"{step.id} is at {name} from {start} to {placed.end}, outside its hours"


def changeovers_in_hours(problem: Problem, plan: Plan) -> Iterator[str]:
    """A changeover lies inside one opening of the step's person."""
    for step, placed in to_be_judged(problem, plan):
        if not placed.changeover or placed.person is None:
            continue
        start = placed.start - placed.changeover
        if not lies_within(start, placed.start, problem.person[placed.person].openings):
            yield f"{step.id}: {placed.person} changes over from {start} to {placed.start}, outside their hours"


def starts_after_now(problem: Problem, plan: Plan) -> Iterator[str]:
    """What has not begun starts, its changeover included, at or after `now` and its release."""
    for step, placed in to_be_judged(problem, plan):
        start = placed.start - placed.changeover
        if start < problem.now:
            yield f"{step.id} starts at {start}, before now ({problem.now})"
        if step.release is not None and start < step.release:
            yield f"{step.id} starts at {start}, before its release at {step.release}"
