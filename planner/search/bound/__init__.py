"""A cost that no plan can go below: each order alone, and what orders lose because people and places are shared."""

from __future__ import annotations

from planner.search.bound.alone import Alone
from planner.search.facts import Facts
from planner.search.stop import Stop


def lower_bound(facts: Facts, *, known: float | None = None, stop: Stop | None = None) -> float:
    """No plan costs less. Each order is taken alone; with `stop`, sharing is weighed too, until then at the latest.

    `known` is the cost of some plan: what sharing can add is sought for about up to there.
    """
    alone = Alone(facts)
    more_left_out = alone.cost_with_one_more_out()
    if not alone.domains.all_fit:
        return more_left_out
    bound = alone.cost()
    if stop is not None and bound < more_left_out:
        from planner.search.bound.sharing import added_by_sharing  # compiled code: only a search pays for it

        most = min(more_left_out, 2 * bound if known is None else known)
        bound += added_by_sharing(alone, max(0.0, most - bound), stop)
    return min(bound, more_left_out)


def bound_with_something_out(facts: Facts) -> float:
    """No plan that leaves out anything costs less."""
    return Alone(facts).cost_with_something_out()
