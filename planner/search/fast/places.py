"""Calendars and stations as rows of bits and loads, with what has begun in them."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from planner.parts import Interval
from planner.search.books import Books
from planner.search.fast.numbers import Numbers, Row
from planner.search.fast.table import NONE
from planner.search.room import Room


class Places:
    """Rows of bits (people first, then stations that one load fills, then hours) and of loads, minute by minute."""

    def __init__(self, numbers: Numbers, books: Books, horizon: int) -> None:
        self.numbers, self.books, self.horizon = numbers, books, horizon
        self.now = numbers.facts.now
        self.bits = [self._of_number(books.free[person.id]) for person in numbers.problem.people]
        self.loads: list[np.ndarray] = []
        self.stations = [self._station(name) for name in numbers.station]
        self.watched = self._add(self._of_intervals(numbers.problem.watched))

    def _station(self, name: str) -> Row:
        station = self.numbers.problem.station[name]
        row = profile = open_row = NONE
        loads = self._loads(self.books.rooms[name])
        if station.capacity == 1 and not self._is_held(name):
            row = self._add(self._of_minutes(loads == 0))
        else:
            profile = len(self.loads)
            self.loads.append(loads)
        if station.openings is not None:
            open_row = self._add(self._of_intervals(station.openings))
        return {"capacity": station.capacity, "row": row, "profile": profile, "open_row": open_row}

    def _is_held(self, name: str) -> bool:
        """Whether a hold that has begun is given back and taken again here, over turns that stand: loads can tell."""
        begun = self.numbers.facts.begun_end
        return any(hold.station == name and hold.first in begun for hold in self.numbers.problem.holds)

    def _add(self, bits: np.ndarray) -> int:
        self.bits.append(bits)
        return len(self.bits) - 1

    def _loads(self, room: Room) -> np.ndarray:
        """How much of a station is taken in each minute from now to the horizon."""
        loads = np.zeros(self.horizon, dtype=np.int32)
        for start, end, load in room.taken_between(self.now, self.now + self.horizon):
            loads[start - self.now : end - self.now] = load
        return loads

    def _of_minutes(self, free: np.ndarray) -> np.ndarray:
        minutes = np.zeros((self.horizon + 63) // 64 * 64, dtype=np.uint8)
        minutes[: self.horizon] = free
        return np.packbits(minutes, bitorder="little").view(np.uint64)

    def _of_number(self, bits: int) -> np.ndarray:
        """The bits of a whole number, none set from the horizon on."""
        known = bits & ((1 << self.horizon) - 1)
        return np.frombuffer(known.to_bytes((self.horizon + 63) // 64 * 8, "little"), dtype=np.uint64)

    def _of_intervals(self, intervals: Iterable[Interval]) -> np.ndarray:
        free = np.zeros(self.horizon, dtype=np.uint8)
        for opens, closes in intervals:
            free[max(opens - self.now, 0) : max(closes - self.now, 0)] = 1
        return self._of_minutes(free)

    def all_bits(self) -> np.ndarray:
        return np.array(self.bits, dtype=np.uint64)

    def all_loads(self) -> np.ndarray:
        return np.array(self.loads, dtype=np.int32).reshape((-1, self.horizon))

    def changeovers(self) -> np.ndarray:
        """Minutes by queue, state before and state wanted."""
        states = self.numbers.states
        minutes = np.zeros((len(self.numbers.queues), max(1, len(states) - 1), max(1, len(states) - 1)), dtype=np.int64)
        for queue, station in enumerate(self.numbers.queues):
            for one, row in states.items():
                for other, column in states.items():
                    if one is not None and other is not None:
                        minutes[queue, row, column] = station.changeover_minutes(one, other)
        return minutes

    def queues(self) -> list[Row]:
        """Each station with states, with what is set up on it once all that has begun is over."""
        states = self.numbers.states
        return [{"state": states[self.books.queues[station.id].state]} for station in self.numbers.queues]
