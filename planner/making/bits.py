"""The order of bits in a bed load: each is set up once and works across the whole bed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import groupby, pairwise

from planner.making.pieces import Pass

Turn = tuple[str, int]
"""A bit and which of its turns in one piece it is: a piece that needs a bit again after another sets it up twice."""

Cut = tuple[Turn, float]
"""A turn of a bit at one piece and its minutes."""


def cuts_of(passes: Iterable[Pass]) -> tuple[Cut, ...]:
    """A piece's passes as turns of bits; passes with the same bit right after each other are one turn."""
    turns: Counter[str] = Counter()
    cuts = []
    for bit, group in groupby(passes, key=lambda each: each.bit):
        turns[bit] += 1
        cuts.append(((bit, turns[bit]), sum(each.minutes for each in group)))
    return tuple(cuts)


@lru_cache(maxsize=20_000)
def order_of_turns(sequences: frozenset[tuple[Turn, ...]]) -> tuple[Turn, ...] | None:
    """One order of turns that keeps the order of every piece, with all that cuts a piece out after all that doesn't.

    None if there is no such order. The last turn of a sequence is what cuts its piece out.
    """
    after = _before_and_after(sequences)
    waiting = {turn: sum(turn in later for later in after.values()) for turn in after}
    order: list[Turn] = []
    while waiting:
        ready = [turn for turn, befores in waiting.items() if befores == 0]
        if not ready:
            return None
        turn = min(ready)
        order.append(turn)
        del waiting[turn]
        for later in after[turn]:
            waiting[later] -= 1
    return tuple(order)


def bits_in_order(order: Sequence[Turn]) -> tuple[tuple[str, tuple[Turn, ...]], ...]:
    """The bits to set up one after the other, each with the turns it works."""
    return tuple((bit, tuple(group)) for bit, group in groupby(order, key=lambda turn: turn[0]))


def _before_and_after(sequences: Iterable[tuple[Turn, ...]]) -> dict[Turn, set[Turn]]:
    """For each turn, the turns that must come after it."""
    after: dict[Turn, set[Turn]] = {turn: set() for sequence in sequences for turn in sequence}
    last = {sequence[-1] for sequence in sequences}
    for sequence in sequences:
        for turn, later in pairwise(sequence):
            after[turn].add(later)
        for turn in sequence[:-1]:
            after[turn] |= last - {turn}
    return after
