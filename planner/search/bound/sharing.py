"""What orders lose because people and places are shared."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from planner.parts import Order
from planner.search.bound.alone import Alone
from planner.search.bound.buying import Numbers
from planner.search.bound.finishes import Minutes
from planner.search.bound.prices import Prices, slope_to
from planner.search.bound.shares import Promise, Shares
from planner.search.bound.supply import Supply, stretches
from planner.search.stop import Stop

ENTRIES = 12_000_000  # in all tables of the shares together: with more steps, stretches are longer
MOST_STRETCHES = 900
FURTHEST_WORK = 100_000  # minutes: where there are no hours, so far away is it still asked whether room is left
BUILDING = 0.6  # of the seconds spent on what orders need, dearest orders first; the rest is left alone


def added_by_sharing(alone: Alone, aim: float, stop: Stop) -> float:
    """How much more than alone all orders cost at least; `aim` is about how much that may be."""
    facts, domains = alone.facts, alone.domains
    promises = sorted(_promises(alone), key=lambda promise: -promise.worth)
    if not promises:
        return 0.0
    rows = 3 * sum(len(promise.steps) for promise in promises)
    far = max(domains.far, min(FURTHEST_WORK, sum(step.minutes for step in facts.steps.values())))
    bounds = stretches(facts, far, min(MOST_STRETCHES, 1 + ENTRIES // rows))
    shares = Shares(domains, Supply(domains, bounds), bounds, promises)
    build_until = stop.seconds_left() * (1 - BUILDING)
    for place, promise in enumerate(promises):
        if stop.seconds_left() > build_until:
            shares.add(place, promise)
    flat, supply = shares.flat(), shares.supply.minutes
    slope = slope_to(flat, supply, bounds, sum(promise.worth for promise in promises))
    return shares.crowding + Prices(flat, supply).highest(slope, aim - shares.crowding, stop)


def _promises(alone: Alone) -> Iterator[Promise]:
    problem, prices = alone.problem, alone.problem.prices
    for order in problem.orders:
        worth = order.weight * (prices.late_hour + prices.finish_hour + order.hard * prices.missed_hard / 100)
        if worth and _can_be_late(alone, order):
            earliest = max(alone.ends[step] for step in order.steps) - problem.now
            yield Promise(frozenset(order.steps), earliest, worth, _price_of(alone, order))
    if prices.makespan_hour and alone.facts.steps.keys() & alone.ends.keys():
        earliest = alone.last_end() - problem.now
        yield Promise(
            frozenset(alone.ends), earliest, prices.makespan_hour, lambda ends: ends * prices.makespan_hour / 60
        )


def _can_be_late(alone: Alone, order: Order) -> bool:
    return all(step in alone.ends for step in order.steps) and any(step in alone.facts.steps for step in order.steps)


def _price_of(alone: Alone, order: Order) -> Callable[[Minutes], Numbers]:
    prices, due = alone.problem.prices, order.due - alone.problem.now

    def price(ends: Minutes) -> Numbers:
        late = np.maximum(0, ends - due) / 60
        missed = (late > 0) * (prices.missed_hard if order.hard else 0.0)
        return order.weight * (late * prices.late_hour + missed + ends / 60 * prices.finish_hour)

    return price
