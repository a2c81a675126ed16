"""Compiled: everything placed anew, one cluster after the other in a line; the line is what is searched.

A cluster's place in the line follows from when the orders it leads to are wanted; that wish is shifted, not the plan.
"""

from __future__ import annotations

from math import log

from planner.search.compiled import compiled, inside
from planner.search.fast.annealing import FIRST, PATIENCES, note_plan
from planner.search.fast.chance import below, give_or_take, share
from planner.search.fast.clustering import place_cluster, take_out_cluster
from planner.search.fast.costing import price_all
from planner.search.fast.entering import back_to
from planner.search.fast.queues import mend_queue
from planner.search.fast.ruin import DAY, dear_order
from planner.search.fast.table import BUFFER, LINE, LINED, LOGGED, NONE, Shop

KEPT, TRIED, KEY = 0, 1, 2  # rows of `wish`


@inside
def shift_wish(shop: Shop) -> None:
    """An order, or one of its last clusters, is wanted sooner or later, or just beside another order."""
    order = dear_order(shop) if share(shop) < 0.5 else below(shop, shop.order.size)
    first, count = shop.order[order].step, shop.order[order].step_end - shop.order[order].step
    if count == 0:
        return
    more = give_or_take(shop, float((DAY >> 1) << below(shop, 5)))
    if share(shop) < 0.3:
        other = below(shop, shop.order.size)
        if shop.order[other].step < shop.order[other].step_end:
            there = shop.wish[TRIED, shop.step[shop.item[shop.order[other].step]].cluster]
            more = there - shop.wish[TRIED, shop.step[shop.item[first]].cluster] + give_or_take(shop, 60.0)
    if share(shop) < 0.25:
        first, count = first + below(shop, count), 1
    for at in range(first, first + count):
        cluster = shop.step[shop.item[at]].cluster
        shop.wish[TRIED, cluster] = shop.wish[KEPT, cluster] + more


@inside
def vary(shop: Shop) -> None:
    """Some wishes are shifted; now and then it is patience, or somebody's turn, that changes."""
    for cluster in range(shop.cluster.size):
        shop.wish[TRIED, cluster] = shop.wish[KEPT, cluster]
    for place in range(shop.taste.shape[1]):
        shop.taste[TRIED, place] = shop.taste[KEPT, place]
    if share(shop) < 0.05:
        place = below(shop, shop.taste.shape[1])
        if place == 0:
            shop.taste[TRIED, 0] = PATIENCES[below(shop, PATIENCES.size)]
        else:
            shop.taste[TRIED, place] = 15.0 * (1 << below(shop, 8)) if share(shop) < 0.5 else 0.0
        return
    for _ in range(1 + below(shop, 3)):
        shift_wish(shop)


@inside
def sort_by_place(shop: Shop) -> None:
    """BUFFER: the clusters by place, each after all it waits for."""
    for cluster in range(shop.cluster.size):
        shop.lists[BUFFER, shop.cluster[cluster].place] = cluster


@inside
def give_line_keys(shop: Shop) -> None:
    """What a cluster leads to wants it as soon as itself."""
    sort_by_place(shop)
    for place in range(shop.cluster.size - 1, -1, -1):
        cluster = shop.lists[BUFFER, place]
        row, key = shop.cluster[cluster], shop.wish[TRIED, cluster]
        for at in range(row.after, row.after_end):
            key = min(key, shop.wish[KEY, shop.item[at]])
        shop.wish[KEY, cluster] = key
    for cluster in range(shop.cluster.size):
        if shop.cluster[cluster].comes_first:
            shop.wish[KEY, cluster] -= FIRST


@inside
def merge(shop: Shop, source: int, target: int, first: int, middle: int, last: int) -> None:
    """Merge two sorted parts of a list into another."""
    one, two = first, middle
    for at in range(first, last):
        if one < middle and (two >= last or not comes_before(shop, shop.lists[source, two], shop.lists[source, one])):
            shop.lists[target, at] = shop.lists[source, one]
            one += 1
        else:
            shop.lists[target, at] = shop.lists[source, two]
            two += 1


@inside
def comes_before(shop: Shop, cluster: int, other: int) -> bool:
    """Whether a cluster stands before another in the line."""
    if shop.wish[KEY, cluster] != shop.wish[KEY, other]:
        return bool(shop.wish[KEY, cluster] < shop.wish[KEY, other])
    return bool(shop.cluster[cluster].place < shop.cluster[other].place)


@inside
def form_line(shop: Shop) -> int:
    """LINE: all clusters that may move by key, then place; how many (merge sort)."""
    count = 0
    for cluster in range(shop.cluster.size):
        if not shop.cluster[cluster].stays:
            shop.lists[LINE, count] = cluster
            count += 1
    source, target, width = LINE, BUFFER, 1
    while width < count:
        for first in range(0, count, 2 * width):
            merge(shop, source, target, first, min(first + width, count), min(first + 2 * width, count))
        source, target, width = target, source, 2 * width
    if source != LINE:
        for at in range(count):
            shop.lists[LINE, at] = shop.lists[BUFFER, at]
    return count


@inside
def same_from_start(shop: Shop, count: int) -> int:
    """How many clusters stand as they are to stand."""
    if shop.taste[TRIED, 0] != shop.all[0].patience:
        return 0
    for person in range(shop.bias.size):
        if shop.taste[TRIED, 1 + person] != shop.bias[person]:
            return 0
    place = 0
    while place < min(count, shop.all[0].lined) and shop.lists[LINE, place] == shop.lists[LINED, place]:
        place += 1
    return place


@inside
def place_line(shop: Shop) -> bool:
    """Place the clusters in line, from the first that is not where it is to be; False where one finds no room."""
    give_line_keys(shop)
    count = form_line(shop)
    same = same_from_start(shop, count)
    if same < shop.all[0].lined:
        back_to(shop, shop.lists[LOGGED, same])
    shop.all[0].lined = same
    shop.all[0].patience = shop.taste[TRIED, 0]
    for person in range(shop.bias.size):
        shop.bias[person] = shop.taste[TRIED, 1 + person]
    for place in range(same, count):
        cluster = shop.lists[LINE, place]
        shop.lists[LOGGED, place] = shop.all[0].log
        if not place_cluster(shop, cluster, shop.all[0].patience):
            return False
        shop.lists[LINED, place] = cluster
        shop.all[0].lined = place + 1
    return True


@inside
def keep_line(shop: Shop, cost: float) -> None:
    """The line as tried is the one to go on from."""
    shop.all[0].cost = cost
    for cluster in range(shop.cluster.size):
        shop.wish[KEPT, cluster] = shop.wish[TRIED, cluster]
    for place in range(shop.taste.shape[1]):
        shop.taste[KEPT, place] = shop.taste[TRIED, place]


@compiled
def clear_the_rest(shop: Shop) -> bool:
    """Take out all that need not stay, for good; False where a changeover before what stays then finds no room.

    What comes before something that stays has to stay as well.
    """
    sort_by_place(shop)
    for place in range(shop.cluster.size - 1, -1, -1):
        row = shop.cluster[shop.lists[BUFFER, place]]
        for at in range(row.after, row.after_end):
            if shop.cluster[shop.item[at]].stays:
                row.stays = 1
    for cluster in range(shop.cluster.size):
        if not shop.cluster[cluster].stays:
            shop.all[0].log = 0
            take_out_cluster(shop, cluster)
    shop.all[0].log = 0
    for queue in range(shop.queue.size):
        if mend_queue(shop, queue) != NONE:
            return False
    shop.all[0].log = 0
    return True


@compiled
def search_line(shop: Shop, tries: int, warmth: float) -> None:
    """`tries` lines, each a little other than the one kept."""
    for _ in range(tries):
        vary(shop)
        if place_line(shop):
            cost = price_all(shop)
            if cost < shop.all[0].cost - warmth * log(1.0 - share(shop)):
                keep_line(shop, cost)
            if cost < shop.all[0].best - 1e-7:
                shop.all[0].best = cost
                note_plan(shop)
