"""Rules about what is left out: everything that needs it is too, and nothing is that could still be done."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product

from planner.judging.calendar import (
    changeovers_in_hours,
    hands_in_hours,
    in_station_hours,
    segments_at,
    starts_after_now,
    watch_in_hours,
)
from planner.judging.links import links_hold
from planner.judging.places import (
    Use,
    capacity_is_kept,
    changeovers_are_worked,
    first_overload,
    one_pair_of_hands,
    uses_of_hands,
    uses_of_stations,
)
from planner.plan import Placed, Plan, Status
from planner.problem import Interval, Link, Need, Problem, Step

OF_THE_STEP_ALONE = (hands_in_hours, watch_in_hours, in_station_hours, changeovers_in_hours, starts_after_now)
OF_THE_WHOLE_PLAN = (links_hold, changeovers_are_worked, one_pair_of_hands, capacity_is_kept)


def what_follows_is_left_out(problem: Problem, plan: Plan) -> Iterator[str]:
    """Every step after one that is left out is left out too, and so is one it had to follow within a window."""
    out = {left.step for left in plan.unplaced}
    for link in problem.links:
        if problem.step[link.after].begun:
            continue
        if link.before in out and link.after not in out:
            yield f"{link.after} is placed though {link.before}, which comes before it, is left out"
        if link.after in out and link.before not in out and ties_before(problem, link):
            yield f"{link.before} is placed though {link.after}, which must follow in time, is left out"


def ties_before(problem: Problem, link: Link) -> bool:
    """Whether the earlier step cannot be done without the later one: it has not begun and every wait has an end."""
    return problem.step[link.before].begun is None and all(most is not None for _, most in link.waits)


def left_out_only_for_want_of_a_start(problem: Problem, plan: Plan) -> Iterator[str]:
    """A step that no other one drags along is left out only where it has no start beside the rest of the plan."""
    for step in _left_out_for_themselves(problem, plan):
        stands = _any_start(problem, plan, step)
        if stands:
            yield f"{step.id} is left out though it could start at {stands.start}"


def _left_out_for_themselves(problem: Problem, plan: Plan) -> Iterator[Step]:
    out = {left.step for left in plan.unplaced}
    dragged = {link.after for link in problem.links if link.before in out}
    dragged |= {link.before for link in problem.links if link.after in out and ties_before(problem, link)}
    for step in problem.steps:
        if step.id in out and step.id not in dragged and not step.begun:
            yield step


def _any_start(problem: Problem, plan: Plan, step: Step) -> Placed | None:
    """The step placed somewhere beside the rest of the plan, or None where that cannot be."""
    hands, stations = uses_of_hands(problem, plan), uses_of_stations(problem, plan)
    rest = tuple(left for left in plan.unplaced if left.step != step.id)
    for person, chosen, changeover in product(_people(problem, step), _choices(step), _changeovers(problem, step)):
        taken = hands.get(person or "", [])
        there = {name: stations.get(name, []) for name in chosen}
        for start in sorted(_candidates(problem, plan, step, [*taken, *_all(there)], changeover)):
            stands = Placed(step.id, start, start + step.minutes, person, chosen, changeover)
            if not _fits_beside(problem, step, stands, taken, there):
                continue
            trial = replace(plan, placed=(*plan.placed, stands), unplaced=rest)
            if not any(True for rule in OF_THE_WHOLE_PLAN for _ in rule(problem, trial)):
                return stands
    return None


def _people(problem: Problem, step: Step) -> list[str | None]:
    if step.skill is None:
        return [None]
    return [person.id for person in problem.people if step.skill in person.skills]


def _choices(step: Step) -> list[tuple[str, ...]]:
    return list(product(*(need.any_of for need in step.stations)))


def _changeovers(problem: Problem, step: Step) -> list[int]:
    """The minutes a changeover before the step can take at all."""
    minutes = {0}
    for need in step.stations:
        for name in need.any_of:
            station = problem.station[name]
            minutes |= {station.changeover_default, *station.changeovers.values()}
    return sorted(minutes) if step.state_in is not None else [0]


def _all(there: dict[str, list[Use]]) -> list[Use]:
    return [use for uses in there.values() for use in uses]


def _candidates(problem: Problem, plan: Plan, step: Step, uses: list[Use], changeover: int) -> set[int]:
    """Every start at which something begins to allow the step: if it has any start, it has one of these."""
    earliest = max(problem.now, step.release if step.release is not None else problem.now) + changeover
    moments = {use.end for use in uses} | {opens for opens, _ in _openings(problem, step)}
    offsets = {start for _, start, _ in segments_at(step, 0)} | {-changeover}
    starts = {earliest} | {moment - offset for moment in moments for offset in offsets}
    for link in problem.links:
        if link.after == step.id and link.before in plan:
            starts |= {plan[link.before].end + least for least, _ in link.waits}
            earliest = max(earliest, plan[link.before].end + link.waits[0][0])
    return {start for start in starts if start >= earliest}


def _openings(problem: Problem, step: Step) -> Iterator[Interval]:
    yield from problem.watched
    for person in problem.people:
        yield from person.openings
    for need in step.stations:
        for name in need.any_of:
            yield from problem.station[name].openings or ()


def _fits_beside(problem: Problem, step: Step, stands: Placed, taken: list[Use], there: dict[str, list[Use]]) -> bool:
    """Whether hours, hands and room allow the step as it stands; the quick look before the whole plan is judged."""
    alone = Plan(status=Status.FEASIBLE, cost=0, placed=(stands,))
    if any(True for rule in OF_THE_STEP_ALONE for _ in rule(problem, alone)):
        return False
    start = stands.start - stands.changeover
    worked = [(start, stands.start)] if stands.changeover else []
    worked += [(a, b) for segment, a, b in segments_at(step, stands.start) if segment.need is Need.HANDS]
    if any(use.start < end and begin < use.end for use in taken for begin, end in worked):
        return False
    for need, name in zip(step.stations, stands.stations, strict=True):
        uses = [use for use in there[name] if use.start < stands.end and start < use.end]
        room = Use(start, stands.end, need.load, True, step.id)
        if first_overload([*uses, room], problem.station[name].capacity) is not None:
            return False
    return True
