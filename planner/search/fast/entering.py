"""Compiled: a step is entered into a plan or taken out of it, and everything can be undone."""

from __future__ import annotations

from planner.search.compiled import inside
from planner.search.fast.table import NONE, Shop
from planner.search.fast.words import clear_bits, set_bits

ENTERED, TAKEN_OUT, CHANGED, LOADED = 0, 1, 2, 3


@inside
def note(shop: Shop, what: int, one: int, two: int, three: int, four: int, five: int) -> None:
    """Remember what was done."""
    line = shop.log[shop.all[0].log]
    line[0], line[1], line[2], line[3], line[4], line[5] = what, one, two, three, four, five
    shop.all[0].log += 1


@inside
def take_minutes(shop: Shop, row: int, start: int, end: int, sign: int) -> None:
    """Take the minutes of a row of bits, or free them where `sign` is negative."""
    if sign > 0:
        clear_bits(shop.bits[row], start, end)
    else:
        set_bits(shop.bits[row], start, end)


@inside
def add_load(shop: Shop, station: int, load: int, start: int, end: int) -> None:
    """Take room at a station from `start` up to `end`; give it back where `load` is negative."""
    if end <= start:
        return
    row = shop.station[station].row
    if row != NONE:
        take_minutes(shop, row, start, end, load)
    else:
        used = shop.used[shop.station[station].profile]
        for minute in range(start, end):
            used[minute] += load


@inside
def use_stations(shop: Shop, step: int, start: int, end: int, sign: int) -> None:
    """Take the stations of a placed step for a stretch, or give them back."""
    choice = shop.choice[shop.step[step].chosen]
    for at in range(choice.use, choice.use_end):
        add_load(shop, shop.pair[at, 0], sign * shop.pair[at, 1], start, end)


@inside
def use_hands(shop: Shop, step: int, sign: int) -> None:
    """Take a placed step's person for it and the changeover before it, or let them go."""
    row = shop.step[step]
    if row.person == NONE:
        return
    for at in range(row.hands, row.hands_end):
        take_minutes(shop, row.person, row.start + shop.pair[at, 0], row.start + shop.pair[at, 1], sign)
    take_minutes(shop, row.person, row.start - row.change, row.start, sign)


@inside
def first_turn_from(shop: Shop, queue: int, minute: int) -> int:
    """The place of the first turn of a queue that starts at `minute` or later."""
    low, high = 0, shop.queue[queue].turns
    while low < high:
        middle = (low + high) >> 1
        if shop.step[shop.turn[queue, middle]].start < minute:
            low = middle + 1
        else:
            high = middle
    return low


@inside
def enter(shop: Shop, step: int, start: int, person: int, choice: int, change: int) -> None:
    """Place a step."""
    row = shop.step[step]
    row.start, row.person, row.chosen, row.change = start, person, choice, change
    use_stations(shop, step, start - change, start + row.minutes, 1)
    use_hands(shop, step, 1)
    queue = shop.choice[choice].queue
    if queue != NONE:
        place = first_turn_from(shop, queue, start)
        for at in range(shop.queue[queue].turns, place, -1):
            shop.turn[queue, at] = shop.turn[queue, at - 1]
        shop.turn[queue, place] = step
        shop.queue[queue].turns += 1


@inside
def take_out(shop: Shop, step: int) -> None:
    """Take a placed step out again."""
    row = shop.step[step]
    use_stations(shop, step, row.start - row.change, row.start + row.minutes, -1)
    use_hands(shop, step, -1)
    queue = shop.choice[row.chosen].queue
    if queue != NONE:
        place = first_turn_from(shop, queue, row.start)
        shop.queue[queue].turns -= 1
        for at in range(place, shop.queue[queue].turns):
            shop.turn[queue, at] = shop.turn[queue, at + 1]
    row.start = NONE


@inside
def set_change(shop: Shop, step: int, change: int) -> None:
    """Make the changeover before a placed step longer or shorter."""
    row = shop.step[step]
    first, last = row.start - max(change, row.change), row.start - min(change, row.change)
    sign = 1 if change > row.change else -1
    use_stations(shop, step, first, last, sign)
    if row.person != NONE:
        take_minutes(shop, row.person, first, last, sign)
    row.change = change


@inside
def back_to(shop: Shop, mark: int) -> None:
    """Undo everything noted since `mark`."""
    while shop.all[0].log > mark:
        shop.all[0].log -= 1
        line = shop.log[shop.all[0].log]
        if line[0] == ENTERED:
            take_out(shop, line[1])
        elif line[0] == TAKEN_OUT:
            enter(shop, line[1], line[2], line[3], line[4], line[5])
        elif line[0] == CHANGED:
            set_change(shop, line[1], line[2])
        else:
            add_load(shop, line[1], -line[2], line[3], line[4])
