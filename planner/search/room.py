"""How much of a station is taken when."""

from __future__ import annotations

from bisect import bisect_left, bisect_right

from planner.problem import Station
from planner.search.bits import Calendar, stretch

FAR = 1 << 40  # minutes: after everything; what is held to the horizon is held to here


class Room:
    """A station's load as steps over time: `used[i]` from `times[i]` up to `times[i + 1]`."""

    def __init__(self, station: Station, now: int, hours: Calendar | None = None) -> None:
        """`hours`: when the station is open, from now on; None for always."""
        self.capacity = station.capacity
        self.now = now
        self.hours = hours
        self.closes = station.openings[-1][1] if station.openings else now
        self.times = [-FAR]
        self.used = [0]

    @property
    def open(self) -> int | None:
        """When the station is open, as bits from now on; None for always."""
        return None if self.hours is None else self.hours.bits

    def add(self, start: int, end: int, load: int) -> None:
        """Take `load` more (or less, if negative) from `start` up to `end`."""
        if end <= start:
            return
        first, last = self._cut(start), self._cut(end)
        for place in range(first, last):
            self.used[place] += load
        self._mend(last)
        self._mend(first)

    def _cut(self, minute: int) -> int:
        place = bisect_left(self.times, minute)
        if place == len(self.times) or self.times[place] != minute:
            self.times.insert(place, minute)
            self.used.insert(place, self.used[place - 1])
        return place

    def _mend(self, place: int) -> None:
        """Forget a cut that changes nothing."""
        if self.used[place] == self.used[place - 1]:
            del self.times[place], self.used[place]

    def free(self, start: int, length: int, load: int) -> int:
        """The minutes from `start` on, as bits, in which the station is open and has room for `load` more."""
        free = self.room(start, length, load)
        start -= self.now
        return free if self.hours is None else free & self.hours.between(start, start + length)

    def room(self, start: int, length: int, load: int) -> int:
        """The minutes with room for `load` more, open or not: a hold lasts through the night."""
        end = start + length
        taken = 0
        place = bisect_right(self.times, start) - 1
        while place < len(self.times) and self.times[place] < end:
            if self.used[place] + load > self.capacity:
                until = self.times[place + 1] if place + 1 < len(self.times) else end
                taken |= stretch(max(self.times[place], start) - start, min(until, end) - start)
            place += 1
        return stretch(0, length) & ~taken

    def full_from(self, start: int, end: int, load: int) -> int | None:
        """The first minute from `start` up to `end` without room for `load` more; None where all have it."""
        for place in range(bisect_right(self.times, start) - 1, bisect_left(self.times, end)):
            if self.used[place] + load > self.capacity:
                return max(self.times[place], start)
        return None

    def has_room_at(self, minute: int, load: int) -> bool:
        return self.used[bisect_right(self.times, minute) - 1] + load <= self.capacity

    def room_again(self, minute: int, load: int) -> int | None:
        """The first minute after `minute` from which there is room for `load` more; None where there never is."""
        for place in range(bisect_right(self.times, minute), len(self.times)):
            if self.used[place] + load <= self.capacity:
                return self.times[place]
        return None

    def last_change(self) -> int:
        """The last minute at which anything changes, but for what is held to the horizon."""
        return next((minute for minute in reversed(self.times) if minute < FAR), self.now)

    def taken_between(self, start: int, end: int) -> list[tuple[int, int, int]]:
        """The stretches within [start, end] in which something is taken, with how much."""
        until = [*self.times[1:], FAR]
        return [
            (max(a, start), min(b, end), load)
            for a, b, load in zip(self.times, until, self.used, strict=True)
            if load > 0 and a < end and b > start
        ]
