"""The course of a search: a bound, the whole at once where that is small, then parts of it until the stop."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

from planner.plan import Plan, Status
from planner.rules import broken_rules
from planner.search.best import Best
from planner.search.listing import ListRule, more_list_plans
from planner.search.stop import Stop

if TYPE_CHECKING:
    from planner.search.loop import Move

Observer = Callable[[float, Plan, float | None], None]
WHOLE_AT_MOST = 90  # steps that are thought through all at once, by all workers, before parts of them are
SEQUENCES_AT_MOST = 12  # the same where nothing counts but sequences: beyond, a search made for them is better
SHOP_BESIDE_AT_MOST = 150  # steps of a job shop that one worker thinks through, all at once, beside that search
BESIDE_AT_MOST = 250  # the same for workshops
BESIDE = 0.6  # of the seconds, for one worker to do so: it finds few better plans, but by far the best bound
WARM_UP = 0.15  # of the seconds, for the compiled search to find the plan that such a thought begins from
WARM_UP_SECONDS, WARM_UP_TRIES = 0.1, 2  # at most
LISTING = 0.03  # of the seconds, for more priorities of the list rule
SHARING = 0.15  # of the seconds, for the bound from what people and places cannot do at once


def _load_solver() -> None:
    """Loaded while a compiled search runs beside it."""
    import ortools.sat.python.cp_model  # noqa: F401


class Search:
    """The best plan so far and the best bound on any plan, while both are being improved."""

    def __init__(self, rule: ListRule, plan: Plan, *, workers: int, seed: int, stop: Stop, gap: float) -> None:
        rule.facts.stays = rule.facts.in_force.staying(plan)
        self.rule, self.workers, self.seed, self.stop = rule, workers, seed, stop
        self.chance = random.Random(seed)  # noqa: S311 - a repeatable search, no secret
        self.best = Best(plan, moved=rule.facts.in_force.moved, keeps_rules=self._keeps_rules, gap=gap)
        self.exact = False

    def told_to(self, observer: Observer | None) -> None:
        """The observer hears of the plan there is, of every better one and of what is proved of it."""
        if observer:
            observer(self.stop.seconds_gone(), self.best.plan, None)
            self.best.listeners.append(lambda plan, bound: observer(self.stop.seconds_gone(), plan, bound))

    def plan_with_bound(self) -> Plan:
        """The best plan with what is known of it."""
        plan, bound = self.best.plan, self.best.bound
        status = Status.OPTIMAL if self.best.is_proved() else Status.FEASIBLE  # whatever a plan to begin from said
        return replace(
            plan,
            status=Status.PARTIAL if plan.unplaced else status,
            bound=None if bound is None else min(bound, plan.cost),
            seconds=self.stop.seconds_gone(),
        )

    def run(self) -> None:
        """Bound, then the whole where that is small, then parts of it until the stop."""
        from planner.search.bound import lower_bound
        from planner.search.cpsat.part import is_exact
        from planner.search.moves import compiled_moves, rethinks
        from planner.search.sequences import is_pure, sequence_bound

        self.best.raise_bound(max(lower_bound(self.rule.facts), sequence_bound(self.rule.facts)))
        self.exact = is_exact(self.rule.facts)
        steps = self.rule.facts.steps
        if not any(step in self.best.plan for step in steps):
            return
        self._list_more()
        teams = [
            compiled_moves(self.rule, self.best.plan, self.seed + number, number) for number in range(self.workers)
        ]
        pure = is_pure(self.rule.facts)
        if len(steps) <= (SEQUENCES_AT_MOST if pure else WHOLE_AT_MOST):
            self._place_what_is_left_out()
            warm_up = min(WARM_UP_SECONDS, WARM_UP * self.stop.seconds_left())
            self._improve(teams, self.stop.part(warm_up, WARM_UP_TRIES), _load_solver)
            self._think_whole()
        if pure:
            beside = self.workers > 1 and self.rule.problem.links and len(steps) <= SHOP_BESIDE_AT_MOST
            self._improve(teams, self.stop, (lambda: self._think_whole(workers=1)) if beside else None)
            return
        for number, team in enumerate(teams, start=1):
            if number > 1 or len(teams) == 1 or not team:
                team.extend(rethinks(self.rule))
        self._improve(teams, self.stop, self._look_for_a_bound)

    def _list_more(self) -> None:
        """A better plan to begin from, by more priorities of the list rule, in a small part of the time."""
        part = self.stop.part(LISTING * self.stop.seconds_left())
        for plan in more_list_plans(self.rule):
            if part.reached() or self.best.is_good_enough():
                break
            self.best.offer(plan)
            part.count()

    def _improve(self, teams: list[list[Move]], stop: Stop, aside: Callable[[], None] | None = None) -> None:
        from planner.search.loop import improve

        if not self.best.is_good_enough():
            improve(self.best, teams, stop=stop, chance=self.chance, aside=aside)

    def _look_for_a_bound(self) -> None:
        """What one worker does before it joins the others: the whole at once where that may lead far, and sharing."""
        leads_far = WHOLE_AT_MOST < len(self.rule.facts.steps) <= BESIDE_AT_MOST
        if leads_far and self.workers > 1 and self.exact and not self.best.plan.unplaced:
            self._think_whole(seconds=BESIDE * self.stop.seconds_left(), workers=1)
        self._weigh_sharing()

    def _weigh_sharing(self) -> None:
        """A better bound from what people and places cannot do at once; it changes no plan."""
        from planner.search.bound import lower_bound

        if not self.stop.is_repeatable and not self.best.is_good_enough():
            share = self.stop.part(SHARING * self.stop.seconds_left())
            self.best.raise_bound(lower_bound(self.rule.facts, known=self.best.plan.cost, stop=share))

    def _keeps_rules(self, plan: Plan) -> bool:
        return not broken_rules(self.rule.problem, plan)

    def _place_what_is_left_out(self) -> None:
        """Try all steps at once where the list rule found no start for some that may have one."""
        left_out = {left.step for left in self.best.plan.unplaced} - self.rule.hopeless
        if left_out:
            self._think_whole(left_out, seconds=self.stop.seconds_left() / 2)

    def _think_whole(self, also: Iterable[str] = (), seconds: float | None = None, workers: int | None = None) -> None:
        """All steps at once, until the best plan, whoever finds it, is good enough for the bound."""
        from planner.search.bound import bound_with_something_out
        from planner.search.cpsat.model import think
        from planner.search.cpsat.part import whole

        if self.best.is_good_enough():
            return
        part = whole(self.rule.facts, self.best.plan, also)
        knows_all = self.exact and not part.out
        with_something_out = bound_with_something_out(self.rule.facts)  # the model places all
        rest = self.stop.part(self.stop.seconds_left() if seconds is None else seconds, self.stop.iterations or 1)

        def end_if_good_enough(*_: object) -> None:
            if self.best.is_good_enough():
                rest.now()

        def hear_bound(bound: float) -> None:
            if knows_all:
                self.best.raise_bound(min(bound, with_something_out))

        self.best.listeners.append(end_if_good_enough)
        try:
            thought = think(
                part,
                seconds=rest.seconds_left(),
                workers=workers or self.workers,
                seed=self.chance.randrange(1 << 30),
                stop=rest,
                watcher=self.best.offer,
                bound_watcher=hear_bound,
            )
        finally:
            self.best.listeners.remove(end_if_good_enough)
        if thought.plan:
            self.best.offer(thought.plan)
        hear_bound(thought.bound)
