"""Makers for the planner's tests: small problems and plans with only what a test is about said out loud."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

from hypothesis import strategies as st

from planner import (
    Begun,
    Hold,
    Link,
    Need,
    Order,
    Person,
    Placed,
    Plan,
    Prices,
    Problem,
    Segment,
    Station,
    StationNeed,
    Status,
    Step,
    cost,
)

ORIGIN = datetime(2026, 3, 2, tzinfo=UTC)
DAY = 1440


def make_person(name: str = "ana", *, skills: str = "wood", hours: tuple = ((480, 1020), (1920, 2460))) -> Person:
    return Person(name, frozenset(skills.split()), tuple(hours))


def make_step(name: str, minutes: int = 30, need: str = "hands", **more: Any) -> Step:
    """A step of one segment; `at` names its stations, each with load 1."""
    at = more.pop("at", ())
    needs = tuple(StationNeed((each,) if isinstance(each, str) else tuple(each)) for each in at)
    skill = more.pop("skill", "wood" if need == "hands" else None)
    segments = more.pop("segments", ((minutes, need),))
    made = tuple(Segment(length, Need(kind)) for length, kind in segments)
    return Step(name, made, skill, stations=more.pop("stations", needs), **more)


def make_problem(*steps: Step, **more: Any) -> Problem:
    """One person from 8 to 17 on two days, unless told otherwise; now is 8 o'clock on the first."""
    return Problem(
        origin=ORIGIN,
        now=more.pop("now", 480),
        people=tuple(more.pop("people", (make_person(),))),
        stations=tuple(more.pop("stations", ())),
        steps=steps,
        links=tuple(more.pop("links", ())),
        holds=tuple(more.pop("holds", ())),
        orders=tuple(more.pop("orders", ())),
        prices=more.pop("prices", Prices()),
    )


def make_plan(problem: Problem, *placed: Placed, **more: Any) -> Plan:
    """A plan with the right cost, feasible unless something is left out."""
    unplaced = tuple(more.pop("unplaced", ()))
    status = Status.PARTIAL if unplaced else Status.FEASIBLE
    plan = Plan(status, 0, tuple(placed), missed=tuple(more.pop("missed", ())), unplaced=unplaced)
    return replace(plan, cost=cost(problem, plan), **more)


def put(
    problem: Problem, name: str, start: int, person: str | None = "ana", *stations: str, changeover: int = 0
) -> Placed:
    """A step placed at `start`, as long as it is."""
    return Placed(name, start, start + problem.step[name].minutes, person, stations, changeover)


def printed(code: str, *, hash_seeds: tuple[str, ...]) -> list[str]:
    """What a program prints in a process of its own for each seed that orders sets and dictionaries of text."""
    return [
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": hash_seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for hash_seed in hash_seeds
    ]


STATES = st.sampled_from([None, "a", "b", "c"])
SHORT = st.integers(1, 200)


@st.composite
def hours(draw: st.DrawFn, least: int = 0) -> tuple[tuple[int, int], ...]:
    """Sorted openings over a few days, some of which touch."""
    cuts = sorted(draw(st.sets(st.integers(0, 4 * DAY), min_size=2 * least, max_size=8)))
    pairs = list(zip(cuts[::2], cuts[1::2], strict=False))
    if pairs and draw(st.booleans()):
        closes = pairs[-1][1]
        pairs.append((closes, closes + draw(SHORT)))
    return tuple(pairs)


@st.composite
def stations(draw: st.DrawFn, name: str) -> Station:
    open_hours = draw(st.none() | hours(least=1))
    capacity = draw(st.sampled_from([1, 1, 1, 2, 5]))
    if capacity > 1 or draw(st.booleans()):
        return Station(name, capacity, open_hours)
    table = draw(
        st.dictionaries(st.tuples(st.sampled_from("abc"), st.sampled_from("abc")), st.integers(0, 40), max_size=4)
    )
    return Station(name, 1, open_hours, draw(STATES), table, draw(st.integers(0, 30)))


@st.composite
def station_needs(draw: st.DrawFn, known: list[Station]) -> tuple[StationNeed, ...]:
    """Up to two stations at once, each out of one or two; states at no more than one of them."""
    needs: list[StationNeed] = []
    stateful = False
    for _ in range(draw(st.integers(0, 2)) if known else 0):
        any_of = draw(st.lists(st.sampled_from(known), min_size=1, max_size=2, unique=True))
        has_states = any(station.has_states for station in any_of)
        if not (has_states and stateful):
            stateful = stateful or has_states
            most = max(station.capacity for station in any_of)
            needs.append(StationNeed(tuple(station.id for station in any_of), draw(st.integers(1, most))))
    return tuple(needs)


@st.composite
def steps(draw: st.DrawFn, name: str, known: list[Station], now: int) -> Step:
    segments = draw(
        st.lists(st.tuples(SHORT, st.sampled_from(["hands", "watch", "alone", "hands"])), min_size=1, max_size=3)
    )
    hands = any(kind == "hands" for _, kind in segments)
    needs = draw(station_needs(known))
    begun = None
    if draw(st.integers(0, 4)) == 0:
        person = draw(st.sampled_from(["ana", "ben", None]))
        places = tuple(draw(st.sampled_from(need.any_of)) for need in needs)
        begun = Begun(now - draw(st.integers(0, 300)), person, places)
    return make_step(
        name,
        segments=segments,
        skill=draw(st.sampled_from(["wood", "paint"])) if hands else draw(st.sampled_from([None, "wood"])),
        stations=needs,
        state_in=draw(STATES),
        state_out=draw(STATES),
        release=draw(st.none() | st.integers(0, 2 * DAY)),
        begun=begun,
    )


@st.composite
def links(draw: st.DrawFn, before: str, after: str) -> Link:
    least = draw(st.sampled_from([0, 0, 30, 300, 1000]))
    most = draw(st.none() | st.integers(least, least + 600))
    also = ()
    if most is not None and draw(st.integers(0, 3)) == 0:
        also = ((most + 500, draw(st.none() | st.integers(most + 500, most + 900))),)
    return Link(before, after, least, most, also)


@st.composite
def problems(draw: st.DrawFn, most_steps: int = 9) -> Problem:
    """Small problems with everything the exchange knows, most of them with some plan that leaves nothing out."""
    now = draw(st.integers(0, DAY))
    known = [draw(stations(name)) for name in ("router", "rack", "bench")[: draw(st.integers(0, 3))]]
    made = [draw(steps(f"s{number}", known, now)) for number in range(draw(st.integers(1, most_steps)))]
    pairs = [(one.id, other.id) for place, one in enumerate(made) for other in made[place + 1 :]]
    linked = draw(st.lists(st.sampled_from(pairs), max_size=len(made), unique=True)) if pairs else []
    held = draw(st.lists(st.sampled_from(linked), max_size=2, unique=True)) if linked and known else []
    names = st.lists(st.sampled_from([step.id for step in made]), min_size=1, max_size=4, unique=True)
    people = (
        Person("ana", frozenset({"wood", "paint"}), draw(hours(least=1))),
        Person("ben", frozenset({"wood"}), draw(hours())),
    )
    return make_problem(
        *made,
        now=now,
        people=people,
        stations=known,
        links=[draw(links(*pair)) for pair in linked],
        holds=[Hold(known[0].id, draw(st.integers(1, known[0].capacity)), *pair) for pair in held],
        orders=[
            Order(
                f"o{number}",
                tuple(draw(names)),
                draw(st.integers(0, 4 * DAY)),
                draw(st.sampled_from([0, 1, 2.5])),
                draw(st.booleans()),
            )
            for number in range(draw(st.integers(0, 3)))
        ],
        prices=Prices(500, 1.5, 20, 0.25, 0.1, 0.3),
    )
