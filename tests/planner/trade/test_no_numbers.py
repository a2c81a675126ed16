"""What is no number is refused with a sentence wherever the trade reckons; no sum says nan."""

from decimal import Decimal
from math import nan

import pytest

from planner.errors import PlannerError
from planner.trade.cutting import Cutter, chip_load_in, cusp_height_in, laser_raster_minutes, laser_vector_minutes
from planner.trade.demand import critical_ratio, newsvendor_normal, newsvendor_uniform
from planner.trade.finish import RecoatWindow, amount_ml, coverage_ft2_per_gallon, minutes_at, surface_in2
from planner.trade.lumber import true_board_feet
from planner.trade.wood import FlatnessFacts, change_in, equilibrium_moisture_percent, wood_named
from planner.trade.wood.movement import change_by_shrinkage
from planner.trade.wood.resting import rest_days

CHERRY = wood_named("cherry")
SUMS = {
    "surface": lambda: surface_in2(nan, 1, 1),
    "amount": lambda: amount_ml(nan, 1, 10),
    "drying": lambda: minutes_at(60, 20, nan),
    "a label": lambda: minutes_at(nan, 20, 20),
    "coverage": lambda: coverage_ft2_per_gallon(0.5, 10, nan),
    "a window": lambda: RecoatWindow(((0, nan),)),
    "rest": lambda: rest_days(nan, 8),
    "the air": lambda: equilibrium_moisture_percent(60, nan),
    "movement": lambda: change_in(10, CHERRY, nan, 8),
    "shrinkage": lambda: change_by_shrinkage(nan, 5, 8, 6),
    "flatness": lambda: FlatnessFacts(0.3, 10, 10, 2, 4, True, CHERRY, nan, 7),
    "a chip": lambda: chip_load_in(nan, 18_000, 2),
    "a cusp": lambda: cusp_height_in(Cutter("bowl", 0.5), nan),
    "an engraving": lambda: laser_raster_minutes(nan, 1, lines_per_in=100, speed_in_per_s=12),
    "a laser's cut": lambda: laser_vector_minutes(nan, speed_in_per_s=1),
    "board feet": lambda: true_board_feet(nan, 1, 1),
    "normal demand": lambda: newsvendor_normal(nan, 1, 0.5),
    "even demand": lambda: newsvendor_uniform(0, nan, 0.5),
    "what pays": lambda: critical_ratio(Decimal("nan"), Decimal(1)),
}


@pytest.mark.parametrize("reckon", SUMS.values(), ids=SUMS)
def test_what_is_no_number_is_refused(reckon):
    with pytest.raises(PlannerError) as refusal:
        reckon()
    assert str(refusal.value).endswith(".")
