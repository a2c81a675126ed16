"""Cutting by geometry: minutes of the router and the laser, cusps, feeds, and what a workshop's own ticks say."""

from planner.trade.cutting.cusps import (
    StepOverAdvice,
    StepOverRow,
    cusp_height_in,
    step_over_advice,
    step_over_for_cusp_in,
)
from planner.trade.cutting.feeds import chip_load_in, chip_load_range_in, feed_findings
from planner.trade.cutting.laser import laser_raster_minutes, laser_vector_minutes
from planner.trade.cutting.learned import Correction, correction_of
from planner.trade.cutting.passes import PassKind, RoutedPass, Workpiece, routed
from planner.trade.cutting.tools import Cutter, Machine

__all__ = [
    "Correction",
    "Cutter",
    "Machine",
    "PassKind",
    "RoutedPass",
    "StepOverAdvice",
    "StepOverRow",
    "Workpiece",
    "chip_load_in",
    "chip_load_range_in",
    "correction_of",
    "cusp_height_in",
    "feed_findings",
    "laser_raster_minutes",
    "laser_vector_minutes",
    "routed",
    "step_over_advice",
    "step_over_for_cusp_in",
]
