"""How pressing a step is, by several rules of thumb: the least key is placed first."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property

from planner.parts import Order
from planner.plan import Plan
from planner.search.facts import Facts

Key = tuple[float, ...]
DAY = 24 * 60
NEVER = 1e12  # minutes: when what no order waits for must be done


class Pressing:
    """Latest starts and what follows each step, calendars left aside."""

    def __init__(self, facts: Facts) -> None:
        self.facts = facts
        self.backwards = sorted(facts.steps, key=lambda step: facts.order[step], reverse=True)

    @cached_property
    def latest_start(self) -> dict[str, float]:
        """When each step must start for all it serves to be in time."""
        latest: dict[str, float] = {}
        for step in self.backwards:
            ends = [float(order.due) for order in self.facts.orders_of[step]]
            ends += [latest[link.after] - link.waits[0][0] for link in self.facts.links_out[step]]
            latest[step] = min(ends, default=NEVER) - self.facts.steps[step].minutes
        return latest

    @cached_property
    def tail(self) -> dict[str, float]:
        """From a step's start to the end of the longest way that follows it."""
        tail: dict[str, float] = {}
        for step in self.backwards:
            after = [link.waits[0][0] + tail[link.after] for link in self.facts.links_out[step]]
            tail[step] = self.facts.steps[step].minutes + max(after, default=0)
        return tail

    def best_of_orders(self, worth: Callable[[Order], float]) -> dict[str, float]:
        """For each step the least `worth` of the orders it leads to."""
        least: dict[str, float] = {}
        for step in self.backwards:
            found = [worth(order) for order in self.facts.orders_of[step]]
            found += [least[link.after] for link in self.facts.links_out[step]]
            least[step] = min(found, default=NEVER)
        return least

    def as_in(self, plan: Plan) -> dict[str, Key]:
        """By the starts of a plan; steps it does not know come by their latest start among them."""
        return {
            step: (plan[step].start if step in plan else self.latest_start[step], -self.tail[step])
            for step in self.facts.steps
        }


def by_slack(pressing: Pressing) -> dict[str, Key]:
    """The step that must start soonest first."""
    return {step: (pressing.latest_start[step], -pressing.tail[step]) for step in pressing.facts.steps}


def by_due(pressing: Pressing) -> dict[str, Key]:
    """The order that is due soonest first, whole."""
    due = pressing.best_of_orders(lambda order: order.due)
    return {step: (due[step], pressing.latest_start[step]) for step in pressing.facts.steps}


def as_they_came(pressing: Pressing) -> dict[str, Key]:
    """First come, first served: orders as they stand in the document; steps of no order last."""
    place = {order.id: place for place, order in enumerate(pressing.facts.problem.orders)}
    came = pressing.best_of_orders(lambda order: place[order.id])
    return {step: (came[step], pressing.facts.order[step]) for step in pressing.facts.steps}


def by_hard_dates(pressing: Pressing) -> dict[str, Key]:
    """Orders that are worthless when late before all others, then by slack."""
    soft = pressing.best_of_orders(lambda order: not order.hard)
    return {step: (soft[step], *key) for step, key in by_slack(pressing).items()}


def by_weight(pressing: Pressing) -> dict[str, Key]:
    """The order that gives the most weight for the minutes it takes first (Smith 1956)."""
    minutes = {
        order.id: 1 + sum(step.minutes for name in order.steps if (step := pressing.facts.steps.get(name)))
        for order in pressing.facts.problem.orders
    }
    worth = pressing.best_of_orders(lambda order: -order.weight / minutes[order.id])
    return {step: (worth[step], pressing.latest_start[step]) for step in pressing.facts.steps}


def by_states(days: int) -> Callable[[Pressing], dict[str, Key]]:
    """By latest start in spans of some days; within a span what leaves the same state follows on each other."""

    def key(pressing: Pressing) -> dict[str, Key]:
        states = {facts.state_in for facts in pressing.facts.steps.values()} - {None}
        place = {state: float(number) for number, state in enumerate(sorted(states, key=str), start=1)}
        return {
            step: (
                pressing.latest_start[step] // (days * DAY),
                place.get(pressing.facts.steps[step].state_in, 0.0),
                pressing.latest_start[step],
            )
            for step in pressing.facts.steps
        }

    return key


def by_tail(pressing: Pressing) -> dict[str, Key]:
    """The longest way still to go first."""
    return {step: (-pressing.tail[step],) for step in pressing.facts.steps}


PRIORITIES: tuple[Callable[[Pressing], dict[str, Key]], ...] = (
    by_slack,
    by_due,
    by_states(2),
    by_hard_dates,
    by_weight,
    by_tail,
    by_states(5),
)
