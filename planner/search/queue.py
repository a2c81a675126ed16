"""What is set up on a station with states: its steps in order, and the gaps a further step could go into."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from dataclasses import dataclass

from planner.problem import Station
from planner.search.facts import StepFacts
from planner.search.room import FAR


@dataclass(slots=True)
class Turn:
    """A step in a station's order, with the changeover worked before it."""

    start: int
    end: int
    facts: StepFacts
    changeover: int
    person: str | None
    stations: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Gap:
    """A stretch between two turns; `changeover` before a step put there, `spared` minutes of the next changeover."""

    opens: int
    closes: int
    changeover: int
    spared: int
    heir: Turn | None


class Queue:
    """The turns at one station, by start, from the state it is in at the beginning."""

    def __init__(self, station: Station, state: str | None) -> None:
        self.station = station
        self.state = state
        self.turns: list[Turn] = []

    def gaps(self, facts: StepFacts, lower: int) -> Iterator[Gap]:
        """Where the step could go from `lower` on, in order, without making any changeover longer."""
        place = max(0, bisect_right(self.turns, lower, key=lambda turn: turn.start) - 1)
        state = self._state_before(place)
        for at in range(place, len(self.turns) + 1):
            gap = self._gap(facts, at, state)
            if gap:
                yield gap
            if at < len(self.turns):
                state = self.turns[at].facts.leaves or state

    def _gap(self, facts: StepFacts, at: int, state: str | None) -> Gap | None:
        opens = self.turns[at - 1].end if at else -FAR
        closes = self.turns[at].start - self.turns[at].changeover if at < len(self.turns) else FAR
        changeover = self.station.changeover_minutes(state, facts.state_in)
        if closes - opens < changeover + facts.minutes:
            return None
        heir = self._heir(at)
        if heir is None:
            return Gap(opens, closes, changeover, 0, None)
        wanted = self.station.changeover_minutes(facts.leaves or state, heir.facts.state_in)
        return Gap(opens, closes, changeover, heir.changeover - wanted, heir) if wanted <= heir.changeover else None

    def _state_before(self, place: int) -> str | None:
        for turn in reversed(self.turns[:place]):
            if turn.facts.leaves is not None:
                return turn.facts.leaves
        return self.state

    def _heir(self, at: int) -> Turn | None:
        """The turn whose changeover depends on the state left just before `at`."""
        for turn in self.turns[at:]:
            if turn.facts.state_in is not None:
                return turn
            if turn.facts.leaves is not None:
                return None
        return None

    def add(self, turn: Turn) -> None:
        self.turns.insert(bisect_left(self.turns, turn.start, key=lambda each: each.start), turn)

    def remove(self, turn: Turn) -> None:
        del self.turns[bisect_left(self.turns, turn.start, key=lambda each: each.start)]
