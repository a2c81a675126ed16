"""A dated plan: where each step stands, which windows were lost, what could not be placed."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property


class Status(StrEnum):
    """How good a plan is known to be."""

    OPTIMAL = "optimal"
    FEASIBLE = "feasible"
    PARTIAL = "partial"


@dataclass(frozen=True, slots=True)
class Placed:
    """A step with its start and end, its person and stations, and the changeover worked right before it."""

    step: str
    start: int
    end: int
    person: str | None = None
    stations: tuple[str, ...] = ()
    changeover: int = 0


@dataclass(frozen=True, slots=True)
class Missed:
    """A wait window that was lost, and by how many minutes it is exceeded."""

    before: str
    after: str
    minutes: int


@dataclass(frozen=True, slots=True)
class Unplaced:
    """A step for which no start is left, and why, in one sentence."""

    step: str
    why: str


@dataclass(frozen=True)
class Plan:
    """Every step of a problem, placed or said to be unplaced; `plan[step_id]` gives where it stands."""

    status: Status
    cost: float
    placed: tuple[Placed, ...]
    bound: float | None = None
    seconds: float = 0.0
    missed: tuple[Missed, ...] = ()
    unplaced: tuple[Unplaced, ...] = ()

    @cached_property
    def by_step(self) -> dict[str, Placed]:
        return {placed.step: placed for placed in self.placed}

    def __getitem__(self, step_id: str) -> Placed:
        return self.by_step[step_id]

    def __contains__(self, step_id: object) -> bool:
        return step_id in self.by_step
