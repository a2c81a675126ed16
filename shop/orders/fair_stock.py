"""What will stand on each fair's table: pieces ready, on the way, and late against the opening."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from django.db.models import Count, Q

from shop.orders.models import Fair, Line, Order
from shop.orders.pieces import PACKED


@dataclass
class Count3:
    """Pieces, apart by how they stand against the opening."""

    ready: int = 0
    on_the_way: int = 0
    late: int = 0

    @property
    def ordered(self) -> int:
        return self.ready + self.on_the_way + self.late

    @property
    def before_late(self) -> int:
        return self.ready + self.on_the_way

    def add(self, line: Line, *, is_late: bool) -> None:
        left = max(0, line.quantity - line.pieces_ready)
        self.ready += line.quantity - left
        self.late += left if is_late else 0
        self.on_the_way += 0 if is_late else left


@dataclass
class FairStock:
    """A fair with its orders, and its pieces by design."""

    fair: Fair
    orders: list[Order] = field(default_factory=list)
    total: Count3 = field(default_factory=Count3)
    designs: dict[str, Count3] = field(default_factory=dict)

    def add(self, order: Order, lines: Iterable[Line]) -> None:
        self.orders.append(order)
        is_late = misses_the_opening(order, self.fair.opens_at)
        for line in lines:
            self.total.add(line, is_late=is_late)
            self.designs.setdefault(f"{line.design} in {line.species}", Count3()).add(line, is_late=is_late)


def fair_stocks(fairs: Sequence[Fair]) -> list[FairStock]:
    """Two queries, however many fairs and orders."""
    stocks = {fair.pk: FairStock(fair) for fair in fairs}
    orders = Order.objects.filter(fair__in=fairs, cancelled_at=None)
    lines = _lines_by_order(orders)
    for order in orders.with_state().select_related("customer", "fair").worst_first():
        stocks[order.fair_id].add(order, lines.get(order.pk, []))
    return list(stocks.values())


def misses_the_opening(order: Order, opens_at: datetime) -> bool:
    if order.state in {Order.State.READY, Order.State.HANDED_OVER, Order.State.UNPLANNED}:
        return False
    return order.expected_at is None or order.expected_at > opens_at


def _lines_by_order(orders: Iterable[Order]) -> dict[int, list[Line]]:
    packed = Q(pieces__spoilt_at=None, pieces__steps__kind=PACKED, pieces__steps__tick__isnull=False)
    lines = Line.objects.filter(order__in=orders).select_related("design", "species")
    by_order: dict[int, list[Line]] = {}
    for line in lines.annotate(pieces_ready=Count("pieces", filter=packed, distinct=True)).order_by("design__name"):
        by_order.setdefault(line.order_id, []).append(line)
    return by_order
