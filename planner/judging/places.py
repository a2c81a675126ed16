"""Rules about what cannot be in two places: one pair of hands a person, room at a station, what is set up on it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass

from planner.costing import horizon
from planner.judging.calendar import segments_at
from planner.plan import Placed, Plan
from planner.problem import Hold, Need, Problem


@dataclass(frozen=True, slots=True)
class Use:
    """A stretch of time in which a step takes something; `new` where the plan, not a begun step, takes it.

    A hold is its last step's, and `held_from` its first.
    """

    start: int
    end: int
    load: int
    new: bool
    step: str
    held_from: str | None = None
    changeover: bool = False

    @property
    def what(self) -> str:
        """What takes it, by the ids of its steps."""
        return self.said(str)

    def said(self, named: Callable[[str], str]) -> str:
        """What takes it; `named` is what a step is called."""
        if self.held_from is not None:
            return f"the hold from {named(self.held_from)} to {named(self.step)}"
        return f"the changeover of {named(self.step)}" if self.changeover else named(self.step)


def one_pair_of_hands(problem: Problem, plan: Plan) -> Iterator[str]:
    """A person's hands segments and changeovers never overlap, but where begun steps alone overlap."""
    for person, uses in uses_of_hands(problem, plan).items():
        last: Use | None = None
        last_new: Use | None = None
        for use in sorted(uses, key=lambda each: (each.start, each.end)):
            rival = last if use.new else last_new
            if rival and use.start < rival.end:
                yield f"{person} has {rival.what} until {rival.end} and {use.what} from {use.start}"
            last = use if last is None or use.end > last.end else last
            if use.new and (last_new is None or use.end > last_new.end):
                last_new = use


def uses_of_hands(problem: Problem, plan: Plan) -> dict[str, list[Use]]:
    """When each person's hands are taken, by whom they belong to."""
    uses: dict[str, list[Use]] = defaultdict(list)
    for placed in plan.placed:
        if placed.person is None:
            continue
        step = problem.step[placed.step]
        new = step.begun is None
        if placed.changeover:
            start = placed.start - placed.changeover
            uses[placed.person].append(Use(start, placed.start, 1, new, step.id, changeover=True))
        for segment, start, end in segments_at(step, placed.start):
            if segment.need is Need.HANDS:
                uses[placed.person].append(Use(start, end, 1, new, step.id))
    return uses


def capacity_is_kept(problem: Problem, plan: Plan, to_come: Collection[str] = ()) -> Iterator[str]:
    """At no instant do steps, holds and changeovers exceed a station's capacity, but where begun steps alone do."""
    uses = uses_of_stations(problem, plan, to_come)
    for name, station_uses in uses.items():
        capacity = problem.station[name].capacity
        full = first_overload(station_uses, capacity)
        if full is not None:
            there = [use for use in station_uses if use.start <= full < use.end]
            what = ", ".join(use.what for use in there)
            yield f"{name} holds {capacity} but has {sum(use.load for use in there)} at minute {full}: {what}"


def first_overload(uses: list[Use], capacity: int) -> int | None:
    """The first minute at which the loads exceed the capacity and new work is among them."""
    changes: dict[int, list[int]] = defaultdict(lambda: [0, 0])
    for use in uses:
        for minute, sign in ((use.start, 1), (use.end, -1)):
            changes[minute][0] += sign * use.load
            changes[minute][1] += sign * use.new
    load = new = 0
    for minute in sorted(changes):
        load += changes[minute][0]
        new += changes[minute][1]
        if load > capacity and new > 0:
            return minute
    return None


def uses_of_stations(problem: Problem, plan: Plan, to_come: Collection[str] = ()) -> dict[str, list[Use]]:
    """What takes room at each station, changeovers and holds included, but those that last until a step to come."""
    uses: dict[str, list[Use]] = defaultdict(list)
    for placed in plan.placed:
        step = problem.step[placed.step]
        for need, name in zip(step.stations, placed.stations, strict=True):
            start = placed.start - placed.changeover
            uses[name].append(Use(start, placed.end, need.load, step.begun is None, step.id))
    for hold in problem.holds:
        use = None if hold.last in to_come else _hold_use(problem, plan, hold)
        if use:
            uses[hold.station].append(use)
    return uses


def _hold_use(problem: Problem, plan: Plan, hold: Hold) -> Use | None:
    """From the start of the first step until the end of the last, or to the horizon where the last is left out.

    What a begun step holds is its own doing: it counts as begun until the hold ends.
    """
    if hold.first not in plan:
        return None
    start = plan[hold.first].start
    end = plan[hold.last].end if hold.last in plan else horizon(problem, plan)
    new = problem.step[hold.first].begun is None
    return Use(start, end, hold.load, new, hold.last, held_from=hold.first) if end > start else None


def changeovers_are_worked(problem: Problem, plan: Plan) -> Iterator[str]:
    """Before each step its station is changed over from its state for the table's minutes, else not at all."""
    wanted: dict[str, int] = defaultdict(int)
    for name, queue in queues(problem, plan).items():
        for placed, minutes in _changeovers(problem, name, queue):
            wanted[placed.step] += minutes
    for placed in plan.placed:
        if problem.step[placed.step].begun is None and placed.changeover != wanted[placed.step]:
            yield f"{placed.step} needs a changeover of {wanted[placed.step]} minutes, not {placed.changeover}"


def queues(problem: Problem, plan: Plan) -> dict[str, list[Placed]]:
    """What is done at each station with room for one, by start; without what was over before now."""
    queues: dict[str, list[Placed]] = defaultdict(list)
    for placed in sorted(plan.placed, key=lambda each: (each.start, each.end)):
        if problem.step[placed.step].begun and placed.end <= problem.now:
            continue
        for name in set(placed.stations):
            if problem.station[name].capacity == 1:
                queues[name].append(placed)
    return queues


def _changeovers(problem: Problem, name: str, queue: list[Placed]) -> Iterator[tuple[Placed, int]]:
    station = problem.station[name]
    state = station.start_state
    for placed in queue:
        step = problem.step[placed.step]
        if not step.begun:
            yield placed, station.changeover_minutes(state, step.state_in)
        state = step.leaves_state or state
