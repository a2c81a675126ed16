"""Compiled: which clusters are taken out together, with all that waits for them.

Ruins of neighbouring parts: Schrimpf and others (2000); Christiaens and Vanden Berghe (2020).
"""

from __future__ import annotations

from planner.search.compiled import inside
from planner.search.fast.chance import below, share
from planner.search.fast.costing import price_of
from planner.search.fast.table import OUT, Shop

DAY = 1440


@inside
def start_of(shop: Shop, cluster: int) -> int:
    """When the first step of a cluster starts."""
    return shop.step[shop.item[shop.cluster[cluster].step]].start


@inside
def mark(shop: Shop, cluster: int) -> None:
    """Choose a cluster to be taken out."""
    if not shop.cluster[cluster].gone:
        shop.cluster[cluster].gone = 1
        shop.lists[OUT, shop.all[0].out] = cluster
        shop.all[0].out += 1


@inside
def mark_with_followers(shop: Shop, cluster: int) -> bool:
    """Choose a cluster and all that waits for it; False where one of them must stay."""
    done = shop.all[0].out
    mark(shop, cluster)
    while done < shop.all[0].out:
        row = shop.cluster[shop.lists[OUT, done]]
        if row.stays:
            return False
        for at in range(row.after, row.after_end):
            mark(shop, shop.item[at])
        done += 1
    return True


@inside
def mark_if_free(shop: Shop, cluster: int) -> bool:
    """Choose a cluster, if it need not stay, and all that waits for it; False where one of those must stay."""
    return bool(shop.cluster[cluster].stays) or mark_with_followers(shop, cluster)


@inside
def dearness(shop: Shop, order: int) -> float:
    """What an order costs more than it would at its due, with a little for every one."""
    finish = shop.order[order].finish
    price = price_of(shop, order, finish)
    return price - price_of(shop, order, min(finish, shop.order[order].due)) + 0.01 * abs(price) / shop.order.size


@inside
def dear_order(shop: Shop) -> int:
    """An order by chance, the likelier the more its lateness costs."""
    whole = 0.0
    for order in range(shop.order.size):
        whole += dearness(shop, order)
    left = share(shop) * whole
    for order in range(shop.order.size):
        left -= dearness(shop, order)
        if left <= 0:
            return order
    return shop.order.size - 1


@inside
def ruin_order(shop: Shop, order: int) -> bool:
    """An order with all it needs."""
    for at in range(shop.order[order].needs, shop.order[order].needs_end):  # noqa: SIM110 - compiled
        if not mark_if_free(shop, shop.item[at]):
            return False
    return True


@inside
def ruin_time(shop: Shop, first: int, last: int, size: int) -> bool:
    """About `size` of the clusters that begin in a stretch of time."""
    clusters, within = shop.cluster.size, 0
    for cluster in range(clusters):
        within += first <= start_of(shop, cluster) < last
    begin = below(shop, clusters)
    for number in range(clusters):
        cluster = (begin + number) % clusters
        if first <= start_of(shop, cluster) < last and share(shop) * within < size:
            if not mark_if_free(shop, cluster):
                return False
            if shop.all[0].out >= 2 * size:
                break
    return True


@inside
def ruin_turns(shop: Shop, size: int) -> bool:
    """Turns of one queue, from one on; those with the same state, or all of them."""
    queue = below(shop, shop.queue.size)
    if shop.queue[queue].turns == 0:
        return True
    place, same = below(shop, shop.queue[queue].turns), share(shop) < 0.5
    wanted = shop.step[shop.turn[queue, place]].state_in
    while place < shop.queue[queue].turns and shop.all[0].out < size:
        step = shop.step[shop.turn[queue, place]]
        if (not same or step.state_in == wanted) and not mark_if_free(shop, step.cluster):
            return False
        place += 1
    return True


@inside
def ruin_before_a_finish(shop: Shop, order: int, size: int) -> bool:
    """An order with all it needs, and some of what is done in the days before it is ready."""
    if not ruin_order(shop, order):
        return False
    finish = shop.order[order].finish
    return ruin_time(shop, finish - DAY * (1 + below(shop, 6)), finish, max(1, size - shop.all[0].out))


@inside
def choose(shop: Shop, size: int) -> bool:
    """Choose what is taken out; False where something that must stay would go with it."""
    kind = share(shop)
    if kind < 0.5 and shop.order.size > 0:
        return ruin_before_a_finish(shop, dear_order(shop), size)
    if kind < 0.65 and shop.order.size > 0:
        for _ in range(1 + below(shop, 4)):
            if shop.all[0].out < size and not ruin_order(shop, below(shop, shop.order.size)):
                return False
        return True
    if kind < 0.75 and shop.queue.size > 0:
        return ruin_turns(shop, size)
    middle = start_of(shop, below(shop, shop.cluster.size))
    span = (DAY >> 2) << below(shop, 6)
    return ruin_time(shop, middle - span // 2, middle + span // 2 + 1, size)
