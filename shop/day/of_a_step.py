"""What every page and paper says alike of a planned step."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from shop.floor.models import Step
from shop.plans.models import PlannedStep


@dataclass(frozen=True)
class OfAStep:
    """Something that is shown of one step: a load, a lot, a row of a sheet."""

    planned: PlannedStep

    @property
    def step(self) -> Step:
        return self.planned.step

    @property
    def starts_at(self) -> datetime:
        return start_of(self.planned)


def start_of(planned: PlannedStep) -> datetime:
    """When a step was begun, or will be by the plan."""
    return planned.step.begun_at or planned.starts_at
