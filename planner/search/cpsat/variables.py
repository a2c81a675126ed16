"""What is to be decided for each free step: its start, who and where, and which changeover comes before it."""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import product
from typing import TypeVar

from ortools.sat.python import cp_model, cp_model_helper

from planner.search.bits import intervals
from planner.search.books import Books, wants_of
from planner.search.cpsat.part import Part
from planner.search.facts import StepFacts
from planner.search.stop import Stop

Literal = cp_model_helper.Literal
Minute = cp_model.LinearExpr | int
Choice = TypeVar("Choice")
Starts = dict[tuple[str | None, tuple[str, ...], int], list[tuple[int, int]]]


class NoRoomError(Exception):
    """A free step has no start in the span: there is nothing to decide."""


class OutOfTimeError(Exception):
    """The time was over before all was stated."""


@dataclass
class Deciding:
    """The decisions about one step. `who` and `where` map a choice to the literal that it is made."""

    facts: StepFacts
    start: cp_model.IntVar
    who: dict[str | None, Literal]
    where: dict[tuple[str, ...], Literal]
    changes: dict[int, Literal]
    taken: Minute = 0
    length: Minute = 0
    domain: cp_model.Domain = field(default_factory=cp_model.Domain)

    @property
    def end(self) -> Minute:
        return self.start + self.facts.minutes

    def at(self, station: str) -> list[tuple[Literal, int]]:
        """The literals of the choices that take this station, with the load they put on it."""
        found = []
        for stations, literal in self.where.items():
            load = sum(load for name, load in zip(stations, self.facts.loads, strict=True) if name == station)
            if load:
                found.append((literal, load))
        return found


class Variables:
    """A CP-SAT model with the decisions about every free step of a part."""

    def __init__(self, part: Part, stop: Stop) -> None:
        self.part, self.stop = part, stop
        self.facts = part.facts
        self.cp = cp_model.CpModel()
        self.yes = self.cp.new_constant(1)
        self.steps = {step: self._decide(part.facts.steps[step]) for step in sorted(part.free)}

    def go_on(self) -> None:
        """Asked wherever much is stated, as a large part takes seconds to state."""
        if self.stop.reached():
            raise OutOfTimeError

    def start(self, step: str) -> Minute:
        """The start of a step, decided or fixed."""
        return self.steps[step].start if step in self.steps else self.part.fixed[step].start

    def end(self, step: str) -> Minute:
        return self.steps[step].end if step in self.steps else self.part.fixed[step].end

    def reach(self, step: str) -> tuple[int, int]:
        """The first and the last minute at which a step may start."""
        if step in self.steps:
            return self.steps[step].domain.min(), self.steps[step].domain.max()
        return self.part.fixed[step].start, self.part.fixed[step].start

    def stands(self, step: str) -> bool:
        """Whether the step is in the plan at all."""
        return step in self.steps or step in self.part.fixed

    def _decide(self, facts: StepFacts) -> Deciding:
        self.go_on()
        starts = self._all_starts(facts)
        if not starts:
            raise NoRoomError(facts.id)
        people = list(dict.fromkeys(person for person, _, _ in starts))
        places = list(dict.fromkeys(stations for _, stations, _ in starts))
        minutes = sorted({changeover for _, _, changeover in starts})
        domain = cp_model.Domain.from_intervals([[a, b] for each in starts.values() for a, b in each])
        step = Deciding(
            facts,
            self.cp.new_int_var_from_domain(domain, f"start {facts.id}"),
            self._one_of(people),
            self._one_of(places),
            self._one_of(minutes),
            domain=domain,
        )
        self._starts_fit_the_choice(step, starts)
        step.taken, step.length = self._taken(step)
        return step

    def _one_of(self, choices: list[Choice]) -> dict[Choice, Literal]:
        """A literal for each choice, one of which is true."""
        if len(choices) == 1:
            return {choices[0]: self.yes}
        literals: dict[Choice, Literal] = {choice: self.cp.new_bool_var("") for choice in choices}
        self.cp.add_exactly_one(literals.values())
        return literals

    def _all_starts(self, facts: StepFacts) -> Starts:
        """The starts that hours and all that is fixed leave, for each choice of person, stations and changeover."""
        found: Starts = {}
        for person, stations in product(facts.people, facts.choices):
            for changeover in self._possible_changeovers(facts, stations):
                starts = self._starts(facts, person, stations, changeover)
                if starts:
                    found[person, stations, changeover] = starts
        return found

    def _possible_changeovers(self, facts: StepFacts, stations: tuple[str, ...]) -> list[int]:
        name = next((name for name in stations if name in self.part.books.queues), None)
        if name is None or facts.state_in is None:
            return [0]
        queue = self.part.books.queues[name]
        states = {queue.state} | {turn.facts.leaves for turn in queue.turns}
        states |= {self.facts.steps[step].leaves for step in self.part.free}
        return sorted({queue.station.changeover_minutes(state, facts.state_in) for state in states})

    def _starts(
        self, facts: StepFacts, person: str | None, stations: tuple[str, ...], changeover: int
    ) -> list[tuple[int, int]]:
        first, last = max(self.part.span[0], facts.earliest), self.part.span[1] - facts.minutes - changeover
        books: Books = self.part.books
        wants = wants_of(facts, stations, {})
        known = min(last, books.last_start(facts, first, wants, changeover))
        if known < first:
            return []
        found = intervals(books.starts(facts, person, wants, changeover, first, known - first + 1), first)
        if found and found[-1][1] == known and not books.bound_by_hours(facts, wants, changeover):
            found[-1] = (found[-1][0], last)
        return [(a + changeover, b + changeover) for a, b in found]

    def _starts_fit_the_choice(self, step: Deciding, starts: Starts) -> None:
        """Only the starts that the choice leaves; choices that leave none are not made."""
        for person, stations, changeover in product(step.who, step.where, step.changes):
            chosen = [step.who[person], step.where[stations], step.changes[changeover]]
            literals = [literal for literal in chosen if literal is not self.yes]
            allowed = starts.get((person, stations, changeover))
            if allowed is None:
                self.cp.add_bool_or([~literal for literal in literals])
                continue
            domain = cp_model.Domain.from_intervals([[a, b] for a, b in allowed])
            if literals and domain.flattened_intervals() != step.domain.flattened_intervals():
                self.cp.add_linear_expression_in_domain(step.start, domain).only_enforce_if(literals)

    def _taken(self, step: Deciding) -> tuple[Minute, Minute]:
        """From when on and how long its stations are taken: its changeover comes first."""
        minutes = step.facts.minutes
        if list(step.changes) == [0]:
            return step.start, minutes
        taken = self.cp.new_int_var(*self.part.span, f"taken {step.facts.id}")
        lengths = cp_model.Domain.from_values([minutes + change for change in step.changes])
        self.cp.add(taken == step.start - changeover(step))
        return taken, self.cp.new_int_var_from_domain(lengths, f"length {step.facts.id}")


def changeover(step: Deciding) -> Minute:
    """The minutes of the changeover that is chosen."""
    return sum(minutes * literal for minutes, literal in step.changes.items() if minutes)
