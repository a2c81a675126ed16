"""Why a step is left out, in a sentence that says what is missing."""

from __future__ import annotations

from bisect import bisect_left
from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from planner.problem import Interval, Link, StationNeed, Step
from planner.saying import at, can_do, lasting, named
from planner.search.bits import intervals
from planner.search.books import Books, wants_of
from planner.search.facts import Facts, StepFacts, last_wait
from planner.search.room import FAR

MORE_HOURS = "enter more hours."


def reasons(facts: Facts, out: set[str]) -> dict[str, str]:
    """For each step left out, one sentence for an owner: its own reason, or that of the step that drags it along."""
    left = [step for step in facts.steps if step in out]
    said = {step: why for step in left if (why := _of_the_step_alone(facts, facts.steps[step]))}
    _hand_on(facts, out, said)
    for step in sorted(left, key=facts.order.__getitem__):  # the first of those for which no time is left
        if step not in said:
            said[step] = _no_time_left(facts, out, step)
            _hand_on(facts, out, said)
    return {step: said[step] for step in left}


def _hand_on(facts: Facts, out: set[str], said: dict[str, str]) -> None:
    """Whoever is dragged along gets the reason of the nearest that has one."""
    waiting = deque(said)
    while waiting:
        step = waiting.popleft()
        for other in facts.dragged_by(step):
            if other in out and other not in said:
                said[other] = said[step]
                waiting.append(other)


def _no_time_left(facts: Facts, out: set[str], step: str) -> str:
    name = named(facts.problem.step[step])
    for link in facts.links_in[step]:
        if not _may_fit(facts, link):
            before = named(facts.problem.step[link.before])
            return f"{name} must start {_window(link)}after {before}, and no known hours fit that; {MORE_HOURS}"
    for link in facts.links_out[step]:
        most = last_wait(link)
        if link.after in out and facts.ties(link) and most is not None:
            after = named(facts.problem.step[link.after])
            return f"{after} must follow {name} within {lasting(most)}, and no time is left that fits both."
    return f"All known hours and places are taken before {name} could start; {MORE_HOURS}"


def _may_fit(facts: Facts, link: Link) -> bool:
    """Whether some wait of a link leads from an end of the one step to a start of the other, with nobody else there."""
    begun = facts.begun_end.get(link.before)
    minutes = facts.problem.step[link.before].minutes
    ends = (
        [(a + minutes, b + minutes) for a, b in _starts_alone(facts, link.before)] if begun is None else [(begun,) * 2]
    )
    starts = _starts_alone(facts, link.after)
    waits = [*link.waits, (last_wait(link) or 0, None)] if facts.is_soft(link) else link.waits
    for (first, last), (least, most) in product(ends, waits):
        place = bisect_left(starts, first + least, key=lambda each: each[1])
        if place < len(starts) and (most is None or starts[place][0] <= last + most):
            return True
    return False


def _window(link: Link) -> str:
    """When a step must start, counted from the end of another, with a blank to go on from: `within 1 hour `."""
    return " or ".join(_wait(*wait) for wait in link.waits) + " " if link.waits != ((0, None),) else ""


def _wait(least: int, most: int | None) -> str:
    if most is None:
        return f"{lasting(least)} or more"
    return f"{lasting(least)} to {lasting(most)}" if least else f"within {lasting(most)}"


def _starts_alone(facts: Facts, step: str) -> list[Interval]:
    """The minutes, from the first to the last of each run, at which a step could start if nothing else were planned."""
    if step not in facts.starts_alone:
        facts.starts_alone[step] = list(_runs_of_starts(facts, facts.steps[step]))
    return facts.starts_alone[step]


def _runs_of_starts(facts: Facts, step: StepFacts) -> Iterator[Interval]:
    books, found = Books(facts), 0
    for stations, person in product(step.choices, step.people):
        wants = wants_of(step, stations, {})
        if not books.bound_by_hours(step, wants, 0):
            yield step.earliest, FAR
            return
        last = books.last_start(step, step.earliest, wants)
        if last >= step.earliest:
            found |= books.starts(step, person, wants, 0, step.earliest, last - step.earliest + 1)
    yield from intervals(found, step.earliest)


def _of_the_step_alone(facts: Facts, step: StepFacts) -> str | None:
    """What is missing whatever else is planned."""
    row = facts.problem.step[step.id]
    if "impossible" in row.about:
        return str(row.about["impossible"])
    if row.skill is not None and not step.people:
        return f"Nobody can {can_do(row.skill)}."
    its = _Missing(facts, step, row)
    return its.hands() or its.watch() or its.room() or its.common_hours()


@dataclass(frozen=True, slots=True)
class _Missing:
    """What there is too little of for one step, as a sentence; None where there is enough."""

    facts: Facts
    step: StepFacts
    row: Step

    def hands(self) -> str | None:
        problem, minutes = self.facts.problem, _longest(self.step.hands)
        openings = [each for person in self.step.people if person for each in problem.person[person].openings]
        left = longest(openings, self.step.earliest)
        if left >= minutes:
            return None
        if not left:
            return self._no_hours_of(self._whose)
        return f"{named(self.row)} needs {lasting(minutes)} in one go, longer than {self._whose} works {self._since}."

    def watch(self) -> str | None:
        minutes, left = _longest(self.step.watch), longest(self.facts.problem.watched, self.step.earliest)
        if left >= minutes:
            return None
        if not left:
            return self._no_hours_of("anybody within earshot")
        what = f"somebody within earshot for {lasting(minutes)}"
        return f"{named(self.row)} needs {what}, longer than anyone works {self._since}."

    def room(self) -> str | None:
        """Room enough at a station, for what the step holds too, and the station open long enough."""
        holds = [hold for hold in self.facts.holds_of[self.step.id] if hold.first == self.step.id]
        held = [StationNeed((hold.station,), hold.load) for hold in holds]
        return next(filter(None, [*map(self._room_at, self.row.stations), *map(self._too_much_at, held)]), None)

    def _too_much_at(self, need: StationNeed) -> str | None:
        if any(self.facts.problem.station[name].capacity >= need.load for name in need.any_of):
            return None
        return f"{named(self.row)} needs room for {need.load} at {' or '.join(need.any_of)}, more than there is."

    def _room_at(self, need: StationNeed) -> str | None:
        if too_much := self._too_much_at(need):
            return too_much
        stations = [self.facts.problem.station[name] for name in need.any_of]
        names, name = " or ".join(need.any_of), named(self.row)
        roomy = [station for station in stations if station.capacity >= need.load]
        left = max(FAR if s.openings is None else longest(s.openings, self.step.earliest) for s in roomy)
        if not left and self._waits:
            return self._no_hours_of(names)
        if not left:
            return f"{names} is not open at any time from now on, and {name} needs it."
        if left < self.step.minutes:
            return f"{name} takes {lasting(self.step.minutes)}, longer than {names} is open in one go {self._since}."
        return None

    def common_hours(self) -> str | None:
        """Hours in which all that the step needs is there at once."""
        if _starts_alone(self.facts, self.step.id):
            return None
        who = [self._whose] if self.step.hands else []
        who += ["anybody within earshot"] if self.step.watch else []
        all_of = " and ".join([*who, *(" or ".join(need.any_of) for need in self.row.stations)])
        return f"{named(self.row)} takes {lasting(self.step.minutes)}, and no hours of {all_of} fit that; {MORE_HOURS}"

    def _no_hours_of(self, whose: str) -> str:
        name = named(self.row)
        if not self._waits:
            return f"{name} needs hours of {whose}, and none are known from now on; {MORE_HOURS}"
        return (
            f"{name} may not start before {self._earliest}, when no hours of {whose} are known any more; {MORE_HOURS}"
        )

    @property
    def _whose(self) -> str:
        return f"anybody who can {can_do(str(self.row.skill))}"

    @property
    def _waits(self) -> bool:
        return self.step.earliest > self.facts.now

    @property
    def _earliest(self) -> str:
        return at(self.facts.problem.origin, self.step.earliest)

    @property
    def _since(self) -> str:
        return f"from {self._earliest} on" if self._waits else "from now on"


def _longest(stretches: tuple[Interval, ...]) -> int:
    return max((end - start for start, end in stretches), default=0)


def longest(openings: Sequence[Interval], earliest: int) -> int:
    """The longest opening that is left from `earliest` on, in minutes; 0 where there is none."""
    return max((max(0, closes - max(opens, earliest)) for opens, closes in openings), default=0)
