"""The router's queue of one day, read into rows: loads in order, their bits, their pieces, what each waits for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cached_property

from django.utils import timezone

from planner import NM_PER_INCH
from shop.day.alike import pieces_with_names
from shop.day.before import Before, befores, end_of
from shop.day.drawings.bed import Bed, bed_of, piece_pk
from shop.day.drawings.bits import Key, key_of, unknown_key
from shop.day.of_a_step import OfAStep
from shop.floor.models import Piece, Step
from shop.orders.models import Line
from shop.plans.models import Plan, PlannedStep
from shop.stations.models import Station
from shop.stock.models import Bit, Blank

AT_THE_ROUTER = ("router", "carve")
"""The kinds of step that are done with a bit on the bed."""

DAYS_SHOWN = 3


@dataclass(frozen=True)
class Turn:
    """One bit's turn in a load: its key, its minutes, and whether it must first be put in the spindle."""

    key: Key
    minutes: float | None
    is_changed: bool


@dataclass(frozen=True)
class NumberedPiece:
    """A piece with the number it has on the drawing of its bed."""

    number: int
    piece: Piece


@dataclass(frozen=True)
class Group:
    """Pieces of one line on one bed, told together."""

    line: Line
    pieces: tuple[NumberedPiece, ...]

    @property
    def is_spoilt(self) -> bool:
        """All of them: nothing is left that could be written off."""
        return all(each.piece.spoilt_at for each in self.pieces)

    @property
    def numbers(self) -> str:
        """ "1–3, 7": runs of numbers as a person says them."""
        runs: list[list[int]] = []
        for number in sorted(each.number for each in self.pieces):
            if runs and number == runs[-1][-1] + 1:
                runs[-1].append(number)
            else:
                runs.append([number])
        return ", ".join(f"{run[0]}–{run[-1]}" if len(run) > 1 else str(run[0]) for run in runs)


@dataclass(frozen=True)
class Load(OfAStep):
    """One load of the bed, as a person at the router needs it."""

    number: int
    station: Station | None
    bed: Bed | None
    turns: tuple[Turn, ...]
    pieces: tuple[NumberedPiece, ...]
    befores: tuple[Before, ...]
    blanks: tuple[tuple[Blank, int], ...]

    @property
    def ends_at(self) -> datetime:
        return end_of(self.planned)

    @property
    def change_at(self) -> datetime:
        """When the bit change before it begins."""
        return self.planned.starts_at - timedelta(minutes=self.planned.changeover_minutes)

    @property
    def thickness_nm(self) -> int:
        return round(self.step.about.get("thickness_in", 0) * NM_PER_INCH)

    @property
    def groups(self) -> list[Group]:
        by_line: dict[int, list[NumberedPiece]] = {}
        for each in self.pieces:
            by_line.setdefault(each.piece.line_id, []).append(each)
        return [Group(own[0].piece.line, tuple(own)) for own in by_line.values()]

    @property
    def hands_minutes(self) -> int:
        return minutes_of(self.step, "hands")

    @property
    def cutting_minutes(self) -> int:
        """While the router cuts by itself, with somebody within earshot."""
        return minutes_of(self.step, "watch")

    @property
    def changes(self) -> int:
        return sum(turn.is_changed for turn in self.turns)

    @property
    def is_carving(self) -> bool:
        return self.step.kind == "carve"


@dataclass(frozen=True)
class RouterDay:
    """All loads that begin on one day, and the other days that have any."""

    day: date
    days: tuple[date, ...]
    plan: Plan | None
    loads: tuple[Load, ...]

    @cached_property
    def changes(self) -> int:
        return sum(load.changes for load in self.loads)

    @cached_property
    def hands_minutes(self) -> int:
        return sum(load.hands_minutes + load.planned.changeover_minutes for load in self.loads)

    @cached_property
    def cutting_minutes(self) -> int:
        return sum(load.cutting_minutes for load in self.loads)

    @cached_property
    def piece_count(self) -> int:
        return sum(len(load.pieces) for load in self.loads)

    @cached_property
    def next_load(self) -> Load | None:
        """The one under way, else the first that is not done."""
        return next((load for load in self.loads if load.step.state != "done"), None)

    @cached_property
    def days_near(self) -> tuple[date, ...]:
        """The days with loads around this one, few enough for a phone's one row."""
        before = [day for day in self.days if day < self.day][-1:]
        return (*before, *[day for day in self.days if day >= self.day][: DAYS_SHOWN - len(before)])


def minutes_of(step: Step, need: str) -> int:
    """How long a step has one need: hands, watch or alone."""
    return sum(minutes for minutes, each in step.segments if each == need)


def read_next_router_day(plan: Plan | None, today: date) -> RouterDay:
    """The first day after today with loads; today where there is none."""
    starts = _starts(plan)
    return _read(plan, min((day for day in starts.values() if day > today), default=today), starts)


def read_router_day(plan: Plan | None, day: date) -> RouterDay:
    """The queue of `day`; the same few queries however long it is."""
    return _read(plan, day, _starts(plan))


def _starts(plan: Plan | None) -> dict[int, date]:
    """Each planned load and the day on which it begins, by the workshop's own clock."""
    loads = PlannedStep.objects.filter(plan=plan, step__kind__in=AT_THE_ROUTER, starts_at__isnull=False)
    return {pk: timezone.localdate(at) for pk, at in loads.values_list("pk", "starts_at")}


def _read(plan: Plan | None, day: date, starts: Mapping[int, date]) -> RouterDay:
    rows = _with_all(PlannedStep.objects.filter(pk__in=[pk for pk, each in starts.items() if each == day]))
    return RouterDay(day, tuple(sorted(set(starts.values()))), plan, tuple(_loads(plan, rows)))


def _with_all(planned):
    return planned.select_related("step__tick", "step__batch", "step__begun_by", "person").prefetch_related(
        "stations", pieces_with_names()
    )


def _loads(plan: Plan, rows: Sequence[PlannedStep]) -> Iterable[Load]:
    first = befores(plan, rows)
    keys = {bit.name: key_of(bit) for bit in Bit.objects.all()}
    blanks = _blanks(rows)
    for number, planned in enumerate(rows, start=1):
        about = planned.step.about
        pieces = {piece.pk: piece for piece in planned.step.pieces.all()}
        station = next((each for each in planned.stations.all() if each.role == Station.Role.ROUTER), None)
        yield Load(
            number=number,
            planned=planned,
            station=station,
            bed=station and bed_of(station.bed_length_nm, station.bed_width_nm, about.get("layout", []), pieces),
            turns=tuple(_turns(planned, keys)),
            pieces=tuple(_numbered(about, pieces)),
            befores=tuple(first[planned.step_id]),
            blanks=tuple(_counted(about, blanks)),
        )


def _turns(planned: PlannedStep, keys: Mapping[str, Key]) -> Iterable[Turn]:
    """A bit is changed before its turn, but for the first where it is in the spindle already."""
    about = planned.step.about
    minutes = dict(about.get("bit_minutes", []))
    for index, name in enumerate(about.get("bits", [])):
        is_changed = index > 0 or planned.changeover_minutes > 0
        yield Turn(keys.get(name) or unknown_key(name), minutes.get(name), is_changed)


def _numbered(about: Mapping, pieces: Mapping[int, Piece]) -> Iterable[NumberedPiece]:
    """In the order of the layout, so that list and drawing agree; pieces without a place on the bed come last."""
    order = [piece_pk(place["piece"]) for place in about.get("layout", [])]
    order += [pk for pk in pieces if pk not in order]
    return (NumberedPiece(number, pieces[pk]) for number, pk in enumerate(order, start=1) if pk in pieces)


def _counted(about: Mapping, blanks: Mapping[int, Blank]) -> Iterable[tuple[Blank, int]]:
    wanted = Counter(map(int, about.get("blanks", {}).values()))
    return ((blanks[pk], count) for pk, count in wanted.items() if pk in blanks)


def _blanks(rows: Iterable[PlannedStep]) -> dict[int, Blank]:
    wanted = {int(pk) for each in rows for pk in each.step.about.get("blanks", {}).values()}
    return {blank.pk: blank for blank in Blank.objects.filter(pk__in=wanted).select_related("species")}
