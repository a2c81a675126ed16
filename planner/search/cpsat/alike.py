"""Steps that could change places with each other: of plans that differ in nothing else, one is enough.

Where they belong to several orders, each order's come one after the other: the order with the last of them loses
nothing by that, and every other one is ready no later.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import chain

from planner.plan import Placed
from planner.search.cpsat.part import Part

Block = list[str]  # steps of the same orders


def groups_alike(part: Part) -> list[list[Block]]:
    """The free steps that could change places, in blocks; blocks and steps as they stand in the plan."""
    found: dict[object, dict[object, Block]] = defaultdict(lambda: defaultdict(list))
    for step in sorted(part.free):
        if not _matters_elsewhere(part, step):
            found[_shape(part, step)][_owners(part, step)].append(step)
    groups = [list(blocks.values()) for blocks in found.values() if sum(map(len, blocks.values())) > 1]
    for blocks in groups:
        for block in blocks:
            block.sort(key=lambda step: part.plan[step].start)
        blocks.sort(key=lambda block: part.plan[block[-1]].start)
    return groups


def in_blocks(part: Part, groups: list[list[Block]]) -> Iterator[tuple[str, Placed]]:
    """Where each step of a group stands once they have changed places so that each block follows another."""
    for blocks in groups:
        steps = list(chain.from_iterable(blocks))
        yield from zip(steps, sorted((part.plan[step] for step in steps), key=lambda row: row.start), strict=True)


def _owners(part: Part, step: str) -> tuple[str, ...]:
    """The orders a step belongs to."""
    return tuple(order.id for order in part.facts.orders_of[step])


def _matters_elsewhere(part: Part, step: str) -> bool:
    """Whether something besides links and orders asks where just this step stands."""
    return step not in part.plan or step in part.facts.in_force.rows or bool(part.facts.holds_of.get(step))


def _shape(part: Part, step: str) -> object:
    """What steps that can change places have in common."""
    facts = part.facts.steps[step]
    return (
        (facts.minutes, facts.hands, facts.watch, facts.people, facts.choices, facts.loads),
        (facts.earliest, facts.state_in, facts.leaves),
        frozenset((link.before, link.waits) for link in part.facts.links_in[step]),
        frozenset((link.after, link.waits) for link in part.facts.links_out[step]),
    )
