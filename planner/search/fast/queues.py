"""Compiled: the changeovers in a queue of turns follow from the state that each turn finds."""

from __future__ import annotations

from planner.search.compiled import inside
from planner.search.fast.entering import CHANGED, first_turn_from, note, set_change
from planner.search.fast.spots import after_taken, changeover, heir_of, room_again, spared_minutes, state_before
from planner.search.fast.table import NONE, Shop


@inside
def change_to(shop: Shop, step: int, change: int) -> None:
    """Set a changeover so that it can be undone."""
    note(shop, CHANGED, step, shop.step[step].change, 0, 0, 0)
    set_change(shop, step, change)


@inside
def shorten_heir(shop: Shop, queue: int, step: int) -> None:
    """The turn after a new one may need a shorter changeover than before."""
    place = first_turn_from(shop, queue, shop.step[step].start)
    spared = spared_minutes(shop, queue, place + 1, step, state_before(shop, queue, place))
    if spared > 0:
        heir = heir_of(shop, queue, place + 1)
        change_to(shop, heir, shop.step[heir].change - spared)


@inside
def can_lengthen(shop: Shop, step: int, change: int) -> bool:
    """Whether there is room right before a turn for a longer changeover."""
    row = shop.step[step]
    first, last = row.start - change, row.start - row.change
    if first < row.earliest or (row.person != NONE and after_taken(shop, row.person, first, last) != NONE):
        return False
    for at in range(shop.choice[row.chosen].use, shop.choice[row.chosen].use_end):
        if room_again(shop, shop.pair[at, 0], shop.pair[at, 1], first, last, True) != NONE:
            return False
    return True


@inside
def mend_queue(shop: Shop, queue: int) -> int:
    """Make every changeover fit what its turn finds; NONE, or the first turn for whose changeover there is no room."""
    before = shop.queue[queue].state
    for place in range(shop.queue[queue].turns):
        step = shop.turn[queue, place]
        needed = changeover(shop, queue, before, shop.step[step].state_in)
        if needed > shop.step[step].change and not can_lengthen(shop, step, needed):
            return step
        if needed != shop.step[step].change:
            change_to(shop, step, needed)
        if shop.step[step].leaves != NONE:
            before = shop.step[step].leaves
    return NONE
