"""Who and what is taken when, while a plan is being made: find the first spot for a step, take it, give it back."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable
from dataclasses import dataclass
from itertools import product
from typing import Any

from planner.parts import Hold, Interval
from planner.search.bits import lowest, runs, stretch
from planner.search.facts import Facts, StepFacts
from planner.search.queue import Gap, Queue, Turn
from planner.search.room import FAR, Room

FIRST_LOOK = 2 * 24 * 60  # minutes looked at first; each further look is four times as long
GAPS_TRIED = 12  # gaps weighed after the first that fits, in search of a shorter changeover


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a step could stand; `gap` where its station has states."""

    step: str
    start: int
    end: int
    person: str | None
    stations: tuple[str, ...]
    changeover: int = 0
    gap: Gap | None = None


@dataclass(frozen=True, slots=True)
class Want:
    """Room for `load` at a station, in its hours only where `open`."""

    station: str
    load: int
    open: bool


class Books:
    """Everybody's free minutes and every station's room, with begun steps already in them.

    `patience`: minutes a step may rather wait for each minute of changeover that it saves.
    """

    def __init__(self, facts: Facts, patience: float = 0) -> None:
        problem = facts.problem
        self.facts = facts
        self.now = facts.now
        self.patience = patience
        self.hours = {person: hours.copy() for person, hours in facts.hours.items()}
        self.rooms = {station.id: Room(station, self.now, facts.open[station.id]) for station in problem.stations}
        self.queues: dict[str, Queue] = {}
        self.changeovers: dict[str, int] = {}
        self._undo: list[tuple[Callable[..., Any], tuple[Any, ...]]] = []
        self._enter_begun()

    @property
    def free(self) -> dict[str, int]:
        """Each person's free minutes, as bits from now on."""
        return {person: hours.bits for person, hours in self.hours.items()}

    @property
    def watched(self) -> int:
        """When anybody works, as bits from now on."""
        return self.facts.watched.bits

    def _enter_begun(self) -> None:
        states = {station.id: station.start_state for station in self.facts.problem.stations if station.has_states}
        begun = [(step, step.begun) for step in self.facts.problem.steps if step.begun]
        for step, stands in sorted(begun, key=lambda each: (each[1].start, each[1].start + each[0].minutes)):
            end = stands.start + step.minutes
            for need, name in zip(step.stations, stands.stations, strict=True):
                self.rooms[name].add(stands.start, end, need.load)
                if name in states and end > self.now:
                    states[name] = step.leaves_state or states[name]
            if stands.person is not None:
                self._take_begun_hands(stands.person, stands.start, step.segments)
        problem = self.facts.problem
        self.queues = {name: Queue(problem.station[name], state) for name, state in states.items()}

    def _take_begun_hands(self, person: str, start: int, segments: tuple[Any, ...]) -> None:
        for segment in segments:
            if segment.need == "hands":
                end = start + segment.minutes
                self.hours[person].clear(max(start - self.now, 0), max(end - self.now, 0))
            start += segment.minutes

    def first_spot(self, facts: StepFacts, lower: int, held: dict[str, int]) -> Spot | None:
        """The best spot for a step from `lower` on; `held` is the load its holds take on top."""
        best: Spot | None = None
        best_score = float("inf")
        for stations, person in product(facts.choices, facts.people):
            for spot in self._spots(facts, max(lower, facts.earliest), person, stations, held):
                score = self._score(spot)
                if score < best_score:
                    best, best_score = spot, score
        return best

    def _score(self, spot: Spot) -> float:
        spared = spot.gap.spared if spot.gap else 0
        return spot.start + self.patience * (spot.changeover - spared)

    def _spots(
        self, facts: StepFacts, lower: int, person: str | None, stations: tuple[str, ...], held: dict[str, int]
    ) -> list[Spot]:
        """The first spot with this person at these stations; where there are states, the first of several gaps."""
        wants = wants_of(facts, stations, held)
        name = next((name for name in stations if name in self.queues), None)
        if name is None:
            start = self.first_start(facts, person, wants, 0, lower, self.last_start(facts, lower, wants))
            return [] if start is None else [Spot(facts.id, start, start + facts.minutes, person, stations)]
        found: list[Spot] = []
        for gap in self.queues[name].gaps(facts, lower):
            if found and gap.opens > found[0].start + self.patience * found[0].changeover:
                break
            spot = self._spot_in(gap, facts, lower, person, stations, wants)
            if spot:
                found.append(spot)
            if len(found) > (GAPS_TRIED if self.patience else 0):
                break
        return found

    def _spot_in(
        self,
        gap: Gap,
        facts: StepFacts,
        lower: int,
        person: str | None,
        stations: tuple[str, ...],
        wants: list[Want],
    ) -> Spot | None:
        from_minute = max(gap.opens, facts.earliest, lower - gap.changeover)
        until = min(
            self.last_start(facts, from_minute, wants, changeover=gap.changeover),
            gap.closes - gap.changeover - facts.minutes,
        )
        taken = self.first_start(facts, person, wants, gap.changeover, from_minute, until)
        if taken is None:
            return None
        start = taken + gap.changeover
        return Spot(facts.id, start, start + facts.minutes, person, stations, gap.changeover, gap)

    def last_start(self, facts: StepFacts, lower: int, wants: list[Want], changeover: int = 0) -> int:
        """A minute after which no new start can turn up."""
        rooms = [self.rooms[want.station] for want in wants]
        if self.bound_by_hours(facts, wants, changeover):
            return max([self.facts.problem.latest_close, *(room.closes for room in rooms)])
        return max([lower, *(room.last_change() for room in rooms)])

    def bound_by_hours(self, facts: StepFacts, wants: list[Want], changeover: int) -> bool:
        """Whether anybody's or any station's hours limit when the step can stand."""
        worked = facts.hands or facts.watch or (changeover and facts.people != (None,))
        return bool(worked) or any(want.open and self.rooms[want.station].hours is not None for want in wants)

    def first_start(
        self, facts: StepFacts, person: str | None, wants: list[Want], changeover: int, lower: int, last: int
    ) -> int | None:
        """The first minute from `lower` to `last` at which the step, its changeover first, can be taken up."""
        look = FIRST_LOOK
        while lower <= last:
            length = min(look, last - lower + 1)
            starts = self.starts(facts, person, wants, changeover, lower, length)
            if starts:
                return lower + lowest(starts)
            lower = self._not_before(facts, person, wants, changeover, lower + length)
            look *= 4
        return None

    def _not_before(self, facts: StepFacts, person: str | None, wants: list[Want], changeover: int, lower: int) -> int:
        """`lower`, or a later minute before which hours and full places leave no start: skipping it is free."""
        problem = self.facts.problem
        lows = [lower]
        if person is not None:
            hands = _with_changeover(facts.hands, changeover)
            lows += [next_opening(problem.person[person].openings, lower + a, b - a) - a for a, b in hands]
        lows += [next_opening(problem.watched, lower + changeover + a, b - a) - changeover - a for a, b in facts.watch]
        for want in wants:
            hours = problem.station[want.station].openings if want.open else None
            if hours is not None:
                lows.append(next_opening(hours, lower, changeover + facts.minutes))
            if not self.rooms[want.station].has_room_at(lower, want.load):
                again = self.rooms[want.station].room_again(lower, want.load)
                lows.append(FAR if again is None else again)
        return max(lows)

    def starts(
        self, facts: StepFacts, person: str | None, wants: list[Want], changeover: int, lower: int, length: int
    ) -> int:
        """All minutes from `lower` on, as bits, at which the step can be taken up."""
        starts = stretch(0, length)
        span = length + changeover + facts.minutes
        if person is not None and (facts.hands or changeover):
            free = self.hours[person].between(lower - self.now, lower - self.now + span)
            for begin, end in _with_changeover(facts.hands, changeover):
                starts &= runs(free, end - begin) >> begin
        if facts.watch and starts:
            watched = self.facts.watched.between(lower - self.now, lower - self.now + span)
            for begin, end in facts.watch:
                starts &= runs(watched, end - begin) >> (begin + changeover)
        for want in wants:
            if starts:
                room = self.rooms[want.station]
                free = room.free(lower, span, want.load) if want.open else room.room(lower, span, want.load)
                starts &= runs(free, changeover + facts.minutes)
        return starts

    def take(self, spot: Spot, facts: StepFacts) -> None:
        """Enter a step at its spot; a spot is good until the books change."""
        from_minute = spot.start - spot.changeover
        for name, load in zip(spot.stations, facts.loads, strict=True):
            self.add_load(name, from_minute, spot.end, load)
        if spot.person is not None:
            for begin, end in _with_changeover(facts.hands, spot.changeover):
                self._take_hands(spot.person, from_minute + begin, from_minute + end)
        if spot.gap:
            self._take_turn(spot, facts, spot.gap)
        self._set_changeover(spot.step, spot.changeover)

    def add_load(self, name: str, start: int, end: int, load: int) -> None:
        """Take room at a station, as a hold does."""
        self.rooms[name].add(start, end, load)
        self._undo.append((self.rooms[name].add, (start, end, -load)))

    def _take_hands(self, person: str, start: int, end: int) -> None:
        minutes = (start - self.now, end - self.now)
        self.hours[person].flip(*minutes)
        self._undo.append((self.hours[person].flip, minutes))

    def _set_changeover(self, step: str, minutes: int) -> None:
        self._undo.append((self.changeovers.__setitem__, (step, self.changeovers.get(step, 0))))
        self.changeovers[step] = minutes

    def _take_turn(self, spot: Spot, facts: StepFacts, gap: Gap) -> None:
        queue = next(self.queues[name] for name in spot.stations if name in self.queues)
        turn = Turn(spot.start, spot.end, facts, spot.changeover, spot.person, spot.stations)
        queue.add(turn)
        self._undo.append((queue.remove, (turn,)))
        if gap.heir and gap.spared:
            self._shorten(gap.heir, gap.spared)

    def _shorten(self, turn: Turn, spared: int) -> None:
        """The step before has left the station nearer to what `turn` needs."""
        begins = turn.start - turn.changeover
        for name, load in zip(turn.stations, turn.facts.loads, strict=True):
            self.add_load(name, begins, begins + spared, -load)
        if turn.person is not None:
            self._take_hands(turn.person, begins, begins + spared)  # taken minutes flip back to free
        self._undo.append((setattr, (turn, "changeover", turn.changeover)))
        turn.changeover -= spared
        self._set_changeover(turn.facts.id, turn.changeover)

    def first_without_room(self, hold: Hold, start: int, end: int) -> int | None:
        """The first minute from `start` to `end` at which the hold finds no room, or None where it has room."""
        return self.rooms[hold.station].full_from(start, end, hold.load) if end > start else None

    def mark(self) -> int:
        """A place to come back to."""
        return len(self._undo)

    def back_to(self, mark: int) -> None:
        """Undo everything since `mark`."""
        while len(self._undo) > mark:
            undo, arguments = self._undo.pop()
            undo(*arguments)


def _with_changeover(hands: tuple[tuple[int, int], ...], changeover: int) -> list[tuple[int, int]]:
    """The stretches that need hands, from the start of the changeover on."""
    worked = [(begin + changeover, end + changeover) for begin, end in hands]
    return [(0, changeover), *worked] if changeover else worked


def next_opening(openings: tuple[Interval, ...], minute: int, length: int) -> int:
    """`minute`, or where the first opening that closes no sooner than `length` minutes later opens after it."""
    place = bisect_left(openings, minute + length, key=lambda opening: opening[1])
    return max(minute, openings[place][0]) if place < len(openings) else FAR


def wants_of(facts: StepFacts, stations: tuple[str, ...], held: dict[str, int]) -> list[Want]:
    """All the room a step takes: its own, in the station's hours, and what its holds take on top, at any hour."""
    own: dict[str, int] = {}
    for name, load in zip(stations, facts.loads, strict=True):
        own[name] = own.get(name, 0) + load
    wants = [Want(name, load + held.get(name, 0), True) for name, load in own.items()]
    return wants + [Want(name, load, False) for name, load in held.items() if name not in own]
