"""What a person does on the floor: begin a step, tick it, undo, spoil a piece. One verb, one transaction."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from django.db import transaction
from django.db.models import F

from shop.floor.earlier import undone_before, when_they_were
from shop.floor.models import Piece, Step, Tick
from shop.orders.models import Line
from shop.signals import tell_work_changed
from shop.stations.models import Person, Station
from shop.stock.models import Bit, Blank


class FloorError(Exception):
    """Something that can't be done on the floor as things stand; one sentence for the person who tried."""


@transaction.atomic
def make_pieces(lines: Sequence[Line]) -> list[Piece]:
    """A piece for every unit of these lines that has none yet; asked twice, it makes nothing twice.

    Where a line now asks for fewer, pieces that nobody has begun go; begun ones stay on the books.
    """
    too_many = Piece.objects.filter(line__in=lines, spoilt_at=None, number__gt=F("line__quantity"))
    too_many.exclude(steps__in=Step.objects.begun()).delete()
    made = {(piece.line_id, piece.number) for piece in Piece.objects.filter(line__in=lines, spoilt_at=None)}
    missing = [
        Piece(line=line, number=number)
        for line in lines
        for number in range(1, line.quantity + 1)
        if (line.pk, number) not in made
    ]
    return Piece.objects.bulk_create(missing)


@transaction.atomic
def begin(step: Step, *, by: Person | None, at: datetime, stations: Sequence[Station] = ()) -> Step:
    """Write down that work on a step has begun. Of two people at once, the first stands.

    Earlier steps of its pieces must be over by then: those that nobody ticked are ticked with it (`taken_as_done`).
    """
    if _write_beginning(step, by=by, at=at, stations=stations):
        _tick_earlier(step, by)
    return step


@transaction.atomic
def tick(step: Step, *, by: Person | None, at: datetime, minutes: int | None = None) -> Tick:
    """Write down that a step is done and how long it really took. Of two ticks at once, the first stands.

    A step that nobody said had begun is taken to have begun so many minutes ago (as planned where none are given).
    """
    if step.begun_at is None:
        took = timedelta(minutes=step.attended_minutes if minutes is None else minutes)
        step = begin(step, by=by, at=at - took, stations=planned_stations(step))
    if minutes is None:
        minutes = max(1, round((at - step.begun_at).total_seconds() / 60))
    ticked, _ = Tick.objects.get_or_create(step=step, defaults={"at": at, "minutes": minutes, "by": by})
    return ticked


@transaction.atomic
def undo(step: Step) -> Step:
    """Take back the last thing said of a step: its tick, else its beginning and what was ticked with that."""
    if _went_on_after(step):
        raise FloorError(f"Work has gone on after “{step.what}”: undo the later step first.")
    deleted, _ = Tick.objects.filter(step=step).delete()
    if not deleted and step.begun_at:
        ticked_with_it = taken_as_done(step)
        _take_back_beginning(step)
        for each in reversed(ticked_with_it):
            _take_back_earlier(each, was_begun=each.pk not in step.taken["begun"])
    return Step.objects.get(pk=step.pk)


@transaction.atomic
def spoil(piece: Piece, *, why: str, at: datetime) -> Piece:
    """Write a piece off and put a new one in its place. Asked twice, the first stands."""
    if not Piece.objects.filter(pk=piece.pk, spoilt_at=None).update(spoilt_at=at, spoilt_why=why):
        return Piece.objects.get(made_again_for=piece)
    for step in piece.steps.waiting():
        step.pieces.remove(piece)
    again = Piece.objects.create(line=piece.line, number=piece.number, made_again_for=piece)
    tell_work_changed(Piece, because=f"{piece.line.design} spoilt")
    return again


def planned_stations(step: Step) -> list[Station]:
    """Where the plan in force puts the step."""
    return list(Station.objects.filter(planned_steps__step=step, planned_steps__plan__is_in_force=True))


def taken_as_done(step: Step) -> list[Step]:
    """The earlier steps that were ticked when this one began, in their order."""
    pks = step.taken.get("ticked", [])
    steps = Step.objects.in_bulk(pks)
    return [steps[pk] for pk in pks if pk in steps]


def _write_beginning(step: Step, *, by: Person | None, at: datetime, stations: Sequence[Station]) -> bool:
    """Whether we are the first to say so."""
    by = by or _planned_person(step)
    first = Step.objects.filter(pk=step.pk, begun_at=None).update(begun_at=at, begun_by=by, dropped_at=None)
    step.refresh_from_db()
    if first:
        step.begun_at_stations.set(stations)
        _use_up(step)
    return bool(first)


def _tick_earlier(step: Step, by: Person | None) -> None:
    earlier = undone_before(step)
    waiting = [each for each in earlier if each.begun_at is None]
    for each, (start, end) in zip(waiting, when_they_were(waiting, step.begun_at), strict=True):
        _write_beginning(each, by=None, at=start, stations=planned_stations(each))
        tick(each, by=by, at=end, minutes=each.attended_minutes)
    for each in earlier:
        tick(each, by=by, at=step.begun_at)  # those under way; of two ticks the first stands
    if earlier:
        step.taken |= {"ticked": [each.pk for each in earlier], "begun": [each.pk for each in waiting]}
        step.save(update_fields=["taken"])


def _take_back_earlier(step: Step, *, was_begun: bool) -> None:
    if _went_on_after(step):
        return
    Tick.objects.filter(step=step).delete()
    if not was_begun:
        _take_back_beginning(step)


def _take_back_beginning(step: Step) -> None:
    _give_back(step)
    step.begun_at_stations.clear()
    Step.objects.filter(pk=step.pk).update(begun_at=None, begun_by=None, taken={})


def _went_on_after(step: Step) -> bool:
    """Has any of its pieces begun a step that began later?"""
    if step.begun_at is None:
        return False
    return Step.objects.filter(pieces__in=step.pieces.all(), begun_at__gt=step.begun_at).exists()


def _planned_person(step: Step) -> Person | None:
    """Whose hands the plan in force counts on, or anybody's who can."""
    planned = Person.objects.filter(planned_steps__step=step, planned_steps__plan__is_in_force=True).first()
    return planned or Person.objects.filter(works_here=True, skills__kind=step.skill).first()


def _use_up(step: Step) -> None:
    """Take from stock what a step uses when it begins and put its bit in the spindle, and write down what that was."""
    wanted = step.about.get("blanks", {}).values()
    step.taken = {"blanks": [pk for pk in wanted if _take(pk)], **_set_spindle(step)}
    step.save(update_fields=["taken"])


def _take(blank: str) -> bool:
    return bool(Blank.objects.filter(pk=blank, quantity__gt=0).update(quantity=F("quantity") - 1))


def _give_back(step: Step) -> None:
    """Put back what the beginning took, and the bit that stood before, unless somebody changed it since."""
    for blank in step.taken.get("blanks", []):
        Blank.objects.filter(pk=blank).update(quantity=F("quantity") + 1)
    router = step.taken.get("router")
    if router and Bit.objects.filter(pk=step.taken["bit"], spindle=router).update(spindle=None):
        Bit.objects.filter(pk=step.taken["bit_before"], spindle=None).update(spindle=router)


def _set_spindle(step: Step) -> dict[str, int | None]:
    """After a bed load its last bit stays in the spindle. Which one stood there before, where that changes."""
    router = step.begun_at_stations.filter(role=Station.Role.ROUTER).first()
    last = Bit.objects.filter(name=next(reversed(step.about.get("bits", [])), None)).first()
    before = Bit.objects.filter(spindle=router).first() if router else None
    if router is None or last is None or last == before:
        return {}
    Bit.objects.filter(spindle=router).update(spindle=None)
    Bit.objects.filter(pk=last.pk).update(spindle=router)
    return {"router": router.pk, "bit": last.pk, "bit_before": before and before.pk}
