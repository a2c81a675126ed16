"""What the parts of a problem must be to each other: unique ids, references that resolve, no circle of links."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from graphlib import CycleError, TopologicalSorter

from planner.errors import ProblemError
from planner.parts import Hold, Link, Order, Person, Station, Step

STEPS_SHOWN = 8  # of a circle of links


def check_ids(name: str, ids: Sequence[str]) -> None:
    """No id stands twice."""
    seen: set[str] = set()
    for each in ids:
        if each in seen:
            raise ProblemError(f"{name}: id {each} stands there twice")
        seen.add(each)


def check_references(
    people: Iterable[Person],
    stations: Iterable[Station],
    steps: Sequence[Step],
    links: Iterable[Link],
    holds: Iterable[Hold],
    orders: Iterable[Order],
) -> None:
    """Every id that a step, link, hold or order names is there."""
    person_ids = {person.id for person in people}
    station_ids = {station.id for station in stations}
    step_ids = {step.id for step in steps}
    for step in steps:
        _check_step(step, person_ids, station_ids)
    for link in links:
        _known((link.before, link.after), step_ids, f"links {link.before} -> {link.after}: step")
    for hold in holds:
        where = f"holds {hold.first} -> {hold.last}"
        _known((hold.first, hold.last), step_ids, f"{where}: step")
        _known((hold.station,), station_ids, f"{where}: station")
    for order in orders:
        _known(order.steps, step_ids, f"orders {order.id}: step")


def _check_step(step: Step, person_ids: set[str], station_ids: set[str]) -> None:
    for need in step.stations:
        _known(need.any_of, station_ids, f"steps {step.id}: station")
        check_ids(f"steps {step.id}: any_of", need.any_of)
    if step.begun:
        _known(step.begun.stations, station_ids, f"steps {step.id}: begun station")
        if step.begun.person is not None:
            _known((step.begun.person,), person_ids, f"steps {step.id}: begun person")


def _known(ids: Iterable[str], known: set[str], where: str) -> None:
    for each in ids:
        if each not in known:
            raise ProblemError(f"{where} {each} is not in this problem")


def check_begun(steps: Iterable[Step], now: int) -> None:
    """What has begun began at `now` or before."""
    for step in steps:
        if step.begun and step.begun.start > now:
            raise ProblemError(f"steps {step.id}: begun start {step.begun.start} is after now ({now})")


def check_states(stations: Mapping[str, Station], steps: Iterable[Step]) -> None:
    """A step may take at most one station that has states."""
    for step in steps:
        stateful = [need for need in step.stations if any(stations[each].has_states for each in need.any_of)]
        if len(stateful) > 1:
            raise ProblemError(f"steps {step.id}: stations name more than one station with states")


def check_links(links: Iterable[Link]) -> None:
    """One link a pair."""
    seen: set[tuple[str, str]] = set()
    for link in links:
        pair = (link.before, link.after)
        if pair in seen:
            raise ProblemError(f"links {link.before} -> {link.after}: one link a pair, this one stands there twice")
        seen.add(pair)


def check_links_have_no_cycle(steps: Iterable[Step], links: Iterable[Link]) -> None:
    """No step waits, by any way round, for itself."""
    before: dict[str, set[str]] = {step.id: set() for step in steps}
    for link in links:
        before[link.after].add(link.before)
    try:
        TopologicalSorter(before).prepare()
    except CycleError as error:
        raise ProblemError(f"links: {_way_round(error.args[1])} is a circle, no step of it can come first") from None


def _way_round(steps: Sequence[str]) -> str:
    """A circle of links; of a long one its beginning and how long it is."""
    if len(steps) <= STEPS_SHOWN:
        return " -> ".join(steps)
    return f"{' -> '.join(steps[:STEPS_SHOWN])} -> ... (of {len(steps) - 1:,} steps)"
