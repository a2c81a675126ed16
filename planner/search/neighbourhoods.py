"""Which steps are thought through anew together: around a time, an order, a station, a person, a bit, or at random."""

from __future__ import annotations

import random
from bisect import bisect_left
from collections import defaultdict
from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import replace

from planner.costing import order_cost
from planner.parts import Order
from planner.plan import Placed, Plan
from planner.search.clusters import Cluster
from planner.search.facts import Facts

Neighbourhood = Callable[["Neighbours", Plan, random.Random, int], set[str]]
HALF_A_DAY = 12 * 60
AROUND = 2 * 24 * 60  # minutes before and after its steps in which a part may move


class Neighbours:
    """What stands near what in a problem; the neighbourhoods ask it."""

    def __init__(self, facts: Facts, clusters: Iterable[Cluster], hopeless: set[str]) -> None:
        self.facts = facts
        self.hopeless = hopeless
        prices = replace(facts.problem.prices, finish_hour=0)
        self.lateness_alone = replace(facts.problem, prices=prices)
        self.with_states = {station.id for station in facts.problem.stations if station.has_states}
        self.together = {step: cluster.steps for cluster in clusters for step in cluster.steps}

    def rows(self, plan: Plan) -> list[Placed]:
        """The placed steps that have not begun, by start."""
        return sorted((row for row in plan.placed if row.step in self.facts.steps), key=lambda row: row.start)

    def grown(self, plan: Plan, seeds: Iterable[str], size: int) -> set[str]:
        """Seeds and what is tied to them, as many as fit; at least the first."""
        found: set[str] = set()
        for seed in seeds:
            if len(found) >= size:
                break
            found |= {step for step in self.together.get(seed, ()) if step in plan}
        return found

    def linked(self, rows: Iterable[Placed]) -> Iterator[str]:
        """Each step with those right before and after it by links."""
        for row in rows:
            yield row.step
            yield from (link.before for link in self.facts.links_in[row.step])
            yield from (link.after for link in self.facts.links_out[row.step])

    def needs(self, order: Order) -> list[str]:
        """An order's steps and all they wait for, the last first."""
        return sorted(self.facts.needed_for(order.steps), key=lambda step: -self.facts.order[step])

    def left_out_with(self, plan: Plan, step: str) -> set[str]:
        """A step that is left out with all that can only be placed once it is, and whatever these wait for in turn."""
        facts, found = self.facts, set[str]()
        waiting = list(facts.dragged_out({step}) - self.hopeless - set(plan.by_step))
        while waiting:
            step = waiting.pop()
            if step not in found:
                found.add(step)
                needed = [link.before for link in facts.links_in[step] if link.before in facts.steps]
                needed += [link.after for link in facts.links_out[step] if facts.ties(link)]
                waiting += [each for each in needed if each not in plan]
        return found

    def dear_order(self, plan: Plan, chance: random.Random) -> Order:
        """An order by chance, the likelier the more its lateness costs."""
        problem = self.facts.problem
        ends = {row.step: row.end for row in plan.placed}
        last = max([problem.latest_close, *ends.values()])
        costs = [order_cost(self.lateness_alone, order, ends, last) + 0.001 for order in problem.orders]
        return chance.choices(problem.orders, costs)[0]

    def filled(self, plan: Plan, core: list[str], chance: random.Random, size: int) -> set[str]:
        """Half the room for the core, the rest for what is done beside it."""
        found = self.grown(plan, core, (size + 1) // 2)
        if not found:
            return found
        first, last = min(plan[step].start for step in found), max(plan[step].end for step in found)
        beside = [row.step for row in self.rows(plan) if row.end > first and row.start < last and row.step not in found]
        chance.shuffle(beside)
        return found | self.grown(plan, beside, size - len(found))


def span_of(plan: Plan, steps: Collection[str], now: int) -> tuple[int, int]:
    """The stretch of time in which these steps may move."""
    rows = [plan[step] for step in steps if step in plan]
    if len(rows) < len(set(steps)):  # something is to be placed that has no place yet: anywhere
        return now, max(row.end for row in plan.placed) + AROUND
    return (
        max(now, min(row.start - row.changeover for row in rows) - AROUND),
        max(row.end for row in rows) + AROUND,
    )


def around_a_time(near: Neighbours, plan: Plan, chance: random.Random, size: int) -> set[str]:
    """The steps nearest to some moment."""
    rows = near.rows(plan)
    middle = chance.randrange(len(rows))
    first = max(0, min(middle - size // 2, len(rows) - size))
    return near.grown(plan, (row.step for row in rows[first : first + size]), size)


def an_order_and_its_needs(near: Neighbours, plan: Plan, chance: random.Random, size: int) -> set[str]:
    """An order with all it waits for, and what is done beside it."""
    return near.filled(plan, near.needs(chance.choice(near.facts.problem.orders)), chance, size)


def around_a_dear_order(near: Neighbours, plan: Plan, chance: random.Random, size: int) -> set[str]:
    """An order that costs much, with what it waits for and what is done beside it."""
    return near.filled(plan, near.needs(near.dear_order(plan, chance)), chance, size)


def a_stations_turns(near: Neighbours, plan: Plan, chance: random.Random, size: int) -> set[str]:
    """A stretch of what is done at one station, one after the other, and what those steps wait for."""
    rows = near.rows(plan)
    stations = sorted({name for row in rows for name in row.stations})
    if not stations:
        return around_a_time(near, plan, chance, size)
    name = chance.choice(stations)
    turns = [row for row in rows if name in row.stations]
    begin = bisect_left(turns, chance.choice(turns).start, key=lambda row: row.start)
    return near.grown(plan, near.linked(turns[begin:]), size)


def a_persons_day(near: Neighbours, plan: Plan, chance: random.Random, size: int) -> set[str]:
    """All that one person has in hand within half a day of some moment, which is a day whenever it begins."""
    rows = [row for row in near.rows(plan) if row.person is not None]
    if not rows:
        return around_a_time(near, plan, chance, size)
    middle = chance.choice(rows)
    day = [row for row in rows if row.person == middle.person and abs(row.start - middle.start) <= HALF_A_DAY]
    return near.grown(plan, (row.step for row in sorted(day, key=lambda row: abs(row.start - middle.start))), size)


def a_shared_bit(near: Neighbours, plan: Plan, chance: random.Random, size: int) -> set[str]:
    """Turns at one station with states that need the same one there, the nearest first, and what is next to them."""
    turns: dict[tuple[str, str], list[Placed]] = defaultdict(list)
    for row in near.rows(plan):
        bit = near.facts.steps[row.step].state_in
        for station in near.with_states.intersection(row.stations):
            if bit is not None:
                turns[station, bit].append(row)
    if not turns:
        return around_a_time(near, plan, chance, size)
    same = chance.choice(list(turns.values()))
    middle = chance.choice(same).start
    return near.grown(plan, near.linked(sorted(same, key=lambda row: abs(row.start - middle))), size)


def some_steps(near: Neighbours, plan: Plan, chance: random.Random, size: int) -> set[str]:
    """Steps from a stretch of some days, at random."""
    rows = near.rows(plan)
    middle = chance.choice(rows).start
    close = [row.step for row in rows if abs(row.start - middle) < 2 * AROUND]
    chance.shuffle(close)
    return near.grown(plan, close, size)


def what_is_left_out(near: Neighbours, plan: Plan, chance: random.Random, size: int) -> set[str]:
    """Steps for which the plan found no start though there may be one, and steps that may make way."""
    left_out = [step for step in near.facts.steps if step not in plan and step not in near.hopeless]
    if not left_out:
        return set()
    wanted = near.left_out_with(plan, chance.choice(left_out))
    rows = [row.step for row in near.rows(plan)]
    chance.shuffle(rows)
    return wanted | near.grown(plan, rows, size)


NEIGHBOURHOODS: tuple[Neighbourhood, ...] = (
    around_a_time,
    a_stations_turns,
    a_persons_day,
    a_shared_bit,
    some_steps,
    an_order_and_its_needs,
    around_a_dear_order,
    what_is_left_out,
)
