"""What ticks say of the router's minutes, and the factor that the owner takes from them, or takes back."""

from __future__ import annotations

from datetime import datetime
from decimal import ROUND_HALF_UP, Decimal

from django.db import transaction

from planner import Correction, correction_of
from shop.designs.minutes import Bench, reckon
from shop.designs.models import Design
from shop.figures.models import Figures
from shop.floor.models import Step, Tick
from shop.signals import tell_work_changed

LEAST, MOST = Decimal("0.25"), Decimal(4)
NEAREST = Decimal("0.01")
MOST_TICKS = 500
LEAST_SHARE = 1 / 3
"""Of a bed load that tells of the factor, so much at least is worked-out cutting. Common practice, no source."""


def learned(figures: Figures) -> Correction:
    """Actual against planned minutes of what geometry says, in bed loads begun since the factor in use was taken."""
    ticks = Tick.objects.filter(step__kind="router").select_related("step").order_by("-at")
    if figures.router_factor_since:
        ticks = ticks.filter(step__begun_at__gte=figures.router_factor_since)
    ticks = ticks.prefetch_related("step__pieces__line__design__passes")
    return correction_of([pair for tick in ticks[:MOST_TICKS] if (pair := cutting_pair(tick))])


def cutting_pair(tick: Tick) -> tuple[float, float] | None:
    """Planned and actual minutes of a bed load's worked-out cutting, which is all that the factor multiplies.

    Loading, unloading, bit changes and passes with minutes by hand are taken off both, as planned. None where they
    are most of the load: being off in them would look like much in a short cut.
    """
    planned = watched_minutes(tick.step) - by_hand_minutes(tick.step)
    fixed = tick.step.attended_minutes - planned
    if planned <= 0 or planned < LEAST_SHARE * tick.step.attended_minutes:
        return None
    # a tick shorter than the fixed part is kept: leaving out short ones alone would lengthen the rest
    return planned, max(tick.minutes - fixed, planned * float(LEAST))


def watched_minutes(step: Step) -> float:
    """While the router cuts."""
    return float(sum(minutes for minutes, need in step.segments if need == "watch"))


def by_hand_minutes(step: Step) -> float:
    """Of the cutting, what the owner wrote down and geometry doesn't know."""
    passes = (row for piece in step.pieces.all() for row in piece.line.design.passes.all())
    return float(sum(row.minutes for row in passes if row.by_hand))


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
