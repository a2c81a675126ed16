"""What a person does with orders: take, cancel, hand over, say how the artwork stands. One verb, one transaction."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction
from django.utils import timezone

from shop.orders.models import Customer, Line, Order
from shop.signals import tell_work_changed
from shop.stations.models import Workshop
from shop.words import counted


@dataclass(frozen=True)
class Draft:
    """An order as it was said, not written down yet: without a reference it gets one of ours."""

    order: Order
    lines: Sequence[Line]
    customer: str = ""


@transaction.atomic
def take_order(draft: Draft) -> Order:
    """Write an order down with its lines and its customer. The same form sent twice is one order."""
    open_the_book()
    key = draft.order.form_key
    if key and (there := Order.objects.filter(form_key=key).first()):
        return there
    draft.order.reference = draft.order.reference or next_reference(draft.order.placed_at)
    return take_orders([draft])[0]


@transaction.atomic
def take_orders(drafts: Sequence[Draft]) -> list[Order]:
    """Write down many orders at once, all or none; each has its reference."""
    open_the_book()
    customers = _customers({draft.customer for draft in drafts if draft.customer})
    for draft in drafts:
        draft.order.customer = customers.get(draft.customer.casefold())
    orders = Order.objects.bulk_create([draft.order for draft in drafts], batch_size=500)
    for order, draft in zip(orders, drafts, strict=True):
        for line in draft.lines:
            line.order = order
    Line.objects.bulk_create([line for draft in drafts for line in draft.lines], batch_size=500)
    tell_work_changed(Order, counted(len(orders), "new order") if len(orders) > 1 else f"order {orders[0]} is new")
    return orders


def cancel(order: Order, *, at: datetime) -> bool:
    """The order is off; what is made of it stays on the shelf. False where it was closed already."""
    return _close(order, cancelled_at=at)


def hand_over(order: Order, *, at: datetime) -> bool:
    """Whoever ordered has it. False where it was closed already."""
    return _close(order, handed_over_at=at)


@transaction.atomic
def reopen(order: Order) -> bool:
    """Take back a cancelling or handing over."""
    closed = Order.objects.exclude(cancelled_at=None, handed_over_at=None).filter(pk=order.pk)
    if not closed.update(cancelled_at=None, handed_over_at=None):
        return False
    tell_work_changed(Order, f"order {order} is open again")
    return True


@transaction.atomic
def set_artwork(line: Line, state: str) -> None:
    """Say how the artwork of a line stands; of two people at once the last word counts."""
    Line.objects.filter(pk=line.pk).update(artwork=Line.Artwork(state))


def open_the_book() -> None:
    """One hand writes in the order book at a time: two orders never get one reference, a double tap is seen."""
    Workshop.get()
    Workshop.objects.select_for_update().get(pk=1)


def next_reference(at: datetime) -> str:
    """Short and easy to say: the day and a number, "3dec-4". Goes on counting where that day came round before."""
    day = timezone.localtime(at, Workshop.get().zone)
    stem = f"{day.day}{day:%b}-".lower()
    taken = Order.objects.filter(reference__startswith=stem).values_list("reference", flat=True)
    numbers = [int(rest) for rest in (each.removeprefix(stem) for each in taken) if rest.isdecimal()]
    return f"{stem}{max(numbers, default=0) + 1}"


@transaction.atomic
def _close(order: Order, **closing: datetime) -> bool:
    if not Order.objects.open().filter(pk=order.pk).update(**closing):
        return False
    if "cancelled_at" in closing or Order.objects.with_progress().get(pk=order.pk).pieces_left:
        tell_work_changed(Order, f"order {order} is closed")
    return True


def _customers(names: set[str]) -> dict[str, Customer]:
    """By name whatever its capitals; who is new is written down."""
    known = {customer.name.casefold(): customer for customer in Customer.objects.all()} if names else {}
    fresh = {name.casefold(): Customer(name=name) for name in sorted(names) if name.casefold() not in known}
    return known | {made.name.casefold(): made for made in Customer.objects.bulk_create(fresh.values())}
