"""What ticks say of the router's minutes, and the factor that the owner takes from them, or takes back."""

from __future__ import annotations

from datetime import datetime
from decimal import ROUND_HALF_UP, Decimal

from django.db import transaction

from planner import Correction, correction_of
from shop.designs.minutes import Bench, reckon
from shop.designs.models import Design
from shop.figures.models import Figures
from shop.floor.models import Tick
from shop.signals import tell_work_changed

LEAST, MOST = Decimal("0.25"), Decimal(4)
NEAREST = Decimal("0.01")
MOST_TICKS = 500


def learned(figures: Figures) -> Correction:
    """Actual against planned minutes of bed loads begun since the factor in use was taken."""
    ticks = Tick.objects.filter(step__kind="router").select_related("step").order_by("-at")
    if figures.router_factor_since:
        ticks = ticks.filter(step__begun_at__gte=figures.router_factor_since)
    return correction_of([(tick.step.attended_minutes, tick.minutes) for tick in ticks[:MOST_TICKS]])


def suggested(figures: Figures, correction: Correction) -> Decimal:
    """The factor in use, corrected by what was seen under it."""
    factor = figures.router_factor * Decimal(repr(correction.factor))
    return min(MOST, max(LEAST, factor.quantize(NEAREST, ROUND_HALF_UP)))


@transaction.atomic
def take_factor(factor: Decimal, at: datetime) -> None:
    """Reckon the router's minutes with this factor from now on. Raises PlannerError where a design can't be."""
    figures = Figures.get()
    figures.router_factor, figures.router_factor_since = factor, at
    figures.full_clean()
    figures.save()
    bench = Bench.as_it_stands()
    for design in Design.objects.all():
        reckon(design, bench)
    tell_work_changed(Figures, f"the router's minutes are reckoned × {factor}")
