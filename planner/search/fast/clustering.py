"""Compiled: a cluster of steps is placed, each at its first spot; where a window would be missed, what is before later.

The repair of a missed window by starting what comes before it later is that of Neumann and Zimmermann (2000).
"""

from __future__ import annotations

import numpy as np

from planner.search.compiled import compiled, inside
from planner.search.fast.entering import ENTERED, LOADED, TAKEN_OUT, add_load, back_to, enter, note, take_out
from planner.search.fast.queues import shorten_heir
from planner.search.fast.spots import best_spot, end_of, room_again
from planner.search.fast.table import FAR, MARK, NONE, Shop

MOST_TRIES = 400  # later starts tried for one cluster before it is given up
NO_SPOT = -2


@inside
def end_before(shop: Shop, link: int) -> int:
    """When the step before a link has ended."""
    before = shop.link[link].before
    return shop.link[link].ended if before == NONE else end_of(shop, before)


@inside
def first_in_windows(shop: Shop, step: int, minute: int) -> int:
    """The first minute from `minute` on that no link forbids, but for the end of a last window."""
    settled = False
    while not settled:
        settled = True
        for link in range(shop.step[step].link, shop.step[step].link_end):
            wait = minute - end_before(shop, link)
            following = FAR
            for at in range(shop.link[link].wait, shop.link[link].wait_end):
                if shop.pair[at, 0] <= wait <= shop.pair[at, 1]:
                    following = wait
                    break
                if shop.pair[at, 0] > wait:
                    following = min(following, shop.pair[at, 0])
            if wait < following < FAR:
                minute += following - wait
                settled = False
    return minute


@inside
def tied_later(shop: Shop, step: int, minute: int) -> int:
    """Raise the steps before whose last window `minute` misses; the place of the first of them, NONE where none is."""
    first = NONE
    for number in range(shop.step[step].link, shop.step[step].link_end):
        link = shop.link[number]
        if link.ties:
            late = minute - end_before(shop, number) - link.last
            if late > 0:
                shop.step[link.before].low = shop.step[link.before].start + late
                place = shop.step[link.before].place
                first = place if first == NONE else min(first, place)
    return first


@inside
def load_between(shop: Shop, station: int, load: int, start: int, end: int) -> None:
    """Take room for a hold, or give it back, so that it can be undone."""
    add_load(shop, station, load, start, end)
    note(shop, LOADED, station, load, start, end, 0)


@inside
def enter_holds(shop: Shop, step: int) -> int:
    """Enter the holds whose ends are known with a step just placed; NONE, or the place of who must be later for room.

    A hold that has begun is in the books to the horizon, and is given back from its last step's end on.
    """
    for at in range(shop.step[step].hold, shop.step[step].hold_end):
        hold = shop.hold[shop.item[at]]
        if hold.first == NONE:
            load_between(shop, hold.station, -hold.load, end_of(shop, step), shop.all[0].horizon)
            continue
        if shop.step[hold.first].start == NONE or (hold.last != NONE and shop.step[hold.last].start == NONE):
            continue
        start, stop = shop.step[hold.first].start, hold.until if hold.last == NONE else end_of(shop, hold.last)
        if stop > start:
            again = room_again(shop, hold.station, hold.load, start, stop, False)
            if again != NONE:
                shop.step[hold.first].low = max(again, start + 1)
                return shop.step[hold.first].place
            load_between(shop, hold.station, hold.load, start, stop)
    return NONE


@inside
def enter_at_spot(shop: Shop, step: int) -> None:
    """Enter a step at the spot found for it; the changeover of the turn after it gets shorter where it can."""
    spot = shop.all[0]
    note(shop, ENTERED, step, 0, 0, 0, 0)
    enter(shop, step, spot.start, spot.person, spot.choice, spot.change)
    queue = shop.choice[spot.choice].queue
    if queue != NONE:
        shorten_heir(shop, queue, step)


@inside
def put(shop: Shop, step: int, patience: float) -> int:
    """Place one step: NONE if it stands, NO_SPOT if there is none, else the place of the step that must be later."""
    minute, start = shop.step[step].low, NONE
    while minute != start:
        minute = first_in_windows(shop, step, minute)
        if not best_spot(shop, step, minute, patience):
            return NO_SPOT
        start = shop.all[0].start
        minute = first_in_windows(shop, step, start)
    place = tied_later(shop, step, start)
    if place != NONE:
        return place
    enter_at_spot(shop, step)
    return enter_holds(shop, step)


@inside
def place_cluster(shop: Shop, cluster: int, patience: float) -> bool:
    """Place a whole cluster; False, with nothing changed, where it finds no room."""
    first, count = shop.cluster[cluster].step, shop.cluster[cluster].step_end - shop.cluster[cluster].step
    begin = shop.all[0].log
    for place in range(count):
        step = shop.item[first + place]
        shop.step[step].low = shop.step[step].earliest
    place = 0
    for _ in range(MOST_TRIES + count):
        shop.lists[MARK, place] = shop.all[0].log
        found = put(shop, shop.item[first + place], patience)
        if found == NO_SPOT:
            break
        if found == NONE:
            place += 1
            if place == count:
                return True
        else:
            back_to(shop, shop.lists[MARK, found])
            place = found
    back_to(shop, begin)
    return False


@inside
def release_holds(shop: Shop, step: int) -> None:
    """Give back what is held until the end of a placed step; what was held before now is held to the horizon again."""
    for at in range(shop.step[step].hold, shop.step[step].hold_end):
        hold = shop.hold[shop.item[at]]
        if hold.first == NONE:
            load_between(shop, hold.station, hold.load, end_of(shop, step), shop.all[0].horizon)
        elif hold.last == NONE:
            load_between(shop, hold.station, -hold.load, shop.step[hold.first].start, hold.until)
        elif hold.last == step:
            load_between(shop, hold.station, -hold.load, shop.step[hold.first].start, end_of(shop, step))


@inside
def take_out_cluster(shop: Shop, cluster: int) -> None:
    """Take a cluster and its holds out."""
    for at in range(shop.cluster[cluster].step, shop.cluster[cluster].step_end):
        release_holds(shop, shop.item[at])
    for at in range(shop.cluster[cluster].step, shop.cluster[cluster].step_end):
        step = shop.item[at]
        row = shop.step[step]
        note(shop, TAKEN_OUT, step, row.start, row.person, row.chosen, row.change)
        take_out(shop, step)


@compiled
def stand_at(shop: Shop, rows: np.ndarray) -> None:
    """Enter a whole plan (start, person, choice, changeover of each step) where nothing is; it cannot be undone."""
    for step in range(rows.shape[1]):
        enter(shop, step, rows[0, step], rows[1, step], rows[2, step], rows[3, step])
    for number in range(shop.hold.size):
        hold = shop.hold[number]
        stop = hold.until if hold.last == NONE else end_of(shop, hold.last)
        if hold.first == NONE:
            add_load(shop, hold.station, -hold.load, stop, shop.all[0].horizon)
        else:
            add_load(shop, hold.station, hold.load, shop.step[hold.first].start, stop)


@compiled
def clear_out(shop: Shop) -> None:
    """Take every step out again, holds and all; it cannot be undone."""
    for cluster in range(shop.cluster.size):
        shop.all[0].log = 0
        take_out_cluster(shop, cluster)
    shop.all[0].log = 0
