"""What the pure forms of a problem have in common: steps by number."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from planner.search.facts import Facts, StepFacts


@dataclass(frozen=True)
class Form:
    """A problem that is nothing but sequences."""

    facts: Facts

    @cached_property
    def steps(self) -> list[StepFacts]:
        return list(self.facts.steps.values())

    @cached_property
    def number(self) -> dict[str, int]:
        return {step.id: number for number, step in enumerate(self.steps)}
