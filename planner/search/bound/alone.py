"""What a plan costs at least if nobody and nothing were ever busy with anything else."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from planner.costing import order_cost
from planner.search.bits import lowest
from planner.search.bound.changes import least_changeover_minutes
from planner.search.bound.domains import Domains
from planner.search.facts import Facts, last_wait


class Alone:
    """Every order as early as its waits and all calendars allow.

    `ends[step]` is the first end of each step in a plan that leaves out only what no plan can place.
    """

    def __init__(self, facts: Facts) -> None:
        self.facts, self.problem = facts, facts.problem
        self.domains = Domains(facts)
        self.ends = self._ends({step: lowest(found) for step, found in self.domains.starts.items() if found})

    def _ends(self, starts: Mapping[str, int]) -> dict[str, int]:
        """Of steps that start so many minutes after now, and of all that have begun."""
        facts = self.facts
        return facts.begun_end | {step: facts.now + start + facts.steps[step].minutes for step, start in starts.items()}

    def cost(self) -> float:
        """Of a plan that leaves out only what no plan can place."""
        prices = self.problem.prices
        return (
            sum(order_cost(self.problem, order, self.ends, self.problem.latest_close) for order in self.problem.orders)
            + prices.makespan_hour * (self.last_end() - self.problem.now) / 60
            + prices.missed_window_hour * sum(self._lost()) / 60
            + prices.changeover_minute * least_changeover_minutes(self.facts, self.domains.hopeless)
            + prices.unplaced * len(self.domains.hopeless)
        )

    def cost_with_one_more_out(self) -> float:
        """Of a plan that leaves out more than what no plan can place."""
        return self._cost_with_out(len(self.domains.hopeless) + 1)

    def cost_with_something_out(self) -> float:
        """Of a plan that leaves out anything at all."""
        return self._cost_with_out(max(1, len(self.domains.hopeless)))

    def _cost_with_out(self, count: int) -> float:
        """Of a plan that leaves out so many steps: an order is complete no earlier, or it ends with the calendar."""
        close = self.problem.latest_close
        ends = {step: min(end, close) for step, end in self._ends(self.domains.first_starts).items()}
        orders = sum(
            order_cost(self.problem, order, {step: ends.get(step, close) for step in order.steps}, close)
            for order in self.problem.orders
        )
        return orders + self.problem.prices.unplaced * count

    def last_end(self) -> int:
        return max([self.problem.now, *self.ends.values()])

    def _lost(self) -> Iterator[int]:
        """By how much the windows of begun steps are exceeded at best."""
        for step, end in self.ends.items():
            for link in self.facts.links_in.get(step, ()):
                most = last_wait(link)
                if most is not None and self.facts.is_soft(link):
                    start = end - self.facts.steps[step].minutes
                    yield max(0, start - self.facts.begun_end[link.before] - most)
