"""Steps that a cluster was given up with, tried again with only what they cannot be done without."""

from __future__ import annotations

from planner.search.clusters import Cluster
from planner.search.placing import Draft, NoSpotError, place_cluster


def give_second_chances(draft: Draft, hopeless: set[str]) -> None:
    """Place what was left out though it has a start, until nothing more can be."""
    while sum(_place(draft, group) for group in _least_groups(draft, draft.out - hopeless)):
        pass


def _place(draft: Draft, group: frozenset[str]) -> bool:
    if any(step in draft.spots for step in group):
        return False  # another group has taken it along
    steps = tuple(sorted(group, key=draft.facts.order.__getitem__))
    draft.out -= group
    try:
        place_cluster(draft, Cluster(0, steps, frozenset()))
    except NoSpotError:
        draft.out |= group
        return False
    return True


def _least_groups(draft: Draft, out: set[str]) -> list[frozenset[str]]:
    """The smallest parts of what is out that could be placed by themselves."""
    groups = {frozenset(_needed_by(draft, step)) for step in out}
    least = [group for group in groups if not any(other < group for other in groups)]
    return sorted((group for group in least if group <= out and not _ends_a_hold(draft, group)), key=sorted)


def _needed_by(draft: Draft, step: str) -> set[str]:
    """A step with all that must still be placed for it."""
    facts, needed = draft.facts, set[str]()
    waiting = [step]
    while waiting:
        step = waiting.pop()
        if step not in needed:
            needed.add(step)
            waiting += [link.before for link in facts.links_in[step] if draft.end(link.before) is None]
            waiting += [link.after for link in facts.links_out[step] if facts.ties(link)]
    return needed


def _ends_a_hold(draft: Draft, group: frozenset[str]) -> bool:
    """Whether a step of the group would end what is held to the horizon without it."""
    return any(hold.first in draft.spots for step in group for hold in draft.facts.holds_of[step] if hold.last == step)
