"""Names of a problem by number, and lists end to end."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import cached_property

import numpy as np

from planner.plan import Placed, Plan
from planner.search.clusters import Cluster
from planner.search.facts import Facts
from planner.search.fast.table import NONE

Row = Mapping[str, float]


class Flat:
    """Lists end to end; each is told where it begins and ends."""

    def __init__(self) -> None:
        self.items: list[int] = []
        self.pairs: list[tuple[int, int]] = []

    def of(self, name: str, items: Iterable[int]) -> dict[str, int]:
        """Where single numbers stand, as the fields `name` and `name_end`."""
        begin = len(self.items)
        self.items.extend(items)
        return {name: begin, f"{name}_end": len(self.items)}

    def of_pairs(self, name: str, pairs: Iterable[tuple[int, int]]) -> dict[str, int]:
        """The same for pairs of numbers."""
        begin = len(self.pairs)
        self.pairs.extend(pairs)
        return {name: begin, f"{name}_end": len(self.pairs)}


def records(kind: np.dtype, rows: Sequence[Row]) -> np.ndarray:
    """Rows as records; what a row does not name is 0."""
    names = kind.names or ()
    return np.array([tuple(row.get(name, 0) for name in names) for row in rows], dtype=kind)


class Numbers:
    """Steps that a plan has placed and that may move, clusters, people, stations and states, each by number."""

    def __init__(self, facts: Facts, plan: Plan, clusters: Sequence[Cluster]) -> None:
        self.facts, self.problem = facts, facts.problem
        self.steps = [step for step in facts.order if step in plan]
        self.step = {step: number for number, step in enumerate(self.steps)}
        self.person: dict[str | None, int] = {person.id: n for n, person in enumerate(self.problem.people)}
        self.person[None] = NONE
        self.station = {station.id: number for number, station in enumerate(self.problem.stations)}
        parts = [[step for step in cluster.steps if step in plan] for cluster in clusters]
        self.clusters = [part for part in parts if part]
        self.cluster_of = {step: number for number, part in enumerate(self.clusters) for step in part}
        self.queues = [station for station in self.problem.stations if station.has_states]
        self.first_choice = self._first_choices()

    def _first_choices(self) -> list[int]:
        """By step: the number of its first choice of stations; those of all steps stand end to end."""
        found = [0]
        for step in self.steps:
            found.append(found[-1] + len(self.facts.steps[step].choices))
        return found

    @cached_property
    def states(self) -> dict[str | None, int]:
        """Everything that can be set up anywhere, by number."""
        states = {station.start_state for station in self.queues}
        states |= {state for station in self.queues for pair in station.changeovers for state in pair}
        states |= {state for step in self.problem.steps for state in (step.state_in, step.leaves_state)}
        numbers: dict[str | None, int] = {state: n for n, state in enumerate(sorted(states - {None}, key=str))}
        return {**numbers, None: NONE}

    @cached_property
    def waits_for(self) -> list[set[int]]:
        """By cluster: the clusters that it waits for."""
        found: list[set[int]] = [set() for _ in self.clusters]
        for step in self.steps:
            before = {self.cluster_of.get(link.before, NONE) for link in self.facts.links_in[step]}
            found[self.cluster_of[step]] |= before - {NONE, self.cluster_of[step]}
        return found

    def rows_of(self, plan: Plan) -> np.ndarray:
        """Start, person, choice of stations and changeover of each step in a plan."""
        rows = np.zeros((4, len(self.steps)), dtype=np.int64)
        for number, step in enumerate(self.steps):
            row = plan[step]
            choice = self.first_choice[number] + self.facts.steps[step].choices.index(row.stations)
            rows[:, number] = row.start - self.facts.now, self.person[row.person], choice, row.changeover
        return rows

    def placed(self, rows: np.ndarray) -> list[Placed]:
        """The same back, with names for numbers."""
        people = {number: person for person, number in self.person.items()}
        found = []
        for number, (step, (start, person, choice, change)) in enumerate(zip(self.steps, rows.T.tolist(), strict=True)):
            facts = self.facts.steps[step]
            begins = start + self.facts.now
            stations = facts.choices[choice - self.first_choice[number]]
            found.append(Placed(step, begins, begins + facts.minutes, people[person], stations, change))
        return found
