"""Rules about what is left out: everything that needs it is too, and nothing is that could still be done."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from graphlib import TopologicalSorter

from planner.judging.starts_left import places_beside
from planner.plan import Placed, Plan
from planner.problem import Link, Problem

Needs = dict[str, set[str]]
FEW = 12  # steps that are looked for though a smaller part of them could be placed by itself


def what_follows_is_left_out(problem: Problem, plan: Plan) -> Iterator[str]:
    """Every step after one that is left out is left out too, and so is one it had to follow within a window."""
    out = {left.step for left in plan.unplaced}
    for link in problem.links:
        if problem.step[link.after].begun:
            continue
        if link.before in out and link.after not in out:
            yield f"{link.after} is placed though {link.before}, which comes before it, is left out"
        if link.after in out and link.before not in out and ties_before(problem, link):
            yield f"{link.before} is placed though {link.after}, which must follow in time, is left out"


def ties_before(problem: Problem, link: Link) -> bool:
    """Whether the earlier step cannot be done without the later one: it has not begun and every wait has an end."""
    return problem.step[link.before].begun is None and all(most is not None for _, most in link.waits)


def left_out_only_for_want_of_a_start(problem: Problem, plan: Plan) -> Iterator[str]:
    """A step is left out only where it, with all it must stand with, has no start beside the rest of the plan."""
    for places in starts_left(problem, plan):
        first = min(places, key=lambda stands: stands.start)
        others = " and ".join(f"{each.step} at {each.start}" for each in places if each is not first)
        yield f"{first.step} is left out though it could start at {first.start}{others and ', with ' + others}"


def starts_left(problem: Problem, plan: Plan) -> Iterator[list[Placed]]:
    """Steps that are left out, each with all it must stand with, placed beside the plan: one way for each that fits.

    What takes a set-up away from the steps that stand is not looked for together with what would bring it back.
    """
    told: set[str] = set()
    for group in _groups(problem, plan):
        places = None if group & told else places_beside(problem, plan, group)
        if places:
            told |= group
            yield places


def _groups(problem: Problem, plan: Plan) -> list[frozenset[str]]:
    """What is left out in the least parts that could be placed by themselves; again with what gives them back room."""
    out = sorted(left.step for left in plan.unplaced if not problem.step[left.step].begun)
    before: Needs = {step: set() for step in out}
    needs: Needs = {step: set() for step in out}
    for link in problem.links:
        if link.before in needs and link.after in needs:
            before[link.after].add(link.before)
            needs[link.after].add(link.before)
            if ties_before(problem, link):
                needs[link.before].add(link.after)
    least = list(_least(needs, TopologicalSorter(before).static_order()))
    wider = [_reached([*group, *_give_back_room(problem, plan, group) & needs.keys()], needs) for group in least]
    groups = {*least, *(frozenset(group) for group in wider if group and len(group) <= FEW)}
    return sorted(groups, key=lambda group: (len(group), sorted(group)))


def _give_back_room(problem: Problem, plan: Plan, group: Collection[str]) -> set[str]:
    """The steps at whose end a station is free again that the group may need, or hold."""
    names = {name for step in group for need in problem.step[step].stations for name in need.any_of}
    names |= {hold.station for hold in problem.holds if hold.first in group}
    stands = [hold for hold in problem.holds if hold.first in group or hold.first in plan]
    return {hold.last for hold in stands if hold.station in names}


def _least(needs: Needs, order: Iterable[str]) -> Iterator[frozenset[str]]:
    """The sets of steps that need no other and all need each other: no smaller one could be placed by itself.

    What comes first by links is looked at first, for whoever needs what is settled already is in none of the others.
    """
    needed_by: Needs = {step: set() for step in needs}
    for step, others in needs.items():
        for other in others:
            needed_by[other].add(step)
    settled: set[str] = set()
    for step in order:
        if step in settled:
            continue
        settled.add(step)
        group = _reached([step], needs, settled)
        if group and _reached([step], {each: needed_by[each] & group for each in group}) == group:
            settled |= group
            yield frozenset(group)


def _reached(first: Iterable[str], ways: Needs, but: Collection[str] = ()) -> set[str] | None:
    """The steps that ways lead to from the first ones, these included; None where one leads to any of `but`."""
    found = set(first)
    waiting = list(found)
    while waiting:
        further = ways[waiting.pop()] - found
        if any(step in but for step in further):
            return None
        found |= further
        waiting += further
    return found
