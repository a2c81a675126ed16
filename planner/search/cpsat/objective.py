"""The price list for a CP-SAT model: whole numbers that never add up to more than the real cost."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor

from ortools.sat.python import cp_model

from planner.costing import order_cost
from planner.parts import Order
from planner.search.cpsat.turns import Turns
from planner.search.cpsat.variables import Minute, Variables, changeover
from planner.search.facts import last_wait

LARGEST = 1e15  # of the objective: beyond it the solver's sums lose their footing
SCALES: list[int] = [60 * 10**places for places in range(7)]
ROUNDING = 1e-12  # of a sum of prices that doubles may be off by


@dataclass(frozen=True, slots=True)
class Term:
    """`price` for each unit of a quantity that lies between 0 and `most`."""

    price: float
    quantity: Minute
    most: int


class Objective:
    """What the free steps of a part cost; `constant` is the cost of all the rest."""

    def __init__(self, variables: Variables, turns: Turns) -> None:
        self.variables = variables
        self.cp = variables.cp
        self.part = variables.part
        self.facts = variables.facts
        self.prices = variables.facts.problem.prices
        self.until = variables.part.span[1]
        self.constant = self.prices.unplaced * len(self.part.out)
        self.terms: list[Term] = []
        self.plan_end = self._plan_end()
        for order in self.facts.problem.orders:
            self._order(order)
        self._makespan()
        self._changeovers(turns)
        self._lost_windows()
        self._moved()
        self.scale = self._scale()

    def minimise(self, known: float) -> None:
        """Hand the objective to the model; each price is rounded down, so a bound on it is a bound on the cost.

        `known` is the cost of a plan that there is: what is dearer is ruled out from the start.
        """
        priced = [(_units(term.price, self.scale), term) for term in self.terms]
        whole = sum(price * term.quantity for price, term in priced if price)
        dearest = sum(price * term.most for price, term in priced)
        rounding = 1 + ROUNDING * (abs(known) + abs(self.constant)) * self.scale
        limit = (known - self.constant) * self.scale + rounding
        if limit < dearest:
            self.cp.add(whole <= floor(limit))
        self.cp.minimize(whole)

    def bound(self, proved: float) -> float:
        """A lower bound on the cost from one on the objective."""
        return self.constant + max(0.0, proved) / self.scale

    def _scale(self) -> float:
        """The smallest scale that keeps every price whole, or the largest that keeps the sum small enough."""
        largest = sum(term.price * term.most for term in self.terms)
        small_enough = [scale for scale in SCALES if largest * scale <= LARGEST]
        for scale in small_enough:
            if all(abs(term.price * scale - round(term.price * scale)) < 1e-7 for term in self.terms):
                return scale
        return small_enough[-1] if small_enough else LARGEST / largest

    def _add(self, price: float, quantity: Minute, most: int) -> None:
        if price > 0 and most > 0:
            self.terms.append(Term(price, quantity, most))

    def _plan_end(self) -> Minute:
        """The latest end of any step; a variable, as it is only ever pushed down."""
        fixed = max((row.end for row in self.part.fixed.values()), default=self.facts.now)
        end = self.cp.new_int_var(min(fixed, self.until), max(fixed, self.until), "end of plan")
        for step in self.variables.steps.values():
            if not any(link.after in self.variables.steps for link in self.facts.links_out[step.facts.id]):
                self.cp.add(end >= step.end)
        return end

    def _order(self, order: Order) -> None:
        free = [step for step in order.steps if step in self.variables.steps]
        left_out = any(step in self.part.out for step in order.steps)
        ends = {step: self.part.fixed[step].end for step in order.steps if step in self.part.fixed}
        if not free and not left_out:
            self.constant += order_cost(self.facts.problem, order, ends, 0)
            return
        least = max([self.facts.problem.latest_close] if left_out else [*ends.values(), self.facts.now])
        self._price_finish(order, self._finish(order, free, left_out, least), least, left_out)

    def _finish(self, order: Order, free: list[str], left_out: bool, least: int) -> cp_model.IntVar:
        finish = self.cp.new_int_var(least, max(least, self.until), f"finish {order.id}")
        if left_out:
            self.cp.add(finish >= self.plan_end)
        for step in free:
            if not any(link.after in order.steps for link in self.facts.links_out[step]):
                self.cp.add(finish >= self.variables.end(step))
        return finish

    def _price_finish(self, order: Order, finish: cp_model.IntVar, least: int, left_out: bool) -> None:
        prices, until = self.prices, max(least, self.until)
        self._add(order.weight * prices.finish_hour / 60, finish - least, until - least)
        self.constant += order.weight * prices.finish_hour * least / 60
        self._add(order.weight * prices.late_hour / 60, self._late(order, finish, until), max(0, until - order.due))
        if order.hard and left_out:
            self.constant += order.weight * prices.missed_hard
        elif order.hard and until > order.due:
            missed = self.cp.new_bool_var(f"missed {order.id}")
            self.cp.add(finish <= order.due).only_enforce_if(~missed)
            self._add(order.weight * prices.missed_hard, missed, 1)

    def _late(self, order: Order, finish: cp_model.IntVar, until: int) -> Minute:
        if until <= order.due:
            return 0
        late = self.cp.new_int_var(0, until - order.due, f"late {order.id}")
        self.cp.add(late >= finish - order.due)
        return late

    def _makespan(self) -> None:
        now = self.facts.now
        span = self.cp.new_int_var(
            0, max(0, self.until - now, *(row.end - now for row in self.part.fixed.values())), ""
        )
        self.cp.add(span >= self.plan_end - now)
        self._add(self.prices.makespan_hour / 60, span, max(0, self.until - now))

    def _changeovers(self, turns: Turns) -> None:
        for step in self.variables.steps.values():
            self._add(self.prices.changeover_minute, changeover(step), max(step.changes))
        for name, minutes in turns.fixed_changes.items():
            self._add(self.prices.changeover_minute, minutes, self.part.fixed[name].changeover)
        fixed = [row for row in self.part.fixed.values() if row.step not in turns.fixed_changes]
        self.constant += self.prices.changeover_minute * sum(row.changeover for row in fixed)

    def _lost_windows(self) -> None:
        for step in self.variables.steps:
            for link in self.facts.links_in[step]:
                most = last_wait(link)
                if not self.facts.is_soft(link) or most is None:
                    continue
                closes = self.facts.begun_end[link.before] + most
                excess = self.cp.new_int_var(0, max(0, self.until - closes), "")
                self.cp.add(excess >= self.variables.start(step) - closes)
                self._add(self.prices.missed_window_hour / 60, excess, max(0, self.until - closes))

    def _moved(self) -> None:
        """A step that is not where the plan in force has it."""
        for name, step in self.variables.steps.items():
            row = self.facts.in_force.rows.get(name)
            if row is not None and self.facts.in_force.move_price:
                stays = self.cp.new_bool_var("")
                self.cp.add(step.start == row.start).only_enforce_if(stays)
                self._add(self.facts.in_force.move_price, ~stays, 1)


def _units(price: float, scale: float) -> int:
    return floor(price * scale + 1e-7)
