"""Rules about waits: every link within an allowed window, and each lost window listed."""

from __future__ import annotations

from collections.abc import Iterator

from planner.plan import Plan
from planner.problem import Link, Problem


def links_hold(problem: Problem, plan: Plan) -> Iterator[str]:
    """A wait lies in one of its allowed windows; only the last end of a begun step's windows is soft."""
    for link in _to_be_kept(problem, plan):
        wait = plan[link.after].start - plan[link.before].end
        if any(least <= wait and (most is None or wait <= most) for least, most in link.waits):
            continue
        if lost_minutes(problem, plan, link) == 0:
            yield f"{link.after} starts {wait} minutes after {link.before}, allowed is {_in_words(link)}"


def lost_windows_are_listed(problem: Problem, plan: Plan) -> Iterator[str]:
    """`missed` names each lost window of a begun step, once, with its excess, and nothing else."""
    lost = {}
    for link in _to_be_kept(problem, plan):
        minutes = lost_minutes(problem, plan, link)
        if minutes:
            lost[(link.before, link.after)] = minutes
    listed = [((missed.before, missed.after), missed.minutes) for missed in plan.missed]
    for pair, minutes in lost.items():
        if (pair, minutes) not in listed:
            yield f"the window from {pair[0]} to {pair[1]} is exceeded by {minutes} minutes and not listed so"
    for place, (pair, minutes) in enumerate(listed):
        if lost.get(pair) != minutes or (pair, minutes) in listed[:place]:
            yield f"missed lists {pair[0]} -> {pair[1]} with {minutes} minutes, which is not so"


def lost_minutes(problem: Problem, plan: Plan, link: Link) -> int:
    """By how much the last window after a begun step is exceeded; 0 where it is not, or is strict or open."""
    ends = [most for _, most in link.waits]
    if problem.step[link.before].begun is None or None in ends:
        return 0
    wait = plan[link.after].start - plan[link.before].end
    return max(0, wait - max(most for most in ends if most is not None))


def _to_be_kept(problem: Problem, plan: Plan) -> Iterator[Link]:
    """The links between placed steps, without those that are history because the later step has begun."""
    for link in problem.links:
        if problem.step[link.after].begun is None and link.before in plan and link.after in plan:
            yield link


def _in_words(link: Link) -> str:
    return " or ".join(f"{least} or more" if most is None else f"{least} to {most}" for least, most in link.waits)
