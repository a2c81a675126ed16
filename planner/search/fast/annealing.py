"""Compiled: ruin and recreate, a worse plan accepted the less often the worse it is and the later (annealing)."""

from __future__ import annotations

from math import log

import numpy as np

from planner.search.compiled import compiled, inside
from planner.search.fast.chance import below, give_or_take, share
from planner.search.fast.clustering import place_cluster, take_out_cluster
from planner.search.fast.costing import finish_of, price_of, price_of_plan, price_of_step
from planner.search.fast.entering import back_to
from planner.search.fast.queues import mend_queue
from planner.search.fast.ruin import choose, mark_with_followers, start_of
from planner.search.fast.table import NONE, OUT, READY, TOUCHED, Shop

PATIENCES = np.array([0.0, 0.0, 3.0, 6.0, 12.0, 30.0])
FIRST = 1e12  # off the key of what must come before all else


@inside
def touch_orders(shop: Shop, step: int) -> None:
    """Remember the orders that a step belongs to."""
    for at in range(shop.step[step].order, shop.step[step].order_end):
        order = shop.item[at]
        if not shop.order[order].touched:
            shop.order[order].touched = 1
            shop.lists[TOUCHED, shop.all[0].touched] = order
            shop.all[0].touched += 1


@inside
def take_out_marked(shop: Shop, done: int) -> None:
    """Take out the clusters marked since `done`, and add up what their steps cost by themselves."""
    for number in range(done, shop.all[0].out):
        row = shop.cluster[shop.lists[OUT, number]]
        row.stood = start_of(shop, shop.lists[OUT, number])
        for at in range(row.step, row.step_end):
            shop.all[0].taken_out += price_of_step(shop, shop.item[at])
            touch_orders(shop, shop.item[at])
        take_out_cluster(shop, shop.lists[OUT, number])


@inside
def ruin(shop: Shop, size: int) -> bool:
    """Choose clusters and take them out, and more where a changeover would not fit; False where something must stay."""
    done, possible = 0, choose(shop, size)
    shop.all[0].taken_out = price_of_plan(shop)
    while possible:
        take_out_marked(shop, done)
        done, misfit = shop.all[0].out, NONE
        for queue in range(shop.queue.size):
            if misfit == NONE:
                misfit = mend_queue(shop, queue)
        if misfit == NONE:
            return done > 0
        possible = mark_with_followers(shop, shop.step[misfit].cluster)
    return False


@inside
def give_keys(shop: Shop) -> None:
    """How pressing each cluster is that was taken out: by a rule of thumb, or by where it stood, give or take."""
    rules, clusters = shop.rank.shape
    rule, mean = below(shop, 2 * rules + 2), 60.0 * (1 << below(shop, 7))
    for number in range(shop.all[0].out):
        row = shop.cluster[shop.lists[OUT, number]]
        if rule < rules:
            row.key = shop.rank[rule, shop.lists[OUT, number]] + give_or_take(shop, 0.02 * clusters)
        elif rule == rules:
            row.key = share(shop)
        else:
            row.key = row.stood + give_or_take(shop, mean)
        if row.comes_first:
            row.key -= FIRST


@inside
def give_biases(shop: Shop) -> None:
    """Now and then somebody's turn is put off, so that work two can do waits for the other."""
    for person in range(shop.bias.size):
        shop.bias[person] = 15.0 * (1 << below(shop, 8)) if share(shop) < 0.1 else 0.0


@inside
def note_ready(shop: Shop, ready: int, cluster: int) -> int:
    """One more cluster that waits for nothing; how many there are now."""
    shop.lists[READY, ready] = cluster
    return ready + 1


@inside
def those_ready(shop: Shop) -> int:
    """Count what each cluster that is out waits for; how many wait for nothing."""
    ready = 0
    for number in range(shop.all[0].out):
        row = shop.cluster[shop.lists[OUT, number]]
        row.waiting = 0
        for at in range(row.before, row.before_end):
            row.waiting += shop.cluster[shop.item[at]].gone
        if row.waiting == 0:
            ready = note_ready(shop, ready, shop.lists[OUT, number])
    return ready


@inside
def most_pressing(shop: Shop, ready: int) -> int:
    """The place among the clusters ready of the one with the least key."""
    best = 0
    for place in range(1, ready):
        if shop.cluster[shop.lists[READY, place]].key < shop.cluster[shop.lists[READY, best]].key:
            best = place
    return best


@inside
def recreate(shop: Shop) -> bool:
    """Put back what was taken out, the most pressing first; False where something finds no room."""
    ready, patience = those_ready(shop), PATIENCES[below(shop, PATIENCES.size)]
    while ready > 0:
        place = most_pressing(shop, ready)
        cluster = shop.lists[READY, place]
        ready -= 1
        shop.lists[READY, place] = shop.lists[READY, ready]
        if not place_cluster(shop, cluster, patience):
            return False
        for at in range(shop.cluster[cluster].after, shop.cluster[cluster].after_end):
            other = shop.item[at]
            shop.cluster[other].waiting -= 1
            if shop.cluster[other].waiting == 0:
                ready = note_ready(shop, ready, other)
    return True


@inside
def change_in_price(shop: Shop) -> float:
    """What the plan costs more than before the ruin."""
    more = price_of_plan(shop) - shop.all[0].taken_out
    for number in range(shop.all[0].touched):
        order = shop.lists[TOUCHED, number]
        shop.order[order].new_finish = finish_of(shop, order)
        more += price_of(shop, order, shop.order[order].new_finish) - price_of(shop, order, shop.order[order].finish)
    for number in range(shop.all[0].out):
        row = shop.cluster[shop.lists[OUT, number]]
        for at in range(row.step, row.step_end):
            more += price_of_step(shop, shop.item[at])
    return more


@inside
def settle(shop: Shop, more: float) -> None:
    """The plan as it is now is the one to go on from."""
    shop.all[0].log = 0
    shop.all[0].cost += more
    for number in range(shop.all[0].touched):
        row = shop.order[shop.lists[TOUCHED, number]]
        row.finish = row.new_finish


@inside
def forget(shop: Shop) -> None:
    """Clear the marks of one try."""
    for number in range(shop.all[0].out):
        shop.cluster[shop.lists[OUT, number]].gone = 0
    for number in range(shop.all[0].touched):
        shop.order[shop.lists[TOUCHED, number]].touched = 0
    shop.all[0].out = shop.all[0].touched = 0


@inside
def try_once(shop: Shop, size: int, warmth: float) -> None:
    """Ruin, recreate, and keep what came of it or go back; `warmth` is by how much worse it may well be."""
    shop.all[0].log = 0
    if ruin(shop, size):
        give_keys(shop)
        give_biases(shop)
        if recreate(shop):
            more = change_in_price(shop)
            if more < -warmth * log(1.0 - share(shop)):
                settle(shop, more)
    back_to(shop, 0)
    forget(shop)


@inside
def note_best(shop: Shop) -> None:
    """The plan as it is now is the best so far."""
    shop.all[0].best = shop.all[0].cost
    note_plan(shop)


@inside
def note_plan(shop: Shop) -> None:
    """Remember the plan as it is now."""
    for step in range(shop.step.size):
        row = shop.step[step]
        shop.best[0, step], shop.best[1, step] = row.start, row.person
        shop.best[2, step], shop.best[3, step] = row.chosen, row.change


@compiled
def keep(shop: Shop) -> None:
    """The plan as it is now is the best so far."""
    note_best(shop)


@compiled
def anneal(shop: Shop, tries: int, warmth: float, most: float) -> None:
    """`tries` times ruin and recreate, up to about `most` clusters each."""
    for _ in range(tries):
        try_once(shop, int(2 ** (1 + share(shop) * log(most) / log(2.0))), warmth)
        if shop.all[0].cost < shop.all[0].best - 1e-7:
            note_best(shop)
