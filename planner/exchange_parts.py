"""The parts of a problem as the exchange writes them: people, stations, steps, links, holds, orders and prices."""

from __future__ import annotations

from dataclasses import fields as dataclass_fields
from functools import singledispatch
from typing import Any

from planner.errors import ProblemError
from planner.fields import FARTHEST, FIFTY_YEARS, Fields, is_whole, shown
from planner.parts import (
    Begun,
    Hold,
    Interval,
    Link,
    Need,
    Order,
    Person,
    Prices,
    Segment,
    Station,
    StationNeed,
    Step,
    Wait,
)

MOST_PEOPLE = 200
MOST_STATIONS = 1_000
MOST_SKILLS = 1_000  # of one person
MOST_CHANGEOVERS = 100_000  # of one station: each of 300 states after each other
MOST_LINKS = 100_000  # and as many holds
MOST_SEGMENTS = 100  # of one step
MOST_NEEDS = 20  # stations of one step at once
MOST_ALSO = 20  # further waits of one link


def problem_parts(document: Fields) -> dict[str, Any]:
    """Every list of a problem document, and its price list, by the names `Problem` gives them."""
    return {
        "people": tuple(_person(row) for row in document.rows("people", most=MOST_PEOPLE)),
        "stations": tuple(_station(row) for row in document.rows("stations", most=MOST_STATIONS)),
        "steps": tuple(_step(row) for row in document.rows("steps")),
        "links": tuple(_link(row) for row in document.rows("links", [], most=MOST_LINKS)),
        "holds": tuple(_hold(row) for row in document.rows("holds", [], most=MOST_LINKS)),
        "orders": tuple(_order(row) for row in document.rows("orders", [])),
        "prices": _prices(document.inner("cost", {})),
    }


def _person(row: Fields) -> Person:
    return Person(row.text("id"), frozenset(row.texts("skills", most=MOST_SKILLS)), _hours(row))


def _station(row: Fields) -> Station:
    return Station(
        id=row.text("id"),
        capacity=row.units("capacity"),
        hours=None if row.value.get("hours") is None else _hours(row),
        start_state=row.text_or_null("start_state"),
        changeovers=_changeovers(row),
        changeover_default=row.minutes("changeover_default", 0, least=0),
    )


def _changeovers(row: Fields) -> dict[tuple[str, str], int]:
    table: dict[tuple[str, str], int] = {}
    for change in row.rows("changeovers", [], most=MOST_CHANGEOVERS):
        pair = (change.text("from"), change.text("to"))
        if pair in table:
            raise ProblemError(f"{change.where}: stands there twice")
        table[pair] = change.minutes("minutes", least=0)
    return table


def _hours(row: Fields) -> tuple[Interval, ...]:
    intervals = row.items("hours")
    for each in intervals:
        if not (isinstance(each, list) and len(each) == 2 and all(is_whole(minute, None) for minute in each)):
            raise row.wrong("hours", "a list of [open, close] pairs of whole minutes")
        if not all(is_whole(minute) for minute in each):
            raise ProblemError(f"{row.where}: hours {shown(each)} reach further than {FIFTY_YEARS} from the origin")
    return tuple((opens, closes) for opens, closes in intervals)


def _step(row: Fields) -> Step:
    about = row.value.get("about")
    return Step(
        id=row.text("id"),
        segments=_segments(row),
        skill=row.text_or_null("skill"),
        stations=tuple(_station_need(each) for each in row.rows("stations", [], most=MOST_NEEDS)),
        state_in=row.text_or_null("state_in"),
        state_out=row.text_or_null("state_out"),
        release=row.minutes_or_null("release"),
        begun=None if row.value.get("begun") is None else _begun(row.inner("begun")),
        about=about if isinstance(about, dict) else {},
    )


def _segments(row: Fields) -> tuple[Segment, ...]:
    segments = tuple(_segment(each) for each in row.rows("segments", most=MOST_SEGMENTS))
    minutes = sum(segment.minutes for segment in segments)
    if minutes > FARTHEST:
        raise ProblemError(f"{row.where}: segments take {minutes:,} minutes together, more than {FIFTY_YEARS}")
    return segments


def _segment(row: Fields) -> Segment:
    need = row.text("need")
    if need not in list(Need):
        raise row.wrong("need", "hands, watch or alone")
    return Segment(row.minutes("minutes", least=1), Need(need))


def _station_need(row: Fields) -> StationNeed:
    any_of = row.texts("any_of", most=MOST_STATIONS)
    if not any_of:
        raise row.wrong("any_of", "a list of one station id or more")
    return StationNeed(any_of, row.units("load"))


def _begun(row: Fields) -> Begun:
    return Begun(row.minutes("start"), row.text_or_null("person"), row.texts("stations"))


def _link(row: Fields) -> Link:
    also = row.items("also", [], most=MOST_ALSO) if row.value.get("also") is not None else []
    return Link(
        before=row.text("from"),
        after=row.text("to"),
        min_wait=row.minutes("min_wait", least=0),
        max_wait=row.minutes_or_null("max_wait"),
        also=tuple(_wait(row, each) for each in also),
    )


def _wait(row: Fields, value: object) -> Wait:
    if isinstance(value, list) and len(value) == 2 and is_whole(value[0]) and (value[1] is None or is_whole(value[1])):
        return (value[0], value[1])
    raise row.wrong("also", f"a list of [min, max] waits in whole minutes, {FIFTY_YEARS} at most")


def _hold(row: Fields) -> Hold:
    return Hold(row.text("station"), row.units("load"), row.text("from"), row.text("to"))


def _order(row: Fields) -> Order:
    return Order(
        id=row.text("id"),
        steps=row.texts("steps"),
        due=row.minutes("due"),
        weight=row.number("weight"),
        hard=row.yes_no("hard", False),
    )


def _prices(row: Fields) -> Prices:
    named = {field.name: row.number(field.name) for field in dataclass_fields(Prices) if field.name in row.value}
    return Prices(**named)


@singledispatch
def part_to_json(part: object) -> Any:
    """A part as the document writes it."""
    raise TypeError(f"{part!r} is no part of a problem")


@part_to_json.register
def _(person: Person) -> dict[str, Any]:
    return {"id": person.id, "skills": sorted(person.skills), "hours": [list(each) for each in person.hours]}


@part_to_json.register
def _(station: Station) -> dict[str, Any]:
    hours = None if station.hours is None else [list(each) for each in station.hours]
    shown: dict[str, Any] = {"id": station.id, "capacity": station.capacity, "hours": hours}
    if station.capacity > 1:
        return shown
    rows = [{"from": a, "to": b, "minutes": minutes} for (a, b), minutes in sorted(station.changeovers.items())]
    return shown | {
        "start_state": station.start_state,
        "changeovers": rows,
        "changeover_default": station.changeover_default,
    }


@part_to_json.register
def _(step: Step) -> dict[str, Any]:
    begun = step.begun and {
        "start": step.begun.start,
        "person": step.begun.person,
        "stations": list(step.begun.stations),
    }
    return {
        "id": step.id,
        "segments": [{"minutes": each.minutes, "need": each.need.value} for each in step.segments],
        "skill": step.skill,
        "stations": [{"any_of": list(need.any_of), "load": need.load} for need in step.stations],
        "state_in": step.state_in,
        "state_out": step.state_out,
        "release": step.release,
        "begun": begun,
        "about": dict(step.about),
    }


@part_to_json.register
def _(link: Link) -> dict[str, Any]:
    shown = {"from": link.before, "to": link.after, "min_wait": link.min_wait, "max_wait": link.max_wait}
    return shown | ({"also": [list(each) for each in link.also]} if link.also else {})


@part_to_json.register
def _(hold: Hold) -> dict[str, Any]:
    return {"station": hold.station, "load": hold.load, "from": hold.first, "to": hold.last}


@part_to_json.register
def _(order: Order) -> dict[str, Any]:
    return {
        "id": order.id,
        "steps": list(order.steps),
        "due": order.due,
        "weight": order.weight,
        "hard": order.hard,
    }


@part_to_json.register
def _(prices: Prices) -> dict[str, Any]:
    return {field.name: getattr(prices, field.name) for field in dataclass_fields(prices)}
