"""The list rule: one cluster of steps after the other, by what is most pressing, each at its first spot.

A serial schedule generation scheme with time lags (Kolisch 1996 gives the scheme; Neumann and Zimmermann 2000 the
repair of a missed window by starting what comes before it later). It is tried with several priorities; the cheapest
plan wins.
"""

from __future__ import annotations

import heapq
from collections import defaultdict
from collections.abc import Iterator, Mapping

from planner.plan import Plan
from planner.problem import Problem
from planner.search.books import Books
from planner.search.clusters import Cluster, clusters_of
from planner.search.drafting import plan_of
from planner.search.facts import Facts, InForce, last_wait
from planner.search.placing import Draft, NoSpotError, enter_begun_holds, place_cluster
from planner.search.pressing import PRIORITIES, Key, Pressing, as_they_came, by_due

STEPS_IN_ALL = 3_000  # steps placed over all priorities tried: a large problem gets fewer of them
PATIENCE = 6  # minutes a step may wait for each minute of changeover saved


class ListRule:
    """Makes valid plans of one problem, one for each order of its clusters."""

    def __init__(self, problem: Problem, in_force: InForce | None = None) -> None:
        self.problem = problem
        self.facts = Facts(problem, in_force)
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
        return (self._rank(cluster), min(key[step] for step in cluster.steps), cluster.number)

    def _rank(self, cluster: Cluster) -> int:
        """What stays comes before what must come first, and that before all else."""
        if any(step in self.facts.stays for step in cluster.steps):
            return -1
        return int(cluster.number not in self.first)

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


def list_plans(rule: ListRule, start: Plan | None = None) -> Iterator[Plan]:
    """The plans of the list rule by several priorities; the order of `start` is tried first where there is one."""
    pressing = Pressing(rule.facts)
    if start is not None:
        yield rule.plan(pressing.as_in(start), PATIENCE)
    for priority in PRIORITIES[: _tries(rule)]:
        yield rule.plan(priority(pressing), PATIENCE)
    for plain in (by_due, as_they_came) if _tries(rule) else (by_due,):  # what begins here is never behind these
        yield rule.plan(plain(pressing))


def more_list_plans(rule: ListRule) -> Iterator[Plan]:
    """Plans by the priorities for which there was no time at first, and by all without patience."""
    pressing = Pressing(rule.facts)
    for priority in PRIORITIES[_tries(rule) :]:
        yield rule.plan(priority(pressing), PATIENCE)
    for priority in PRIORITIES:
        yield rule.plan(priority(pressing))


def _tries(rule: ListRule) -> int:
    """How many priorities are tried at once beside the plain rules; none where two passes would take too long."""
    tries = STEPS_IN_ALL // max(1, len(rule.facts.steps))
    return tries if tries > 1 else 0
