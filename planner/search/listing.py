"""The list rule: one cluster of steps after the other, by what is most pressing, each at its first spot.

A serial schedule generation scheme with time lags (Kolisch 1996 gives the scheme; Neumann and Zimmermann 2000 the
repair of a missed window by starting what comes before it later). It is tried with several priorities; the cheapest
plan wins.
"""

from __future__ import annotations

import heapq
from collections import defaultdict
from collections.abc import Iterable, Mapping
from itertools import chain

from planner.costing import cost
from planner.plan import Plan
from planner.problem import Problem
from planner.search.books import Books
from planner.search.clusters import Cluster, clusters_of
from planner.search.drafting import plan_of
from planner.search.facts import Facts, last_wait
from planner.search.placing import Draft, NoSpotError, enter_begun_holds, place_cluster
from planner.search.pressing import PRIORITIES, Key, Pressing

STEPS_IN_ALL = 3_000  # steps placed over all priorities tried: a large problem gets fewer of them
PATIENCE = 6  # minutes a step may wait for each minute of changeover saved


class ListRule:
    """Makes valid plans of one problem, one for each order of its clusters."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.facts = Facts(problem)
        self.clusters = clusters_of(self.facts)
        self.cluster_of = {step: cluster for cluster in self.clusters for step in cluster.steps}
        self.followers: dict[int, list[Cluster]] = defaultdict(list)
        for cluster in self.clusters:
            for other in cluster.waits_for:
                self.followers[other].append(cluster)
        self.first = self._must_come_first()
        self.hopeless = self._hopeless()

    def plan(self, key: Mapping[str, Key], patience: float = 0) -> Plan:
        """The plan that places clusters by their most pressing step; the least key first."""
        draft = self.new_draft(patience)
        self._fill(draft, key)
        return plan_of(draft)

    def new_draft(self, patience: float = 0) -> Draft:
        """Books with nothing but begun steps and what they hold; hopeless steps are out."""
        draft = Draft(self.facts, Books(self.facts, patience), out=set(self.hopeless))
        enter_begun_holds(draft)
        return draft

    def _hopeless(self) -> set[str]:
        """The steps with no start even in an empty shop, and those they drag along."""
        books = Books(self.facts)
        roots = {
            step for step, facts in self.facts.steps.items() if books.first_spot(facts, facts.earliest, {}) is None
        }
        return self.facts.dragged_out(roots)

    def _must_come_first(self) -> set[int]:
        """The clusters that end a begun hold or follow a begun step in a window, and all they wait for."""
        steps = [hold.last for hold in self.problem.holds if hold.first in self.facts.begun_end]
        steps += [
            link.after
            for links in self.facts.links_in.values()
            for link in links
            if self.facts.is_soft(link) and last_wait(link) is not None
        ]
        first: set[int] = set()
        waiting = [self.cluster_of[step].number for step in steps if step in self.cluster_of]
        while waiting:
            number = waiting.pop()
            if number not in first:
                first.add(number)
                waiting += self.clusters[number].waits_for
        return first

    def _fill(self, draft: Draft, key: Mapping[str, Key]) -> None:
        open_waits = {cluster.number: len(cluster.waits_for) for cluster in self.clusters}
        put_off: set[int] = set()
        ready = [self._entry(cluster, key) for cluster in self.clusters if not cluster.waits_for]
        heapq.heapify(ready)
        while ready:
            cluster = self.clusters[heapq.heappop(ready)[-1]]
            if not self._place(draft, cluster, may_wait=bool(ready) and cluster.number not in put_off):
                put_off.add(cluster.number)
                heapq.heappush(ready, (1, (float("inf"),), cluster.number))
                continue
            for follower in self.followers[cluster.number]:
                open_waits[follower.number] -= 1
                if not open_waits[follower.number]:
                    heapq.heappush(ready, self._entry(follower, key))

    def _entry(self, cluster: Cluster, key: Mapping[str, Key]) -> tuple[int, Key, int]:
        return (cluster.number not in self.first, min(key[step] for step in cluster.steps), cluster.number)

    def _place(self, draft: Draft, cluster: Cluster, *, may_wait: bool) -> bool:
        """Place what of a cluster can be placed; False where it had better wait until begun holds have ended."""
        while True:
            try:
                place_cluster(draft, cluster)
            except NoSpotError as error:
                if may_wait and cluster.number in self.first:
                    return False
                draft.out |= self.facts.dragged_out({error.step})
            else:
                return True


def list_plan(problem: Problem, rule: ListRule | None = None, start: Plan | None = None) -> Plan:
    """The cheapest plan of the list rule over its priorities; the order of `start` is tried too where there is one."""
    rule = rule or ListRule(problem)
    pressing = Pressing(rule.facts)
    tries = max(1, STEPS_IN_ALL // max(1, len(rule.facts.steps)))
    keys = (priority(pressing) for priority in PRIORITIES[:tries])
    as_before = [] if start is None else [pressing.as_in(start)]
    return cheapest(problem, (rule.plan(key, PATIENCE) for key in chain(as_before, keys)))


def cheapest(problem: Problem, plans: Iterable[Plan]) -> Plan:
    """The plan with the lowest cost; the first of equals."""
    return min(plans, key=lambda plan: cost(problem, plan))
