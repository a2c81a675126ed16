"""A cost that no plan can go below: each order alone, as early as its waits and the calendars allow."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from planner.costing import order_cost
from planner.parts import Order
from planner.search.books import Books, wants_of
from planner.search.facts import MOST_CHOICES, Facts, last_wait


def lower_bound(facts: Facts) -> float:
    """Prices of orders, of the makespan and of lost windows if nobody and nothing were ever busy with anything else."""
    problem, prices = facts.problem, facts.problem.prices
    ends = earliest_ends(facts)
    last = max([problem.now, *facts.begun_end.values(), *(end for end in ends.values() if end is not None)])
    full = (
        sum(_order(facts, order, ends) for order in problem.orders)
        + prices.makespan_hour * (last - problem.now) / 60
        + prices.missed_window_hour * sum(_lost(facts, ends)) / 60
        + prices.unplaced * sum(end is None for end in ends.values())
    )
    hopeless = sum(end is None for end in ends.values())
    return min(full, prices.unplaced * (hopeless + 1))  # the latter for plans that leave out more than they must


def _order(facts: Facts, order: Order, ends: Mapping[str, int | None]) -> float:
    known = {step: end for step in order.steps if (end := facts.begun_end.get(step, ends.get(step))) is not None}
    return order_cost(facts.problem, order, known, facts.problem.latest_close)


def _lost(facts: Facts, ends: Mapping[str, int | None]) -> Iterator[int]:
    """By how much the windows of begun steps are exceeded at best."""
    for step, end in ends.items():
        for link in facts.links_in[step]:
            most = last_wait(link)
            if end is not None and most is not None and facts.is_soft(link):
                start = end - facts.steps[step].minutes
                yield max(0, start - facts.begun_end[link.before] - most)


def earliest_ends(facts: Facts) -> dict[str, int | None]:
    """When each step could end at best; None for one that has no start even in an empty shop."""
    books = Books(facts)
    ends: dict[str, int | None] = {}
    for step in facts.order:
        ends[step] = _earliest_end(facts, books, step, ends)
    hopeless = facts.dragged_out({step for step, end in ends.items() if end is None})
    return {step: None if step in hopeless else end for step, end in ends.items()}


def _earliest_end(facts: Facts, books: Books, step: str, ends: dict[str, int | None]) -> int | None:
    its = facts.steps[step]
    earliest = its.earliest
    for link in facts.links_in[step]:
        before = facts.begun_end[link.before] if link.before in facts.begun_end else ends[link.before]
        if before is None:
            return None
        earliest = max(earliest, before + link.waits[0][0])
    if len(its.choices) == MOST_CHOICES:
        return earliest + its.minutes  # not every choice is known: the waits alone are sure
    starts = [
        books.first_start(its, person, wants, 0, earliest, books.last_start(its, earliest, wants))
        for person in its.people
        for wants in (wants_of(its, stations, {}) for stations in its.choices)
    ]
    return min((start + its.minutes for start in starts if start is not None), default=None)
