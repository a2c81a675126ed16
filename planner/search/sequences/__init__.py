"""Fast local search for problems, or workshops, that are nothing but sequences: one station in turn, or a job shop."""

from __future__ import annotations

from planner.search.facts import Facts
from planner.search.loop import Move
from planner.search.sequences.job_shop import job_shop
from planner.search.sequences.one_machine import least_span
from planner.search.sequences.one_station import one_station


def is_pure(facts: Facts) -> bool:
    """Whether a problem is nothing but sequences, and none of them is to stay."""
    stays = facts.stays or facts.in_force.move_price
    return not stays and bool(one_station(facts) or job_shop(facts))


def sequence_moves(facts: Facts, seed: int) -> list[Move]:
    """The moves for a problem in a pure form; none for any other. Compilers are loaded only where there are some."""
    if not is_pure(facts):
        return []
    turns = one_station(facts)
    if turns:
        from planner.search.sequences.turn_search import BetterTurns

        return [BetterTurns(turns, seed)]
    shop = job_shop(facts)
    if shop:
        from planner.search.sequences.shop_search import BetterShop

        return [BetterShop(shop, seed)]
    return []


def sequence_bound(facts: Facts) -> float:
    """A cost that no plan of a job shop can go below: each machine alone; 0 for any other problem."""
    shop = job_shop(facts)
    if not shop:
        return 0.0
    prices = facts.problem.prices
    return min(prices.makespan_hour * least_span(shop) / 60, prices.unplaced)
