"""What a person says of the workshop: when somebody works, which days are off, which station is out of order."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, time

from django.db import transaction

from shop.signals import tell_work_changed
from shop.stations.models import DayOff, Hours, Person, Station

Week = Iterable[tuple[int, time, time]]
"""Stretches of a week: weekday from Monday 0, from, to."""


@transaction.atomic
def set_hours(person: Person, week: Week) -> None:
    """These and no other hours hold for the person from now on."""
    Person.objects.select_for_update().get(pk=person.pk)
    person.hours.all().delete()
    Hours.objects.bulk_create(
        [Hours(person=person, weekday=weekday, opens=opens, closes=closes) for weekday, opens, closes in week]
    )
    tell_work_changed(Person, f"{person}'s hours are new")


@transaction.atomic
def take_days_off(person: Person | None, first_day: date, last_day: date, why: str = "") -> DayOff:
    """No work of this person, or of anybody, on these days. The same days twice are written down once."""
    off, is_new = DayOff.objects.get_or_create(
        person=person, first_day=first_day, last_day=last_day, defaults={"why": why}
    )
    if is_new:
        tell_work_changed(DayOff, f"days off: {off}")
    return off


@transaction.atomic
def work_after_all(off: DayOff) -> None:
    """Take back days off."""
    DayOff.objects.filter(pk=off.pk).delete()
    tell_work_changed(DayOff, f"days off taken back: {off}")


@transaction.atomic
def set_down(station: Station, until: datetime | None) -> None:
    """The station is out of order until then, or in order again."""
    Station.objects.filter(pk=station.pk).update(down_until=until)
    tell_work_changed(Station, f"{station} is {'out of order' if until else 'in order again'}")
