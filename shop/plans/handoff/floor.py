"""The workshop as the planner sees it: hours as minutes, stations by role, common minutes, ready blanks."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, time, timedelta

from planner import (
    NM_PER_INCH,
    Bed,
    Blank,
    CommonMinutes,
    Floor,
    Glue,
    Interval,
    Person,
    Station,
    open_intervals,
)
from shop.plans.handoff.clock import Clock
from shop.stations.models import DayOff, Workshop
from shop.stations.models import Person as PersonRow
from shop.stations.models import Station as StationRow
from shop.stock.models import Blank as BlankRow
from shop.stock.models import Glue as GlueRow

DAYS_BACK = 1
"""Hours are read from yesterday on, so that a night that crosses midnight is whole."""

COMMON = {
    "rip": "rip_minutes",
    "glue": "glue_minutes",
    "close": "close_minutes",
    "unclamp": "unclamp_minutes",
    "flatten": "flatten_minutes",
    "cut_blank": "cut_blank_minutes",
    "load": "load_minutes",
    "load_per_piece": "load_minutes_per_piece",
    "unload_per_piece": "unload_minutes_per_piece",
    "bit_change": "bit_change_minutes",
    "pack": "pack_minutes",
    "pack_per_piece": "pack_minutes_per_piece",
    "window_margin": "window_margin_minutes",
}
"""The planner's name of a common minute, and the workshop's field that holds it."""

WHOLE_DAY = (time.min, time.max)


class FloorReader:
    """Reads everything but the orders, for so many days from the clock's first."""

    def __init__(self, workshop: Workshop, clock: Clock, days: int) -> None:
        self.workshop, self.clock, self.days = workshop, clock, days
        self.days_off = list(DayOff.objects.all())

    def read(self) -> Floor:
        stations = list(StationRow.objects.select_related("bit"))
        return Floor(
            people=tuple(self._people()),
            stations=tuple(self._station(row) for row in stations),
            roles=_roles(stations),
            bed=_bed(stations),
            minutes=CommonMinutes(**{name: getattr(self.workshop, field) for name, field in COMMON.items()}),
            glue=_glue(),
            blanks=tuple(_blanks()),
        )

    def _people(self) -> Iterable[Person]:
        for row in PersonRow.objects.filter(works_here=True).prefetch_related("skills", "hours"):
            weekly = [(hours.weekday, hours.opens, hours.closes) for hours in row.hours.all()]
            off = [each for each in self.days_off if each.person_id in {None, row.pk}]
            skills = frozenset(skill.kind for skill in row.skills.all())
            yield Person(row.name, skills, self._intervals(weekly, off))

    def _station(self, row: StationRow) -> Station:
        return Station(
            id=row.name,
            capacity=row.capacity,
            hours=self._station_hours(row),
            start_state=row.bit.name if hasattr(row, "bit") else None,
            changeover_default=self.workshop.bit_change_minutes if row.role == StationRow.Role.ROUTER else 0,
        )

    def _station_hours(self, row: StationRow) -> tuple[Interval, ...] | None:
        if row.opens is None and row.down_until is None:
            return None
        opens, closes = (row.opens, row.closes) if row.opens else WHOLE_DAY
        hours = self._intervals([(weekday, opens, closes) for weekday in range(7)], [])
        back = row.down_until and self.clock.next_minute(row.down_until)
        return hours if back is None else tuple((max(a, back), b) for a, b in hours if b > back)

    def _intervals(self, weekly: list[tuple[int, time, time]], off: Iterable[DayOff]) -> tuple[Interval, ...]:
        first_day = self.clock.origin.date() - timedelta(days=DAYS_BACK)
        days_off = {day for each in off for day in _days(each)}
        return open_intervals(weekly, days_off, self.workshop.zone, self.clock.origin, first_day, self.days + DAYS_BACK)


def _days(off: DayOff) -> Iterable[date]:
    length = (off.last_day - off.first_day).days + 1
    return (off.first_day + timedelta(days=n) for n in range(length))


def _roles(stations: Iterable[StationRow]) -> dict[str, tuple[str, ...]]:
    roles: dict[str, tuple[str, ...]] = {}
    for row in stations:
        roles[row.role] = (*roles.get(row.role, ()), row.name)
    return roles


def _bed(stations: Iterable[StationRow]) -> Bed:
    """The smallest bed, so that a load fits whichever router it comes to; none where there is no router."""
    beds = [
        Bed(row.bed_length_nm / NM_PER_INCH, row.bed_width_nm / NM_PER_INCH, row.bed_gap_nm / NM_PER_INCH)
        for row in stations
        if row.role == StationRow.Role.ROUTER
    ]
    return min(beds, key=lambda bed: bed.length_in * bed.width_in, default=Bed(0, 0, 0))


def _glue() -> Glue:
    row = GlueRow.objects.filter(in_use=True).first() or GlueRow()
    return Glue(clamp_minutes=row.clamp_minutes, cure_minutes=row.cure_minutes, open_minutes=row.open_minutes)


def _blanks() -> Iterable[Blank]:
    for row in BlankRow.objects.filter(quantity__gt=0).select_related("species"):
        yield Blank(
            id=str(row.pk),
            species=row.species.name,
            length_in=row.length_nm / NM_PER_INCH,
            width_in=row.width_nm / NM_PER_INCH,
            thickness_in=row.thickness_nm / NM_PER_INCH,
            quantity=row.quantity,
        )
