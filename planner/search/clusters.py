"""Steps that are placed together or not at all: tied by a window that must not be missed, or by a hold."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter

from planner.search.facts import Facts


@dataclass(frozen=True, slots=True)
class Cluster:
    """Steps in an order in which each comes after all it waits for; `waits_for` are other clusters' numbers."""

    number: int
    steps: tuple[str, ...]
    waits_for: frozenset[int]


class _Groups:
    """Steps by group; two groups can be made one."""

    def __init__(self, steps: list[str]) -> None:
        self.leader = {step: step for step in steps}

    def of(self, step: str) -> str:
        while self.leader[step] != step:
            self.leader[step] = self.leader[self.leader[step]]
            step = self.leader[step]
        return step

    def join(self, one: str, other: str) -> None:
        self.leader[self.of(one)] = self.of(other)


def clusters_of(facts: Facts) -> list[Cluster]:
    """All steps that have not begun, in clusters none of which waits, by any way round, for itself."""
    groups = _Groups(list(facts.steps))
    for links in facts.links_in.values():
        for link in links:
            if facts.ties(link):
                groups.join(link.before, link.after)
    for hold in facts.problem.holds:
        if hold.first in facts.steps and hold.last in facts.steps:
            groups.join(hold.first, hold.last)
    waits = _without_circles(facts, groups)
    return _numbered(facts, groups, waits)


def _without_circles(facts: Facts, groups: _Groups) -> dict[str, set[str]]:
    """Join the groups that wait for each other through a step between, until none does; who waits for whom."""
    while True:
        waits: dict[str, set[str]] = {groups.of(step): set() for step in facts.steps}
        for step, links in facts.links_in.items():
            waits[groups.of(step)] |= {groups.of(link.before) for link in links if link.before in facts.steps}
        for group, others in waits.items():
            others.discard(group)
        try:
            TopologicalSorter(waits).prepare()
        except CycleError as error:
            for one in error.args[1]:
                groups.join(one, error.args[1][0])
        else:
            return waits


def _numbered(facts: Facts, groups: _Groups, waits: dict[str, set[str]]) -> list[Cluster]:
    members: dict[str, list[str]] = defaultdict(list)
    for step in facts.order:
        members[groups.of(step)].append(step)
    number = {group: place for place, group in enumerate(members)}
    return [
        Cluster(number[group], tuple(steps), frozenset(number[other] for other in waits[group]))
        for group, steps in members.items()
    ]
