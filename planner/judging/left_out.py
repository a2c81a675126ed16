"""Rules about what is left out: everything that needs it is too, and nothing is that could still be done."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from planner.judging.starts_left import places_beside
from planner.plan import Placed, Plan
from planner.problem import Link, Problem


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
    """Steps that are left out, each with all it must stand with, placed beside the plan: one way for each that fits."""
    for group in _groups(problem, plan):
        places = places_beside(problem, plan, group)
        if places:
            yield places


def _groups(problem: Problem, plan: Plan) -> list[frozenset[str]]:
    """What is left out in the least parts that could be placed by themselves, the smallest first."""
    out = {left.step for left in plan.unplaced if not problem.step[left.step].begun}
    needs: dict[str, set[str]] = defaultdict(set)
    for link in problem.links:
        if {link.before, link.after} <= out:
            needs[link.after].add(link.before)
            if ties_before(problem, link):
                needs[link.before].add(link.after)
    groups = {frozenset(_with_all_it_needs(step, needs)) for step in out}
    least = [group for group in groups if not any(other < group for other in groups)]
    return sorted(least, key=lambda group: (len(group), sorted(group)))


def _with_all_it_needs(step: str, needs: dict[str, set[str]]) -> set[str]:
    found: set[str] = set()
    waiting = [step]
    while waiting:
        step = waiting.pop()
        if step not in found:
            found.add(step)
            waiting += needs[step]
    return found
