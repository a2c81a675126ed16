"""How much of each finish the pieces that are still to be oiled take, against what is in stock."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from django.db.models import Count, F, Q

from planner import PlannerError
from shop.designs.costing import finish_ml
from shop.designs.models import Design, Finish
from shop.orders.models import Line, Order


@dataclass(frozen=True)
class Need:
    """A finish, the pieces that wait for it and the millilitres they take."""

    finish: Finish
    pieces: int
    ml: float

    @property
    def short_ml(self) -> float:
        return max(0.0, self.ml - self.finish.in_stock_ml)


def finish_needs() -> list[Need]:
    """For every coat of a piece of an open order that nobody has begun."""
    begun = Q(pieces__spoilt_at=None, pieces__steps__kind="oil", pieces__steps__begun_at__isnull=False)
    lines = Line.objects.filter(order__in=Order.objects.open(), design__finish__isnull=False)
    pieces, coats = Counter[int](), Counter[int]()
    for line in lines.annotate(begun=Count("pieces__steps", filter=begun), coats=F("design__finish__coats")):
        left = max(0, line.quantity * line.coats - line.begun)
        coats[line.design_id] += left
        pieces[line.design_id] += min(line.quantity, left)
    needs: dict[int, Need] = {}
    for design in Design.objects.filter(pk__in=coats).select_related("finish"):
        try:
            each = finish_ml(design) / design.finish.coats
        except PlannerError:
            continue  # its own page says what is wrong
        before = needs.get(design.finish_id, Need(design.finish, 0, 0.0))
        needs[design.finish_id] = Need(
            design.finish, before.pieces + pieces[design.pk], before.ml + coats[design.pk] * each
        )
    return sorted((need for need in needs.values() if need.pieces), key=lambda need: need.finish.name)
