"""Compiled: what the plan costs, by the price list."""

from __future__ import annotations

from planner.search.compiled import compiled, inside
from planner.search.fast.spots import end_of
from planner.search.fast.table import FAR, NONE, Shop


@inside
def finish_of(shop: Shop, order: int) -> int:
    """When all steps of an order have ended."""
    finish = shop.order[order].ended
    for at in range(shop.order[order].step, shop.order[order].step_end):
        finish = max(finish, end_of(shop, shop.item[at]))
    return finish


@inside
def price_of(shop: Shop, order: int, finish: int) -> float:
    """What an order costs that is complete at `finish`."""
    row, price = shop.order[order], (finish + shop.all[0].now) * shop.all[0].finish
    if finish > row.due:
        price += (finish - row.due) * shop.all[0].late + row.missed
    return row.weight * price


@inside
def price_of_step(shop: Shop, step: int) -> float:
    """What a placed step costs by itself: lost windows, and not being where it was."""
    row, price = shop.step[step], 0.0
    if shop.all[0].lost > 0:
        for number in range(row.link, row.link_end):
            link = shop.link[number]
            if link.before == NONE and link.last < FAR:
                price += max(0, row.start - link.ended - link.last) * shop.all[0].lost
    if row.was != NONE and row.was != row.start:  # noqa: PLR1714 - plain comparisons compile best
        price += shop.all[0].moved
    return price


@inside
def price_of_plan(shop: Shop) -> float:
    """What belongs to no step or order alone: all changeovers, and how long the plan lasts, begun steps and all."""
    minutes = 0
    for queue in range(shop.queue.size):
        for place in range(shop.queue[queue].turns):
            minutes += shop.step[shop.turn[queue, place]].change
    price = minutes * shop.all[0].changeover
    if shop.all[0].makespan > 0:
        last = shop.all[0].ended
        for step in range(shop.step.size):
            last = max(last, end_of(shop, step))
        price += last * shop.all[0].makespan
    return price


@compiled
def price_everything(shop: Shop) -> float:
    """What the whole plan costs; the finish of each order is worked out anew."""
    return price_all(shop)


@inside
def price_all(shop: Shop) -> float:
    """What the whole plan costs; the finish of each order is worked out anew."""
    price = price_of_plan(shop)
    for order in range(shop.order.size):
        shop.order[order].finish = finish_of(shop, order)
        price += price_of(shop, order, shop.order[order].finish)
    for step in range(shop.step.size):
        price += price_of_step(shop, step)
    return price
