"""Two people who don't exist, the hours they keep, and the places they work at."""

from __future__ import annotations

from datetime import time, timedelta

from planner import parse_length_nm
from shop.demo.dates import Dates
from shop.stations.models import DayOff, Hours, Person, Skill, Station, Workshop

NAME = "Ostrel Bay Woodware"
TIME_ZONE = "America/Chicago"
OWNER, PARTNER = "Maren", "Joss"

SKILLS = {
    OWNER: set(Skill.Kind),
    PARTNER: set(Skill.Kind),  # the router too, for days when the other is away
}

WEEKDAYS = range(5)
TUESDAY, THURSDAY, SATURDAY = 1, 3, 5

# Lunches are apart, so that somebody is within earshot of the router from half past seven to half past five.
# Oil put on late in the day is wiped first thing next morning, on Saturdays too; nobody works on Sundays.
HOURS = {
    OWNER: (
        (WEEKDAYS, time(7, 30), time(12)),
        (WEEKDAYS, time(12, 30), time(17, 30)),
        ((TUESDAY, THURSDAY), time(19), time(20, 30)),
        ((SATURDAY,), time(8), time(12)),
    ),
    PARTNER: (
        (WEEKDAYS, time(9), time(12, 30)),
        (WEEKDAYS, time(13, 15), time(17)),
        ((SATURDAY,), time(8, 30), time(11, 30)),
    ),
}

STATIONS = (
    ("Saw bench", Station.Role.SAW, 1),
    ("Clamp rack", Station.Role.CLAMPS, 16),
    ("Planer", Station.Role.PLANER, 1),
    ("Sanding bench", Station.Role.SANDING, 2),
    ("Laser", Station.Role.LASER, 1),
    ("Paint table", Station.Role.PAINT, 8),
    ("Drying rack", Station.Role.RACK, 28),
)


def open_the_workshop() -> Workshop:
    """The workshop's name and clock; its common minutes are good as they come."""
    workshop, _ = Workshop.objects.update_or_create(pk=1, defaults={"name": NAME, "time_zone": TIME_ZONE})
    return workshop


def set_up_stations() -> Station:
    """Every place of the workshop; returns the router."""
    for name, role, capacity in STATIONS:
        Station.objects.create(name=name, role=role, capacity=capacity)
    bed = {"bed_length_nm": "48", "bed_width_nm": "24", "bed_gap_nm": "3/4"}
    sizes = {field: parse_length_nm(text) for field, text in bed.items()}
    return Station.objects.create(name="Router", role=Station.Role.ROUTER, **sizes)


def hire(dates: Dates) -> None:
    """The two people with their skills, hours and days off."""
    people = [
        Person.objects.create(name=OWNER, role=Person.Role.OWNER, dollars_per_hour=34),
        Person.objects.create(name=PARTNER, role=Person.Role.PARTNER, dollars_per_hour=28),
    ]
    for person in people:
        Skill.objects.bulk_create([Skill(person=person, kind=kind) for kind in sorted(SKILLS[person.name])])
        Hours.objects.bulk_create(_hours(person))
    _give_days_off(people[1], dates)


def _hours(person: Person) -> list[Hours]:
    return [
        Hours(person=person, weekday=weekday, opens=opens, closes=closes)
        for weekdays, opens, closes in HOURS[person.name]
        for weekday in weekdays
    ]


def _give_days_off(partner: Person, dates: Dates) -> None:
    visit = dates.workday(8)
    DayOff.objects.create(person=partner, first_day=visit, last_day=visit, why="family visit")
    fair = dates.day(dates.days_to_first_fair)
    for first_day in (fair, fair + timedelta(days=7)):
        DayOff.objects.create(first_day=first_day, last_day=first_day + timedelta(days=1), why="at the fair")
