"""What hours, hands, stations and set-ups leave beside a plan: the minutes at which one more step could start."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import cache, reduce
from itertools import product

from planner.judging.calendar import segments_at
from planner.judging.places import Use, queues, uses_of_hands, uses_of_stations
from planner.judging.spans import FOREVER, Spans, both, either, starts_within, without
from planner.plan import Placed, Plan
from planner.problem import Interval, Need, Problem, Station, Step

ALWAYS: Spans = ((-FOREVER, FOREVER),)


@dataclass(frozen=True, slots=True)
class Spot:
    """Who does a step, where, and after how many minutes of changeover."""

    person: str | None
    stations: tuple[str, ...]
    changeover: int


def spots(problem: Problem, step: Step) -> Iterator[Spot]:
    """Whoever may do a step, wherever, after whatever changeover; there may be very many."""
    for person, changeover in _workings(problem, step):
        for stations in product(*(need.any_of for need in step.stations)):  # makes them one by one
            yield Spot(person, stations, changeover)


def _workings(problem: Problem, step: Step) -> Iterator[tuple[str | None, int]]:
    able = [person.id for person in problem.people if step.skill in person.skills]
    yield from product([None] if step.skill is None else able, _changeovers(problem, step))


def _changeovers(problem: Problem, step: Step) -> list[int]:
    """The minutes a changeover before the step can take at all."""
    minutes = {0}
    for name in {name for need in step.stations for name in need.any_of}:
        station = problem.station[name]
        minutes |= {station.changeover_default, *station.changeovers.values()}
    return sorted(minutes) if step.state_in is not None else [0]


class Room:
    """What is left beside a plan; holds that last until a step to come are left aside."""

    def __init__(self, problem: Problem, plan: Plan, to_come: Collection[str]) -> None:
        self.problem = problem
        self.hands = uses_of_hands(problem, plan)
        self.stations = uses_of_stations(problem, plan, to_come)
        self.queues = queues(problem, plan)
        self._free_hands = cache(self._hands_of)
        self._free_station = cache(self._room_at)

    def starts(self, step: Step, spot: Spot) -> Spans:
        """The starts at which a step finds all it needs at a spot."""
        needs = zip(step.stations, spot.stations, strict=True)
        where = [self._at(step, need.load, name, spot.changeover) for need, name in needs]
        as_set_up = self._as_set_up(step, spot)
        return reduce(both, where, both(as_set_up, self._with(step, spot.person, spot.changeover)))

    def starts_anywhere(self, step: Step) -> Spans:
        """No start that is not among these finds all it needs, whoever does the step and wherever."""
        found: list[Interval] = []
        for person, changeover in _workings(self.problem, step):
            starts = self._with(step, person, changeover)
            for need in step.stations:
                places = either(span for name in need.any_of for span in self._at(step, need.load, name, changeover))
                starts = both(starts, places)
            found += starts
        return either(found)

    def _with(self, step: Step, person: str | None, changeover: int) -> Spans:
        """The starts at which hours and hands allow the step."""
        earliest = max(self.problem.now, step.release if step.release is not None else self.problem.now)
        return reduce(both, self._needed_of_people(step, person, changeover), ((earliest + changeover, FOREVER),))

    def _needed_of_people(self, step: Step, person: str | None, changeover: int) -> Iterator[Spans]:
        for segment, begin, end in segments_at(step, 0):
            if segment.need is Need.WATCH:
                yield starts_within(self.problem.watched, begin, end)
            elif segment.need is Need.HANDS and person is not None:
                yield starts_within(self._free_hands(person), begin, end)
        if changeover and person is not None:
            yield starts_within(self._free_hands(person), -changeover, 0)

    def _hands_of(self, person: str) -> list[Interval]:
        busy = sorted((use.start, use.end) for use in self.hands.get(person, []))
        return list(without(self.problem.person[person].openings, busy))

    def _at(self, step: Step, load: int, name: str, changeover: int) -> Spans:
        return starts_within(self._free_station(name, load), -changeover, step.minutes)

    def _room_at(self, name: str, load: int) -> list[Interval]:
        """When a station is open and has room for a load."""
        station = self.problem.station[name]
        if load > station.capacity:
            return []
        full = _with_more_than(station.capacity - load, self.stations.get(name, []))
        return list(without(ALWAYS if station.openings is None else station.openings, full))

    def _as_set_up(self, step: Step, spot: Spot) -> Spans:
        """Where that very changeover is needed, and all that comes after still needs the one it has."""
        stations = (self.problem.station[name] for name in spot.stations)
        station = next((station for station in stations if station.has_states), None)  # there is no more than one
        if station is None:
            return ALWAYS if spot.changeover == 0 else ()
        return either(_turns(self.problem, station, self.queues.get(station.id, []), step, spot.changeover))


def _turns(problem: Problem, station: Station, queue: list[Placed], step: Step, changeover: int) -> Iterator[Interval]:
    """Between which of the steps done at a station the step could be, if hours and hands were all that mattered."""
    state, since = station.start_state, -FOREVER
    for place in range(len(queue) + 1):
        until = queue[place].start if place < len(queue) else FOREVER
        is_so = station.changeover_minutes(state, step.state_in) == changeover
        if is_so and _leaves_as_it_is(problem, station, queue[place:], state, step.leaves_state or state):
            yield since, until
        if place < len(queue):
            state, since = problem.step[queue[place].step].leaves_state or state, queue[place].end


def _leaves_as_it_is(
    problem: Problem, station: Station, queue: list[Placed], state: str | None, instead: str | None
) -> bool:
    """Whether the steps that come next need the same changeovers when the station stands otherwise before them."""
    for placed in queue:
        after = problem.step[placed.step]
        before = station.changeover_minutes(state, after.state_in)
        if not after.begun and before != station.changeover_minutes(instead, after.state_in):
            return False
        if after.leaves_state is not None:
            return True
    return True


def _with_more_than(most: int, uses: list[Use]) -> Iterator[Interval]:
    """The half-open stretches in which the loads exceed `most`."""
    changes = sorted(change for use in uses for change in ((use.start, use.load), (use.end, -use.load)))
    load, since = 0, None
    for minute, more in changes:
        load += more
        if load > most and since is None:
            since = minute
        elif load <= most and since is not None:
            if since < minute:
                yield since, minute
            since = None
