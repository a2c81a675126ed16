"""One station's turns from a problem into numbers, and from a sequence back into a plan."""

from __future__ import annotations

from functools import cached_property
from itertools import pairwise

import numpy as np

from planner.parts import Order
from planner.plan import Placed, Plan
from planner.search.drafting import finished_plan
from planner.search.sequences.one_station import OneStation
from planner.search.sequences.turns import Line, Paces, Work, line_of


class Turns:
    """The numbers of one station's steps; minutes count from now."""

    def __init__(self, form: OneStation) -> None:
        self.form = form
        self.facts = form.facts

    @cached_property
    def work(self) -> Work:
        """The problem in numbers; what no sequence changes is left out."""
        facts = self.facts
        prices, now = facts.problem.prices, facts.now
        ready = np.array([max(step.earliest, self.form.free) - now for step in self.form.steps], np.int64)
        owed, entry_at, group = self._entries()
        ends = [end - now for end in facts.begun_end.values()]
        return Work(
            pace=self._pace(),
            ready=ready,
            may_wait=bool((ready > self.form.free - now).any()),
            free=self.form.free - now,
            entry_at=np.array(entry_at, np.int64),
            owed=np.array(owed, np.float64).reshape(-1, 5),
            group=np.array(group, np.int64),
            groups=max(group, default=-1) + 1,
            change_rate=prices.changeover_minute,
            span_rate=prices.makespan_hour / 60,
            span_floor=float(max([0, *ends])),
        )

    def _pace(self) -> Paces:
        """Minutes of changeover and work from each step to each other, and from what stands there at first."""
        n = len(self.form.steps)
        pace = np.zeros((n + 1, n + 1), np.int32)
        minutes = np.array([step.minutes for step in self.form.steps], np.int32)
        rows: dict[str | None, Paces] = {}
        for number, state in enumerate([*(step.leaves for step in self.form.steps), self.form.state]):
            if state not in rows:
                changeovers = [self.form.station.changeover_minutes(state, step.state_in) for step in self.form.steps]
                rows[state] = minutes + np.array(changeovers, np.int32)
            pace[number, :n] = rows[state]
        return pace

    def _entries(self) -> tuple[list[list[float]], list[int], list[int]]:
        """What hangs on each step's end, where its rows begin, and the order of several steps that a row is part of."""
        orders = self.facts.problem.orders
        steps_of = [[step for step in dict.fromkeys(order.steps) if step in self.form.number] for order in orders]
        groups: dict[int, int] = {}
        of_step: dict[str, list[int]] = {step: [] for step in self.form.number}
        for place, steps in enumerate(steps_of):
            if len(steps) > 1:
                groups[place] = len(groups)
            for step in steps:
                of_step[step].append(place)
        rows = [place for step in self.form.number for place in of_step[step]]
        entry_at = [0, *np.cumsum([len(of_step[step]) for step in self.form.number])]
        return [self._owed(orders[place]) for place in rows], entry_at, [groups.get(place, -1) for place in rows]

    def _owed(self, order: Order) -> list[float]:
        """An order's row: due, the end it can't be before, a minute late, being late, a minute until its end."""
        prices, now = self.facts.problem.prices, self.facts.now
        begun = [self.facts.begun_end[step] for step in order.steps if step in self.facts.begun_end]
        late, finish = order.weight * prices.late_hour / 60, order.weight * prices.finish_hour / 60
        missed = order.weight * prices.missed_hard if order.hard else 0.0
        return [order.due - now, max(begun, default=now) - now, late, missed, finish]

    def line(self, plan: Plan) -> Line:
        """The sequence of a plan; what that leaves out comes last."""
        in_turn = sorted(self.form.number, key=lambda step: (step not in plan, plan[step].start if step in plan else 0))
        return line_of(self.work, np.array([self.form.number[step] for step in in_turn], np.int64))

    def plan(self, seq: list[int]) -> Plan:
        """The plan of a sequence."""
        end, placed = self.form.free, []
        for before, number in pairwise([len(self.form.steps), *seq]):
            step = self.form.steps[number]
            changeover = int(self.work.pace[before, number]) - step.minutes
            start = max(end, step.earliest) + changeover
            end = start + step.minutes
            placed.append(Placed(step.id, start, end, self.form.people[step.id], (self.form.station.id,), changeover))
        return finished_plan(self.facts, placed, set())
