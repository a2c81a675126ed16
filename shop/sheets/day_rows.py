"""The day sheet read into rows: a table of hours for each person, what to glue, and what rests until when."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from itertools import groupby

from django.db.models import Min, Q

from shop.day.after import Touch, touch_after, touches
from shop.day.alike import Alike, alike, pieces_with_names
from shop.day.before import end_of
from shop.day.hours import bounds_of
from shop.day.of_a_step import OfAStep
from shop.day.queue import minutes_of
from shop.day.stretches import NEED_WORDS
from shop.floor.cautions import caution_for
from shop.floor.models import Step
from shop.plans.models import Plan, PlannedStep, Rest
from shop.stations.models import Person


@dataclass(frozen=True)
class Share:
    """Part of a step with one need, and where it lies in the bar that draws the step, in per cent."""

    minutes: int
    need: str
    left: float
    width: float


@dataclass(frozen=True)
class Row(OfAStep):
    """One step in somebody's day."""

    alike: tuple[Alike, ...]
    touches: tuple[Touch, ...]
    window: Touch | None  # its own, where it has an end
    caution: str = ""
    is_caution_above: bool = False

    @property
    def shares(self) -> list[Share]:
        return _shares(self.step)

    @property
    def needs(self) -> list[tuple[str, int]]:
        """Each need with all its minutes; nothing where the step has one need and no more."""
        sums = [(need, minutes_of(self.step, need)) for need in NEED_WORDS]
        return [(need, minutes) for need, minutes in sums if 0 < minutes < self.step.minutes]

    @property
    def is_of_one_design(self) -> bool:
        return len({each.line.design_id for each in self.alike}) == 1


@dataclass(frozen=True)
class Table:
    """One person's day; nobody's where only machines and clocks work."""

    person: Person | None
    rows: tuple[Row, ...]

    @property
    def hands_minutes(self) -> int:
        return sum(each.minutes for row in self.rows for each in row.shares if each.need == "hands")


@dataclass(frozen=True)
class GlueUp:
    """A panel to be glued today, and when the router wants it."""

    row: Row
    wanted_at: datetime | None


@dataclass(frozen=True)
class Resting:
    """Something that cures, soaks or dries on this day, and the key of the step that touches it next."""

    before: PlannedStep
    after: int
    touch: Touch
    next_at: datetime
    person: Person | None

    @property
    def since(self) -> datetime:
        return end_of(self.before)


@dataclass(frozen=True)
class DaySheet:
    """A whole day on paper; `resting` is what nobody touches before the next day."""

    day: date
    plan: Plan | None
    tables: tuple[Table, ...]
    glue_ups: tuple[GlueUp, ...]
    resting: tuple[Resting, ...]

    @property
    def is_empty(self) -> bool:
        return not self.tables and not self.resting


def read_day_sheet(plan: Plan | None, day: date) -> DaySheet:
    """The plan's day by the workshop's clock; the same few queries however full it is."""
    opens, closes = bounds_of(day)
    resting = _resting(plan, opens, closes)
    rows = _rows(plan, opens, closes, {each.after: each.touch for each in resting if each.touch.closes_at})
    overnight = tuple(each for each in resting if each.next_at >= closes)
    return DaySheet(day, plan, tuple(_tables(rows)), tuple(_glue_ups(plan, rows)), overnight)


def _rows(plan: Plan | None, opens: datetime, closes: datetime, windows: dict[int, Touch]) -> list[Row]:
    planned = PlannedStep.objects.filter(plan=plan, starts_at__gte=opens, starts_at__lt=closes)
    planned = planned.select_related("step__tick", "step__begun_by", "person").prefetch_related(
        "stations", pieces_with_names()
    )
    then = touches(plan, planned)
    return [
        Row(each, alike(each.step.pieces.all()), tuple(then.get(each.step_id, ())), windows.get(each.step_id))
        for each in planned
    ]


def _tables(rows: Sequence[Row]) -> Iterable[Table]:
    """A table a person, in their order; what needs nobody's hands comes last."""

    def whose(row: Row) -> tuple[bool, int]:
        return row.planned.person_id is None, row.planned.person_id or 0

    for _, theirs in groupby(sorted(rows, key=whose), key=whose):
        own = tuple(_with_cautions(theirs))
        yield Table(own[0].planned.person, own)


def _with_cautions(rows: Iterable[Row]) -> Iterable[Row]:
    """Each caution in full where it first comes up in a table, and pointed to from then on."""
    said: set[str] = set()
    for row in rows:
        caution = caution_for(row.step.kind)
        is_above = caution in said
        yield replace(row, caution="" if is_above else caution, is_caution_above=is_above)
        said |= {caution} - {""}


def _shares(step: Step) -> list[Share]:
    whole, gone, found = step.minutes, 0, []
    for minutes, need in step.segments:
        found.append(Share(minutes, need, 100 * gone / whole, 100 * minutes / whole))
        gone += minutes
    return found


def _glue_ups(plan: Plan | None, rows: Sequence[Row]) -> Iterable[GlueUp]:
    glued = [row for row in rows if row.step.kind == "glue"]
    pieces = Step.pieces.through.objects.filter(step_id__in=[row.step.pk for row in glued])
    wanted = pieces.values("step_id").annotate(
        at=Min(
            "piece__steps__planned__starts_at",
            filter=Q(piece__steps__kind="router", piece__steps__planned__plan=plan),
        )
    )
    by_step = {each["step_id"]: each["at"] for each in wanted}
    return (GlueUp(row, by_step.get(row.step.pk)) for row in glued)


def _resting(plan: Plan | None, opens: datetime, closes: datetime) -> list[Resting]:
    rests = Rest.objects.filter(
        Q(before__planned__plan=plan, before__planned__ends_at__lt=closes),
        Q(after__planned__plan=plan, after__planned__starts_at__gte=opens),
        plan=plan,
        after__begun_at=None,
    ).select_related("after")
    pairs = [(rest.before_id, rest.after_id) for rest in rests]
    planned = PlannedStep.objects.filter(plan=plan, step_id__in={pk for pair in pairs for pk in pair})
    by_step = {each.step_id: each for each in planned.select_related("step__tick", "person")}
    found = {_rest_row(rest, by_step) for rest in rests}
    return sorted(found, key=lambda each: (each.touch.opens_at, each.before.pk))


def _rest_row(rest: Rest, by_step: dict[int, PlannedStep]) -> Resting:
    before, after = by_step[rest.before_id], by_step[rest.after_id]
    return Resting(before, rest.after_id, touch_after(before, rest, after.step), after.starts_at, after.person)
