"""Compiled: the first spot for a step, over everyone who can do it, everywhere it can be done, in every gap."""

from __future__ import annotations

from planner.search.compiled import inside
from planner.search.fast.entering import first_turn_from
from planner.search.fast.table import FAR, NONE, Shop
from planner.search.fast.words import last_taken, next_free

GAPS_TRIED = 12  # gaps weighed after the first that fits, in search of a shorter changeover


@inside
def after_taken(shop: Shop, row: int, start: int, end: int) -> int:
    """NONE where a row of bits is free all the stretch long, else the first free minute after what is in the way."""
    taken = last_taken(shop.bits[row], start, end)
    return NONE if taken < 0 else next_free(shop.bits[row], taken + 1)


@inside
def room_again(shop: Shop, station: int, load: int, start: int, end: int, in_hours: bool) -> int:
    """NONE where a station has room all the stretch long, else the first minute worth trying after it has not."""
    row = shop.station[station]
    if row.row != NONE:
        again = after_taken(shop, row.row, start, end)
        if again != NONE:
            return again
    else:
        used, most = shop.used[row.profile], row.capacity - load
        minute = end - 1
        while minute >= start and used[minute] <= most:
            minute -= 1
        if minute >= start:
            while minute < shop.all[0].horizon and used[minute] > most:
                minute += 1
            return minute
    return after_taken(shop, row.open_row, start, end) if in_hours and row.open_row != NONE else NONE


@inside
def later(shop: Shop, step: int, person: int, choice: int, change: int, minute: int) -> int:
    """`minute` where the step, its changeover first, can be taken up then; else the first minute worth trying next."""
    row = shop.step[step]
    begins = minute + change
    if person != NONE:
        if change > 0:
            again = after_taken(shop, person, minute, begins)
            if again != NONE:
                return again
        for at in range(row.hands, row.hands_end):
            again = after_taken(shop, person, begins + shop.pair[at, 0], begins + shop.pair[at, 1])
            if again != NONE:
                return again - shop.pair[at, 0] - change
    for at in range(row.watch, row.watch_end):
        again = after_taken(shop, shop.all[0].watched, begins + shop.pair[at, 0], begins + shop.pair[at, 1])
        if again != NONE:
            return again - shop.pair[at, 0] - change
    for at in range(shop.choice[choice].use, shop.choice[choice].use_end):
        again = room_again(shop, shop.pair[at, 0], shop.pair[at, 1], minute, begins + row.minutes, True)
        if again != NONE:
            return again
    return minute


@inside
def first_start(shop: Shop, step: int, person: int, choice: int, change: int, minute: int, last: int) -> int:
    """The first minute from `minute` to `last` at which the step, changeover first, can be taken up; NONE without."""
    last = min(last, shop.all[0].horizon - shop.step[step].minutes - change)
    while minute <= last:
        next_try = later(shop, step, person, choice, change, minute)
        if next_try == minute:
            return minute
        minute = next_try
    return NONE


@inside
def changeover(shop: Shop, queue: int, before: int, wanted: int) -> int:
    """Minutes to set a station up for `wanted`."""
    return 0 if before < 0 or wanted < 0 else shop.changeover[queue, before, wanted]


@inside
def state_before(shop: Shop, queue: int, place: int) -> int:
    """What is set up before the turn at a place of a queue."""
    for at in range(place - 1, -1, -1):
        leaves = shop.step[shop.turn[queue, at]].leaves
        if leaves != NONE:
            return leaves
    return shop.queue[queue].state


@inside
def heir_of(shop: Shop, queue: int, place: int) -> int:
    """The turn whose changeover depends on what is set up just before a place; NONE without."""
    for at in range(place, shop.queue[queue].turns):
        step = shop.turn[queue, at]
        if shop.step[step].state_in != NONE:
            return step
        if shop.step[step].leaves != NONE:
            return NONE
    return NONE


@inside
def spared_minutes(shop: Shop, queue: int, place: int, step: int, before: int) -> int:
    """By how much a step put at a place of a queue makes the next changeover shorter; negative: longer."""
    heir = heir_of(shop, queue, place)
    if heir == NONE:
        return 0
    leaves = before if shop.step[step].leaves == NONE else shop.step[step].leaves
    return shop.step[heir].change - changeover(shop, queue, leaves, shop.step[heir].state_in)


@inside
def offer(shop: Shop, best: float, score: float, start: int, person: int, choice: int, change: int) -> float:
    """Keep a spot if it is the best so far."""
    if score >= best:
        return best
    spot = shop.all[0]
    spot.start, spot.person, spot.choice, spot.change = start, person, choice, change
    return score


@inside
def best_gap(shop: Shop, step: int, person: int, choice: int, low: int, patience: float, best: float) -> float:
    """Weigh the gaps between the turns of a station with states, from `low` on; the best score there is."""
    row, queue = shop.step[step], shop.choice[choice].queue
    bias = 0.0 if person == NONE else shop.bias[person]
    place = max(0, first_turn_from(shop, queue, low + 1) - 1)
    before, opens, found = state_before(shop, queue, place), 0, 0
    if place > 0:
        opens = end_of(shop, shop.turn[queue, place - 1])
    while found <= GAPS_TRIED and opens + bias < best:
        closes = FAR
        if place < shop.queue[queue].turns:
            turn = shop.step[shop.turn[queue, place]]
            closes = turn.start - turn.change
        change = changeover(shop, queue, before, row.state_in)
        if closes - opens >= change + row.minutes:
            spared = spared_minutes(shop, queue, place, step, before)
            if spared >= 0:
                minute = max(opens, row.earliest, low - change)
                last = closes - change - row.minutes
                if best < FAR:
                    last = min(last, int(best - bias + patience * (spared - change)) + 1)
                start = first_start(shop, step, person, choice, change, minute, last)
                if start != NONE:
                    start += change
                    score = start + bias + patience * (change - spared)
                    best = offer(shop, best, score, start, person, choice, change)
                    found += 1
        if place >= shop.queue[queue].turns:
            break
        opens = end_of(shop, shop.turn[queue, place])
        if shop.step[shop.turn[queue, place]].leaves != NONE:
            before = shop.step[shop.turn[queue, place]].leaves
        place += 1
    return best


@inside
def end_of(shop: Shop, step: int) -> int:
    """When a placed step ends."""
    return shop.step[step].start + shop.step[step].minutes


@inside
def best_spot(shop: Shop, step: int, low: int, patience: float) -> bool:
    """Find the best spot for a step from `low` on; False where there is none."""
    row, best = shop.step[step], float(FAR)
    for choice in range(row.choice, row.choice_end):
        for at in range(row.people, row.people_end):
            person = shop.item[at]
            if shop.choice[choice].queue != NONE:
                best = best_gap(shop, step, person, choice, low, patience, best)
            else:
                bias = 0.0 if person == NONE else shop.bias[person]
                last = FAR if best >= FAR else int(best - bias) + 1
                start = first_start(shop, step, person, choice, 0, low, last)
                if start != NONE:
                    best = offer(shop, best, start + bias, start, person, choice, 0)
    return best < FAR
