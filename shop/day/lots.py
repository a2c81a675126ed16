"""The paint and detail queue, read into lots: what to do, on which pieces, what it waits for, what comes next."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import Q

from shop.day.after import Touch, touches
from shop.day.alike import Alike, alike, pieces_with_names
from shop.day.before import Before, befores
from shop.day.of_a_step import OfAStep
from shop.floor.cautions import caution_for
from shop.floor.models import Step
from shop.plans.models import Plan, PlannedStep
from shop.stations.models import Person

AT_THE_PAINT_TABLE = ("mask", "brush", "seal", "paint", "peel", "laser")
BY_HAND = ("sand", "oil", "wipe")
"""Shown to the person who is planned for them, so that one page holds all of a person's small work."""

UNDO_FOR = timedelta(hours=12)
MOST_DONE = 5


@dataclass(frozen=True)
class Lot(OfAStep):
    """Pieces that do one step of the detail branch together."""

    state: str  # going, ready, waiting or done
    alike: tuple[Alike, ...]
    befores: tuple[Before, ...]
    touches: tuple[Touch, ...]

    @property
    def colour(self) -> str:
        return self.step.about.get("colour", "")

    @property
    def caution(self) -> str:
        return caution_for(self.step.kind)

    @property
    def is_artwork_missing(self) -> bool:
        return any(each.is_artwork_missing for each in self.alike)

    @property
    def opens_at(self) -> datetime | None:
        """When the last of what it waits for has rested."""
        return max((before.opens_at for before in self.befores), default=None)

    @property
    def closes_at(self) -> datetime | None:
        return min((before.closes_at for before in self.befores if before.closes_at), default=None)

    @property
    def expected_at(self) -> datetime:
        """When it will be its turn: as planned, but no sooner than what it waits for allows."""
        return max(self.planned.starts_at, self.opens_at or self.planned.starts_at)

    @property
    def undone(self) -> list[Before]:
        """What must first be done by somebody."""
        return [before for before in self.befores if not before.is_done]

    @property
    def piece_count(self) -> int:
        return sum(each.count for each in self.alike)


@dataclass(frozen=True)
class DetailQueue:
    """What can be done now, what waits, and what was just done and may be taken back."""

    open: tuple[Lot, ...]
    waiting: tuple[Lot, ...]
    later: int  # waiting too, and left out because they are far ahead
    done: tuple[Lot, ...]


def read_detail(plan: Plan | None, person: Person | None, at: datetime, *, most: int | None = None) -> DetailQueue:
    """The lots that are not done, in the order of the plan, of those that wait `most`; the same few queries always."""
    lots = _lots(plan, _rows(plan, _theirs(person) & (Q(step__tick=None) | Q(step__tick__at__gt=at - UNDO_FOR))), at)
    going = [lot for lot in lots if lot.state == "going"]
    ready = [lot for lot in lots if lot.state == "ready"]
    done = sorted((lot for lot in lots if lot.state == "done"), key=lambda lot: lot.step.ticked.at, reverse=True)
    waiting = sorted((lot for lot in lots if lot.state == "waiting"), key=lambda lot: lot.expected_at)
    shown = tuple(waiting[:most])
    return DetailQueue((*going, *ready), shown, len(waiting) - len(shown), tuple(done[:MOST_DONE]))


def _theirs(person: Person | None) -> Q:
    return Q(step__kind__in=AT_THE_PAINT_TABLE) | Q(step__kind__in=BY_HAND, person=person, person__isnull=False)


def _rows(plan: Plan | None, which: Q) -> list[PlannedStep]:
    rows = PlannedStep.objects.filter(which, plan=plan, starts_at__isnull=False)
    return list(rows.select_related("step__tick", "step__begun_by", "person").prefetch_related(pieces_with_names()))


def _lots(plan: Plan | None, rows: Sequence[PlannedStep], at: datetime) -> list[Lot]:
    first, then = befores(plan, rows), touches(plan, rows)
    return [
        Lot(
            planned=planned,
            state=_state(planned.step, first[planned.step_id], at),
            alike=alike(planned.step.pieces.all()),
            befores=tuple(first[planned.step_id]),
            touches=tuple(then.get(planned.step_id, ())),
        )
        for planned in rows
    ]


def _state(step: Step, first: Iterable[Before], at: datetime) -> str:
    if step.state != "waiting":
        return step.state
    return "ready" if all(before.is_over(at) for before in first) else "waiting"
