"""The page of one day, read into columns: a person's hands, a machine's turn, how many lie in clamps or on the rack."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise

from django.utils import timezone

from shop.day.placed import Held, read_holds, read_left_behind, read_placed, read_stations
from shop.day.stretches import ALONE, HANDS, WATCH, Placed, Stretch, stretches
from shop.day.table import Row, Span, lay_out, one_after_another
from shop.floor.cautions import caution_for
from shop.plans.models import Plan
from shop.stations.models import Person

STATIONS = "stations"
HOUR = timedelta(hours=1)
OPENS, CLOSES = time(8), time(17)
"""The margin of a day on which nothing is planned."""


@dataclass(frozen=True)
class Column:
    """A person, or a station."""

    name: str
    person: Person | None = None
    is_mine: bool = False
    is_shown: bool = False  # on a phone, which has room for one
    hands_minutes: int = 0
    until: datetime | None = None

    @property
    def look(self) -> str:
        """Its part in a field's classes."""
        return ("person" if self.person else "station") + (" shown" if self.is_shown else "")


@dataclass(frozen=True)
class Filling:
    """How full a place is that takes several things at once: so many of its clamps, or so many lots."""

    load: int
    capacity: int = 0  # 0 where the load counts lots

    @property
    def percent(self) -> int:
        return round(100 * self.load / self.capacity) if self.capacity else 0


@dataclass(frozen=True)
class Act:
    """What somebody does next, with the stretch they do it in."""

    placed: Placed
    is_late: bool


@dataclass(frozen=True)
class Day:
    """Everything the page of a day shows."""

    day: date
    now: datetime
    columns: list[Column]
    rows: list[Row]
    mine: list[Act]
    left_out: list[Placed]
    left_behind: list[Placed]
    shown: str

    @property
    def before(self) -> date:
        return self.day - timedelta(days=1)

    @property
    def after(self) -> date:
        return self.day + timedelta(days=1)

    @property
    def is_today(self) -> bool:
        return self.day == timezone.localdate(self.now)

    @property
    def closes_at(self) -> datetime:
        return self.rows[-1].starts_at + timedelta(minutes=self.rows[-1].minutes)

    @property
    def is_empty(self) -> bool:
        return all(cell.what is None for row in self.rows for cell in row.cells)


def read_day(plan: Plan | None, day: date, me: Person | None, at: datetime, *, show: str = "") -> Day:
    """Steps planned, under way or done on that day of the workshop. Four queries, one more today, however many steps.

    `show` names the person whose column a phone shows, or says "stations"; else it is mine.
    """
    now = _minute(at)
    opens_at, closes_at = bounds_of(day)
    placed, left_out = read_placed(plan, opens_at, closes_at)
    placed = list(_with_cautions(placed))
    stretched = [each for one in placed for each in stretches(one, now)]
    hours = margin(stretched, opens_at, closes_at)
    people = _people(me, placed)
    shown = show if show in {STATIONS, *(person.name for person in people)} or not people else people[0].name
    persons = [_person_column(person, me, shown, stretched, (hours[0], hours[-1])) for person in people]
    stations = list(_station_columns(plan, placed, stretched, shown))
    columns = [*persons, *stations]
    return Day(
        day=day,
        now=now,
        shown=shown,
        columns=[column for column, _ in columns],
        rows=lay_out(columns, hours, now),
        mine=[Act(one, one.is_late(now)) for one in _open_acts(placed, me)],
        left_out=left_out,
        left_behind=read_left_behind(plan, opens_at) if day == timezone.localdate(now) else [],
    )


def bounds_of(day: date) -> tuple[datetime, datetime]:
    """The instants at which a day of the workshop begins and ends; on a clock change it is 23 or 25 hours long."""
    zone = timezone.get_current_timezone()
    midnights = (datetime.combine(each, time(), zone) for each in (day, day + timedelta(days=1)))
    opens_at, closes_at = (midnight.astimezone(UTC) for midnight in midnights)
    return opens_at, closes_at


def margin(stretched: Sequence[Stretch], opens_at: datetime, closes_at: datetime) -> list[datetime]:
    """The full hours from the first to the last thing that needs a person on that day."""
    attended = [each for each in stretched if each.need != ALONE and opens_at <= each.starts_at < closes_at]
    first = min((each.starts_at for each in attended), default=_on(opens_at, OPENS))
    last = max((each.ends_at for each in attended), default=_on(opens_at, CLOSES))
    first, last = max(_full_hour(first), opens_at), min(_full_hour(last + HOUR - timedelta(minutes=1)), closes_at)
    return [first + n * HOUR for n in range(round((last - first) / HOUR) + 1)]


def _people(me: Person | None, placed: Sequence[Placed]) -> list[Person]:
    """Who works here or has something on the day; mine first."""
    busy = {one.person_id for one in placed}
    people = [person for person in Person.objects.all() if person.works_here or person.pk in busy]
    return sorted(people, key=lambda person: person != me)


def _person_column(
    person: Person, me: Person | None, shown: str, stretched: Sequence[Stretch], drawn: tuple[datetime, datetime]
) -> tuple[Column, list[Span]]:
    own = [each for each in stretched if each.placed.person_id == person.pk]
    hands = one_after_another(_spans(each for each in own if each.need == HANDS))
    watched = [span for span in _spans(each for each in own if each.need == WATCH) if _is_free(span, hands)]
    column = Column(
        name=person.name,
        person=person,
        is_mine=person == me,
        is_shown=person.name == shown,
        hands_minutes=_minutes_within(drawn, (each for each in own if each.need == HANDS)),
        until=max((span.ends_at for span in hands), default=None),
    )
    return column, sorted([*hands, *one_after_another(watched)], key=lambda span: span.starts_at)


def _minutes_within(drawn: tuple[datetime, datetime], stretched: Iterable[Stretch]) -> int:
    """The part that the table of the day draws: work nobody ticked goes on from days before."""
    opens_at, closes_at = drawn
    parts = (min(each.ends_at, closes_at) - max(each.starts_at, opens_at) for each in stretched)
    return sum(max(0, round(part / timedelta(minutes=1))) for part in parts)


def _station_columns(
    plan: Plan | None, placed: Sequence[Placed], stretched: Sequence[Stretch], shown: str
) -> Iterator[tuple[Column, list[Span]]]:
    """Machines with their turns; then what holds several things at once, with how full it is."""
    at_stations = read_stations(plan, placed)
    is_shown = shown == STATIONS
    for station in sorted(at_stations, key=lambda station: (station.capacity > 1, station.pk)):
        own = _spans(each for each in stretched if each.placed.step.pk in at_stations[station])
        spans = one_after_another(own) if station.capacity == 1 else _filled([(span, 1) for span in own], 0)
        yield Column(station.name, is_shown=is_shown), spans
    for (name, capacity), held in read_holds(plan).items():
        yield Column(name, is_shown=is_shown), _filled([_held(each) for each in held], capacity)


def _held(held: Held) -> tuple[Span, int]:
    return Span(_minute(held.starts_at), _minute(held.ends_at), None), held.load


def _filled(loads: Iterable[tuple[Span, int]], capacity: int) -> list[Span]:
    """How full it is, from each change to the next."""
    change: dict[datetime, int] = defaultdict(int)
    for span, load in loads:
        change[span.starts_at] += load
        change[span.ends_at] -= load
    there, filled = 0, []
    for start, end in pairwise(sorted(at for at, by in change.items() if by)):
        there += change[start]
        if there:
            filled.append(Span(start, end, Filling(there, capacity)))
    return filled


def _spans(stretched: Iterable[Stretch]) -> list[Span]:
    return [Span(_minute(each.starts_at), _minute(each.ends_at), each) for each in stretched]


def _is_free(span: Span, taken: Iterable[Span]) -> bool:
    return all(span.ends_at <= other.starts_at or other.ends_at <= span.starts_at for other in taken)


def _open_acts(placed: Sequence[Placed], me: Person | None) -> list[Placed]:
    """Mine and not done: what is under way first, then in the order of the plan."""
    if me is None:
        return []
    own = [one for one in placed if one.person_id == me.pk and one.step.state != "done"]
    return sorted(own, key=lambda one: (one.step.begun_at is None, one.starts_at))


def _with_cautions(placed: Iterable[Placed]) -> Iterator[Placed]:
    """Each caution once a person, at the first step it belongs to that is not done."""
    said: set[tuple[int | None, str]] = set()
    for one in placed:
        caution = "" if one.step.state == "done" else caution_for(one.step.kind)
        yield replace(one, caution="" if (one.person_id, caution) in said else caution)
        said.add((one.person_id, caution))


def _minute(at: datetime) -> datetime:
    return at.replace(second=0, microsecond=0)


def _full_hour(at: datetime) -> datetime:
    # By the clock on the wall, so that the margin says full hours in a zone half an hour off as well.
    here = timezone.localtime(at)
    return at - timedelta(minutes=here.minute, seconds=here.second, microseconds=here.microsecond)


def _on(midnight: datetime, at: time) -> datetime:
    return midnight + timedelta(hours=at.hour)
