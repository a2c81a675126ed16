"""The order book brought in: fairs, customers, and orders as they came."""

from __future__ import annotations

import uuid
from collections import deque
from collections.abc import Iterator
from datetime import datetime, time
from itertools import groupby

from shop.demo.book import (
    BOOK,
    CONTACTS,
    FAIR_PLACES,
    FIRST_FAIR,
    IN_PERSON,
    ONLINE,
    SECOND_FAIR,
    Entry,
    Wanted,
)
from shop.demo.dates import Dates
from shop.designs.models import Design
from shop.orders.models import Customer, Fair, Line, Order
from shop.orders.services import Draft, take_order
from shop.stock.models import Species

FORMS = uuid.UUID("5f1e94a2-7c43-4d0e-9a36-b1c9d0f4e7aa")
"""Every order of the demo carries a form key made from this and its place in the book, and is known by it."""

OPENING, CLOSING = time(9), time(17)


def is_loaded() -> bool:
    return Order.objects.filter(form_key__in=[_form_key(number) for number in range(len(BOOK))]).exists()


def announce_fairs(dates: Dates) -> None:
    """Two Saturdays, each fair open until Sunday afternoon."""
    for weeks, name in enumerate((FIRST_FAIR, SECOND_FAIR)):
        days = dates.days_to_first_fair + 7 * weeks
        opens_at, closes_at = dates.at(days, time(9)), dates.at(days + 1, time(16))
        Fair.objects.create(name=name, place=FAIR_PLACES[name], opens_at=opens_at, closes_at=closes_at)


def know_customers() -> None:
    """Those of whom more than the name is known; the others come with their orders."""
    Customer.objects.bulk_create([Customer(name=name, contact=contact) for name, contact in CONTACTS.items()])


class OrderBook:
    """Takes the orders of the book as they come in, day after day."""

    def __init__(self, dates: Dates) -> None:
        self.dates = dates
        self.fairs = {fair.name: fair for fair in Fair.objects.all()}
        self.designs = {design.name: design for design in Design.objects.all()}
        self.species = {species.name: species for species in Species.objects.all()}
        self.coming = deque(_in_order_of_placing(dates))

    def take_until(self, at: datetime) -> None:
        """Take what was placed before then and isn't taken yet."""
        while self.coming and self.coming[0][0] < at:
            placed_at, number = self.coming.popleft()
            self._take(BOOK[number], placed_at, _form_key(number))

    def _take(self, entry: Entry, placed_at: datetime, form_key: uuid.UUID) -> None:
        fair = self.fairs.get(entry.for_whom)
        order = Order(
            placed_at=placed_at,
            channel=entry.channel,
            fair=fair,
            due_at=fair.opens_at if fair else self.dates.at(entry.due_in_days, CLOSING),
            is_hard=fair is not None,
            note=entry.note,
            form_key=form_key,
        )
        is_customer = entry.channel in {ONLINE, IN_PERSON}
        take_order(Draft(order, [self._line(each) for each in entry.wanted], entry.for_whom if is_customer else ""))

    def _line(self, wanted: Wanted) -> Line:
        design = self.designs[wanted.design]
        return Line(
            design=design,
            species=self.species[wanted.species],
            quantity=wanted.quantity,
            text=wanted.text,
            artwork=wanted.artwork,
            price=design.price,
        )


def _form_key(number: int) -> uuid.UUID:
    return uuid.uuid5(FORMS, str(number))


def _in_order_of_placing(dates: Dates) -> Iterator[tuple[datetime, int]]:
    """When each order of the book was placed, and its number: spread over its day, today's over the day so far."""
    for days_ago, group in groupby(enumerate(BOOK), key=lambda each: each[1].placed_days_ago):
        numbers = [number for number, _ in group]
        first, last = dates.hours_of(-days_ago, OPENING, CLOSING)
        for place, number in enumerate(numbers, start=1):
            yield first + (last - first) * place / (len(numbers) + 1), number
