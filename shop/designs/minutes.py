"""Minutes from geometry: what the router and the laser take for a design, written on its rows for the plan to read."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from math import ceil

from planner import (
    NM_PER_INCH,
    Cutter,
    Machine,
    PlannerError,
    RoutedPass,
    Workpiece,
    laser_raster_minutes,
    laser_vector_minutes,
    routed,
)
from shop.designs import shapes
from shop.designs.machines import cutter_of, laser, machine_of, router
from shop.designs.models import Design, Detail, Pass
from shop.figures.models import Figures
from shop.stations.models import Station

STEP_OVER_PERCENT = {Pass.Kind.POCKET: 40, Pass.Kind.CLEAN_UP: 10, Pass.Kind.TEXTURE: 60}
"""Where a pass says none. Common practice, no source."""

THE_POCKETS = {Pass.Kind.POCKET, Pass.Kind.CLEAN_UP}
TEXTURE_IN = 1 / 16
MOST_MINUTES = 9_000
CARVING_IN = 1 / 8


@dataclass(frozen=True)
class Bench:
    """What minutes depend on besides the design."""

    machine: Machine
    laser: Station | None
    factor: Decimal

    @classmethod
    def as_it_stands(cls) -> Bench:
        return cls(machine_of(router()), laser(), Figures.get().router_factor)


def reckon(design: Design, bench: Bench | None = None) -> None:
    """Write the minutes on the design's passes and details. Raises PlannerError, naming the pass that can't be."""
    bench = bench or Bench.as_it_stands()
    for row in design.passes.select_related("bit"):
        if not row.by_hand:
            minutes = routed_of(design, row, bench.machine).minutes * float(bench.factor)
            row.minutes = say_minutes(minutes, f"{design}, {row.name}")
            row.save(update_fields=["minutes"])
    for detail in design.details.filter(kind=Detail.Kind.LASER):
        if minutes := laser_minutes(detail, bench.laser):
            detail.minutes = ceil(say_minutes(minutes, f"{design}, laser"))
            detail.save(update_fields=["minutes"])


def routed_of(design: Design, row: Pass, machine: Machine, *, step_over_percent: int | None = None) -> RoutedPass:
    """One pass as the router goes it, before the workshop's own factor. Raises PlannerError, naming the pass."""
    try:
        return _routed(
            row.kind,
            shapes.workpiece(design),
            cutter_of(row.bit),
            machine,
            depth_in=depth_in(design, row),
            step_over=(step_over_percent or step_over_of(row)) / 100,
            tabs=row.tabs,
        )
    except PlannerError as error:
        raise PlannerError(f"{design}, {row.name or row.get_kind_display()}: {error}") from error


@lru_cache(maxsize=32)
def _routed(kind: str, piece: Workpiece, cutter: Cutter, machine: Machine, **how: float) -> RoutedPass:
    """Kept for a while: the same pass is reckoned when a design is kept, on its page, and for its advice."""
    return routed(kind, piece, cutter, machine, **how)


def step_over_of(row: Pass) -> int:
    """In per cent of the bit."""
    return row.step_over_percent or STEP_OVER_PERCENT.get(Pass.Kind(row.kind), 40)


def depth_in(design: Design, row: Pass) -> float:
    if row.depth_nm:
        return row.depth_nm / NM_PER_INCH
    if row.kind in THE_POCKETS:
        return (design.pocket_depth_nm or 0) / NM_PER_INCH
    usual = {
        Pass.Kind.TEXTURE: TEXTURE_IN,
        Pass.Kind.CARVE: CARVING_IN,
        Pass.Kind.ROUND_OVER: row.bit.diameter_nm / NM_PER_INCH,
    }
    return usual.get(Pass.Kind(row.kind), design.stock_thickness_nm / NM_PER_INCH)


def laser_minutes(detail: Detail, station: Station | None) -> float:
    """From what is engraved and cut; 0 where the detail says neither, and its own minutes hold."""
    station = station or Station()
    minutes = 0.0
    if detail.laser_length_nm and detail.laser_width_nm and detail.laser_lines_per_inch:
        minutes += laser_raster_minutes(
            detail.laser_length_nm / NM_PER_INCH,
            detail.laser_width_nm / NM_PER_INCH,
            lines_per_in=detail.laser_lines_per_inch,
            speed_in_per_s=float(station.laser_in_per_second),
        )
    if detail.laser_cut_nm:
        minutes += laser_vector_minutes(
            detail.laser_cut_nm / NM_PER_INCH, speed_in_per_s=float(station.laser_cut_in_per_second)
        )
    return minutes


def say_minutes(minutes: float, what: str) -> Decimal:
    """As rows keep them: tenths, never none. Raises PlannerError for what no workshop waits for."""
    if minutes > MOST_MINUTES:
        raise PlannerError(f"{what}: it would take {minutes / 60:,.0f} hours; check sizes, feeds and speeds.")
    return max(Decimal("0.1"), Decimal(str(round(minutes, 1))))
