"""From rows to the planner's values: the shop as it stands at one instant."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db import transaction
from django.db.models import Sum

from planner import OrderFacts, Piece, Prices, Problem, Work, problem_of
from shop.figures.models import Figures
from shop.floor.models import Piece as PieceRow
from shop.floor.models import Step
from shop.floor.services import make_pieces
from shop.orders.models import Line, Order
from shop.plans.handoff.clock import Clock
from shop.plans.handoff.designs import design_values
from shop.plans.handoff.floor import FloorReader
from shop.plans.handoff.standing import standing_steps
from shop.stations.models import Workshop

PRICES = Prices(
    missed_hard=500, late_hour=1, missed_window_hour=20, changeover_minute=0.2, finish_hour=0.02, unplaced=100_000
)
"""An order a day late costs 24; a bit change costs less than an hour of that; a fair missed is a disaster."""

WEIGHT = {Order.Channel.STOCK: 0.25}
"""Nobody waits for what goes on the shelf; every other order weighs 1."""

LEAST_DAYS_AHEAD = 56


@dataclass(frozen=True)
class Shop:
    """What was read: the problem, the clock it counts by and the instant it holds for."""

    problem: Problem
    clock: Clock
    read_at: datetime


@transaction.atomic
def read_shop(at: datetime) -> Shop:
    """The whole workshop as one problem, as it stands at `at`. Makes the pieces of new orders on the way."""
    workshop = Workshop.get()
    clock = Clock.starting(at, workshop.zone)
    make_pieces(Line.objects.filter(order__in=Order.objects.open()))
    rows = _pieces()
    orders = _orders({row.line.order_id for row in rows})
    steps = _begun_steps(rows)
    floor = FloorReader(workshop, clock, _days_ahead(orders, at))
    work = Work(
        floor=floor.read(),
        pieces=_piece_values(rows, steps),
        orders=tuple(_order_facts(order, clock) for order in orders),
        standing=standing_steps(steps, clock, clock.next_minute(at)),
        prices=PRICES,
    )
    return Shop(problem_of(work, origin=clock.origin, now=clock.next_minute(at)), clock, at)


def _pieces() -> list[PieceRow]:
    return list(
        PieceRow.objects.filter(line__order__in=Order.objects.open(), spoilt_at=None).select_related(
            "line__order", "line__species"
        )
    )


def _orders(pks: set[int]) -> list[Order]:
    return list(Order.objects.filter(pk__in=pks).order_by("pk"))


def _begun_steps(pieces: Sequence[PieceRow]) -> list[Step]:
    pks = [piece.pk for piece in pieces]
    steps = Step.objects.begun().filter(pieces__in=pks).distinct()
    return list(
        steps.select_related("batch", "tick", "begun_by").prefetch_related("pieces", "begun_at_stations").order_by("pk")
    )


def _piece_values(rows: Sequence[PieceRow], steps: Sequence[Step]) -> tuple[Piece, ...]:
    past: dict[int, set[str]] = {row.pk: set() for row in rows}
    for step in steps:
        for piece in step.pieces.all():
            past.get(piece.pk, set()).add(step.stage)
    designs = design_values({row.line.design_id for row in rows}, Figures.get())
    return tuple(
        Piece(
            id=f"p{row.pk}",
            order=row.line.order.reference,
            line=f"l{row.line_id}",
            design=designs[row.line.design_id],
            species=row.line.species.name,
            text=row.line.text,
            past=frozenset(past[row.pk]),
        )
        for row in rows
    )


def _order_facts(order: Order, clock: Clock) -> OrderFacts:
    return OrderFacts(
        id=order.reference,
        placed=clock.minute(order.placed_at),
        due=clock.minute(order.due_at),
        weight=WEIGHT.get(Order.Channel(order.channel), 1.0),
        hard=order.is_hard,
    )


def _days_ahead(orders: Sequence[Order], at: datetime) -> int:
    """Far enough for the latest due date and for all that is on order, however slow the workshop."""
    latest = max((order.due_at for order in orders), default=at)
    units = Line.objects.filter(order__in=orders).aggregate(units=Sum("quantity"))["units"] or 0
    return max(LEAST_DAYS_AHEAD, (latest - at) // timedelta(days=1) + 21, units // 4)
