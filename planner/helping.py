"""Small changes that could make a late order earlier, each one tried with the list rule."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from planner.explain import Cause, Kind
from planner.plan import Plan
from planner.problem import Interval, Order, Problem
from planner.saying import HOUR, between, lasting

MOST_TRIED = 12
EVENINGS = 2  # before the cause, at which an hour more is tried
FREE, HOUR_OF_SOMEBODY, HOUR_OPEN = range(3)  # what a change asks for, the least first


@dataclass(frozen=True, slots=True)
class Change:
    """A change in words, the problem with it, and an order that is put back, if any."""

    words: str
    problem: Problem
    asks: int
    later: Order | None = None


def cheapest_help(problem: Problem, plan: Plan, order: Order, chain: Sequence[Cause]) -> str:
    """Of the changes that bring the order in time the one that asks least; where none does, the one that gains most.

    Each is weighed by what it changes in a plan of the list rule that takes everything in the order of `plan`.
    """
    changes = _changes(problem, plan, order, chain)
    as_it_is = _finish(Change("", problem, FREE), plan, order)
    if not changes or as_it_is is None:
        return ""
    ends = [(end, change) for change in changes if (end := _finish(change, plan, order)) is not None]
    helping = [(end, change) for end, change in ends if end < as_it_is]
    if not helping:
        return f"Tried with the quick rule, none of the small changes at hand ({len(changes)}) makes it earlier."
    in_time = [each for each in helping if each[0] <= order.due]
    if in_time:
        _, change = min(in_time, key=lambda each: (each[1].asks, each[0]))
        return f"{change.words} would make it in time, tried with the quick rule."
    end, change = min(helping, key=lambda each: (each[0], each[1].asks))
    return f"{change.words} would make it about {lasting(as_it_is - end)} earlier, tried with the quick rule."


def _finish(change: Change, plan: Plan, order: Order) -> int | None:
    """When the order would be complete; None where never, or where the order put back would be late."""
    from planner.search.listing import PATIENCE, ListRule
    from planner.search.pressing import Pressing

    rule = ListRule(change.problem)
    keys = Pressing(rule.facts).as_in(plan)
    if change.later:
        spare = change.later.due - max(plan[step].end for step in change.later.steps)
        for step in rule.facts.needed_for(change.later.steps) - rule.facts.needed_for(order.steps):
            keys[step] = (keys[step][0] + spare, *keys[step][1:])
    tried = rule.plan(keys, PATIENCE)
    if change.later and not _in_time(tried, change.later):
        return None
    return max(tried[step].end for step in order.steps) if all(step in tried for step in order.steps) else None


def _in_time(plan: Plan, order: Order) -> bool:
    return all(step in plan and plan[step].end <= order.due for step in order.steps)


def _changes(problem: Problem, plan: Plan, order: Order, chain: Sequence[Cause]) -> list[Change]:
    """What the chain suggests, each once, those that ask least first."""
    found = [*_orders_later(problem, plan, order, chain), *_hours_more(problem, chain)]
    once = {change.words: change for change in found}
    return sorted(once.values(), key=lambda change: change.asks)[:MOST_TRIED]


def _orders_later(problem: Problem, plan: Plan, order: Order, chain: Iterable[Cause]) -> Iterator[Change]:
    """Orders in time whose work came first where somebody or something was busy."""
    from planner.search.facts import Facts

    facts = Facts(problem)
    first = {cause.step for cause in chain if cause.kind in (Kind.PERSON, Kind.STATION, Kind.STATE)}
    first -= facts.needed_for(order.steps)
    for other in problem.orders:
        if first & facts.needed_for(other.steps) and _in_time(plan, other):
            yield Change(f"Taking {other.id} later, which would still be in time,", problem, FREE, other)


def _hours_more(problem: Problem, chain: Iterable[Cause]) -> Iterator[Change]:
    for cause in chain:
        if cause.kind not in (Kind.PERSON, Kind.HOURS):
            continue
        if cause.who in problem.station:
            yield from _open_longer(problem, cause.who, cause.until)
        for person in problem.people:
            if cause.who in (person.id, None):
                yield from _work_longer(problem, person.id, cause.until)


def _work_longer(problem: Problem, name: str, until: int) -> Iterator[Change]:
    for more in _hour_before(problem.person[name].openings, problem.now, until):
        people = tuple(
            replace(each, hours=_with(each.openings, more)) if each.id == name else each for each in problem.people
        )
        words = f"One more hour of {name}, {between(problem.origin, *more)},"
        yield Change(words, replace(problem, people=people), HOUR_OF_SOMEBODY)


def _open_longer(problem: Problem, name: str, until: int) -> Iterator[Change]:
    for more in _hour_before(problem.station[name].openings or (), problem.now, until):
        stations = tuple(
            replace(each, hours=_with(each.openings or (), more)) if each.id == name else each
            for each in problem.stations
        )
        words = f"{name} open an hour longer, {between(problem.origin, *more)},"
        yield Change(words, replace(problem, stations=stations), HOUR_OPEN)


def _with(openings: tuple[Interval, ...], more: Interval) -> tuple[Interval, ...]:
    return tuple(sorted((*openings, more)))


def _hour_before(openings: tuple[Interval, ...], now: int, until: int) -> list[Interval]:
    """The last free hours before then, each after an opening: in the evening rather than in a short break."""
    following = [*(opens for opens, _ in openings[1:]), until]
    hours = [
        (closes, closes + HOUR)
        for (_, closes), opens in zip(openings, following, strict=True)
        if now <= closes and closes + HOUR <= min(opens, until)
    ]
    return hours[-EVENINGS:]
