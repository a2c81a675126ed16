"""Why a step stands where it stands: what keeps it from starting a minute earlier, as a sentence."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from planner.errors import PlanError
from planner.judging.calendar import lies_within, segments_at
from planner.judging.links import lost_minutes
from planner.judging.places import Use, first_overload, uses_of_hands, uses_of_stations
from planner.plan import Placed, Plan
from planner.problem import Link, Need, Problem, Step
from planner.saying import at, lasting, named


class Kind(StrEnum):
    """What a step waits for."""

    LINK = "link"
    WINDOW = "window"
    NOW = "now"
    RELEASE = "release"
    HOURS = "hours"
    PERSON = "person"
    STATION = "station"
    STATE = "state"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class Cause:
    """What keeps a step where it is: in words, and the step, person or station it waits for, until when."""

    kind: Kind
    words: str
    until: int
    step: str | None = None
    who: str | None = None


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
        return f"It began at {at(problem.origin, stands.start)}."
    return next(causes(problem, plan, step_id)).words


def causes(problem: Problem, plan: Plan, step_id: str) -> Iterator[Cause]:
    """All that forbids a placed step, not begun, a minute earlier, the most telling first; never nothing at all."""
    step, stands = problem.step[step_id], plan[step_id]
    found = False
    for cause in _causes(_Standing(problem, plan, step, stands)):
        found = True
        yield cause
    if not found:
        yield Cause(Kind.NOTHING, "Nothing keeps it from starting earlier.", stands.start)


@dataclass(frozen=True, slots=True)
class _Standing:
    """A step as it stands in a plan."""

    problem: Problem
    plan: Plan
    step: Step
    row: Placed

    @property
    def first(self) -> int:
        """Its first minute, the changeover's where there is one."""
        return self.row.start - self.row.changeover

    def at(self, minute: int) -> str:
        return at(self.problem.origin, minute)

    def called(self, step_id: str) -> str:
        return named(self.problem.step[step_id])

    def state(self) -> str:
        """` and is then changed over …`, where that comes first."""
        if not self.row.changeover:
            return ""
        return f", then comes the changeover to {self.step.state_in} of {lasting(self.row.changeover)}"


def _causes(its: _Standing) -> Iterator[Cause]:
    yield from _lost_windows(its)
    yield from _waits(its)
    yield from _first_minutes(its)
    yield from _nobody_works(its)
    yield from _person_is_busy(its)
    yield from _station_is_busy(its)
    yield from _held_room_is_taken(its)
    yield from _followers(its)
    yield from _set_up_anyway(its)


def _lost_windows(its: _Standing) -> Iterator[Cause]:
    for link in its.problem.links:
        if link.after == its.step.id and link.before in its.plan:
            minutes = lost_minutes(its.problem, its.plan, link) - link.margin
            if minutes > 0:
                words = f"It comes {lasting(minutes)} after the window behind {its.called(link.before)}; "
                yield Cause(Kind.WINDOW, words + "no earlier time was left.", its.row.start)


def _waits(its: _Standing) -> Iterator[Cause]:
    start = its.row.start
    for link in its.problem.links:
        if link.after != its.step.id or link.before not in its.plan:
            continue
        for least, _ in link.waits:
            if its.plan[link.before].end + least == start:
                rests = f", which rests {lasting(least)}," if least else ""
                words = f"It waits for {its.called(link.before)}{rests} until {its.at(start)}."
                yield Cause(Kind.LINK, words, start, step=link.before)


def _first_minutes(its: _Standing) -> Iterator[Cause]:
    if its.first == its.problem.now:
        yield Cause(Kind.NOW, "It is the first thing that can be done from now on.", its.first)
    if its.first == its.step.release:
        yield Cause(Kind.RELEASE, f"It may not start before {its.at(its.first)}.", its.first)


def _nobody_works(its: _Standing) -> Iterator[Cause]:
    problem, row = its.problem, its.row
    openings = problem.person[row.person].openings if row.person else ()
    for start, end in _worked(its):
        if not lies_within(start - 1, end - 1, openings):
            words = f"{row.person} does not work in the minutes before {its.at(start)}."
            yield Cause(Kind.HOURS, words, start, who=row.person)
    for segment, start, end in segments_at(its.step, row.start):
        if segment.need is Need.WATCH and not lies_within(start - 1, end - 1, problem.watched):
            yield Cause(Kind.HOURS, f"Nobody would be within earshot before {its.at(start)}.", start)
    for name in row.stations:
        hours = problem.station[name].openings
        if hours is not None and not lies_within(its.first - 1, row.end - 1, hours):
            yield Cause(Kind.HOURS, f"{name} is closed before {its.at(its.first)}.", its.first, who=name)


def _worked(its: _Standing) -> Iterator[tuple[int, int]]:
    """When the step's person has it in hand."""
    if its.row.changeover:
        yield its.first, its.row.start
    for segment, start, end in segments_at(its.step, its.row.start):
        if segment.need is Need.HANDS:
            yield start, end


def _person_is_busy(its: _Standing) -> Iterator[Cause]:
    person = its.row.person
    if person is None:
        return
    others = [use for use in uses_of_hands(its.problem, its.plan)[person] if use.step != its.step.id]
    for start, _ in _worked(its):
        for use in _ending_at(others, start):
            words = f"{person} is busy with {use.said(its.called)} until {its.at(start)}{its.state()}."
            yield Cause(Kind.PERSON, words, start, step=use.step, who=person)


def _station_is_busy(its: _Standing) -> Iterator[Cause]:
    needs = zip(its.step.stations, its.row.stations, strict=True)
    for need, name in needs:
        for use in _in_the_way(its, name, need.load):
            words = f"{name} is busy with {use.said(its.called)} until {its.at(its.first)}{its.state()}."
            yield Cause(Kind.STATION, words, its.first, step=use.step, who=name)


def _held_room_is_taken(its: _Standing) -> Iterator[Cause]:
    for hold in its.problem.holds:
        if hold.first == its.step.id:
            for use in _in_the_way(its, hold.station, hold.load):
                words = f"{hold.station} has no room for it beside {use.said(its.called)} until {its.at(its.first)}."
                yield Cause(Kind.STATION, words, its.first, step=use.step, who=hold.station)


def _in_the_way(its: _Standing, station: str, load: int) -> Iterator[Use]:
    """What ends at a station just as the step begins, where both together would be too much."""
    first = its.first
    others = [use for use in uses_of_stations(its.problem, its.plan)[station] if use.step != its.step.id]
    before = [use for use in others if use.start < first <= use.end]
    room = Use(first - 1, first, load, True, its.step.id)
    if first_overload([*before, room], its.problem.station[station].capacity) is not None:
        yield from _ending_at(before, first)


def _ending_at(uses: Iterable[Use], minute: int) -> Iterator[Use]:
    return (use for use in uses if use.end == minute)


def _followers(its: _Standing) -> Iterator[Cause]:
    for link in its.problem.links:
        if link.before == its.step.id and link.after in its.plan and link.max_wait is not None:
            yield Cause(Kind.WINDOW, _into_its_window(its, link), its.row.start, step=link.after)


def _into_its_window(its: _Standing, link: Link) -> str:
    follows, after = its.plan[link.after].start, its.called(link.after)
    if link.max_wait is not None and follows - its.row.end == link.max_wait:
        return (
            f"{after} must follow within {lasting(link.max_wait)} and stands at {its.at(follows)}, "
            f"so it cannot be earlier than the plan has it."
        )
    return f"It stands so that {after} at {its.at(follows)} falls into its window."


def _set_up_anyway(its: _Standing) -> Iterator[Cause]:
    """It could start earlier, but not without a changeover of its own."""
    state = its.step.state_in
    if state is None or its.row.changeover:
        return
    for name in its.row.stations:
        before = [row for row in its.plan.placed if name in row.stations and row.end <= its.row.start]
        last = max(before, key=lambda row: row.end, default=None)
        if last and its.problem.station[name].has_states and its.problem.step[last.step].leaves_state == state:
            words = f"It waits until {name} is set up for {state} anyway, after {its.called(last.step)}."
            yield Cause(Kind.STATE, words, last.end, step=last.step, who=name)
