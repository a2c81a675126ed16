"""Whether steps that were left out could still be placed beside everything that stands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
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
from planner.problem import Interval, Need, Problem, Step

OF_THE_STEP_ALONE = (hands_in_hours, watch_in_hours, in_station_hours, changeovers_in_hours, starts_after_now)
OF_THE_WHOLE_PLAN = (links_hold, changeovers_are_worked, one_pair_of_hands, capacity_is_kept)
MOST_LOOKS = 4_000  # places looked at for steps that must stand together; a single step is looked for everywhere


def places_beside(problem: Problem, plan: Plan, group: frozenset[str]) -> list[Placed] | None:
    """Every step of the group placed beside the rest of the plan, or None where that cannot be (or takes too long)."""
    steps = _one_after_the_other(problem, group)
    return _Looking(problem, steps, MOST_LOOKS if len(steps) > 1 else None).place(plan, 0)


def _one_after_the_other(problem: Problem, group: frozenset[str]) -> list[Step]:
    """The steps of the group, each after all of them that come before it by links."""
    inner = [link for link in problem.links if {link.before, link.after} <= group]
    ordered: list[str] = []
    while len(ordered) < len(group):
        waiting = {link.after for link in inner if link.before not in ordered}
        ordered += sorted(group - waiting - set(ordered))
    return [problem.step[step] for step in ordered]


@dataclass
class _Looking:
    """A walk through the places of one step after the other, back where the next has none."""

    problem: Problem
    steps: list[Step]
    looks_left: int | None
    looks: int = field(default=0, init=False)

    def place(self, plan: Plan, number: int) -> list[Placed] | None:
        """The steps from `number` on, placed beside `plan`."""
        if number == len(self.steps):
            return []
        for stands in self._places(plan, self.steps[number]):
            rest = tuple(left for left in plan.unplaced if left.step != stands.step)
            trial = replace(plan, placed=(*plan.placed, stands), unplaced=rest)
            if any(True for rule in OF_THE_WHOLE_PLAN for _ in rule(self.problem, trial)):
                continue
            others = self.place(trial, number + 1)
            if others is not None:
                return [stands, *others]
        return None

    def _places(self, plan: Plan, step: Step) -> Iterator[Placed]:
        """Where a step would find hours, hands and room."""
        problem = self.problem
        hands, stations = uses_of_hands(problem, plan), uses_of_stations(problem, plan)
        for person, chosen, changeover in product(_people(problem, step), _choices(step), _changeovers(problem, step)):
            taken = hands.get(person or "", [])
            there = {name: stations.get(name, []) for name in chosen}
            for start in sorted(self._candidates(plan, step, [*taken, *_all(there)], changeover)):
                self.looks += 1
                if self.looks_left is not None and self.looks > self.looks_left:
                    return
                stands = Placed(step.id, start, start + step.minutes, person, chosen, changeover)
                if _fits_beside(problem, step, stands, taken, there):
                    yield stands

    def _candidates(self, plan: Plan, step: Step, uses: list[Use], changeover: int) -> set[int]:
        """Every start at which something begins to allow the step: if it has any start, it has one of these."""
        earliest = max(self.problem.now, step.release if step.release is not None else self.problem.now) + changeover
        starts = {earliest} | _starts_at(self.problem, step, uses, changeover) | self._in_time_for_others(plan, step)
        for link in self.problem.links:
            if link.after == step.id and link.before in plan:
                starts |= {plan[link.before].end + least for least, _ in link.waits}
                earliest = max(earliest, plan[link.before].end + link.waits[0][0])
        return {start for start in starts if start >= earliest}

    def _in_time_for_others(self, plan: Plan, step: Step) -> set[int]:
        """The first starts from which a step that must follow in time, and is still to be placed, finds its own."""
        followers = {other.id: other for other in self.steps if other.id not in plan}
        found: set[int] = set()
        for link in self.problem.links:
            if link.before == step.id and link.after in followers:
                after = followers[link.after]
                theirs = self._in_time_for_others(plan, after) | set().union(
                    *(
                        _starts_at(self.problem, after, _uses_for(self.problem, plan, after), changeover)
                        for changeover in _changeovers(self.problem, after)
                    )
                )
                found |= {start - most - step.minutes for start in theirs for _, most in link.waits if most is not None}
        return found


def _starts_at(problem: Problem, step: Step, uses: list[Use], changeover: int) -> set[int]:
    """The starts at which a segment, or the changeover, begins as somebody or something gets free or opens."""
    moments = {use.end for use in uses} | {opens for opens, _ in _openings(problem, step)}
    offsets = {start for _, start, _ in segments_at(step, 0)} | {-changeover}
    return {moment - offset for moment in moments for offset in offsets}


def _uses_for(problem: Problem, plan: Plan, step: Step) -> list[Use]:
    """All that takes anybody or anything the step might need."""
    hands, stations = uses_of_hands(problem, plan), uses_of_stations(problem, plan)
    people = [use for person in _people(problem, step) for use in hands.get(person or "", [])]
    return people + [use for need in step.stations for name in need.any_of for use in stations.get(name, [])]


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
