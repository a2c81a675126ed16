"""What is no number is refused in a sentence wherever the trade's sums take numbers: no sum hands it on."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from math import inf, nan

import numpy as np
import pytest
from shapely import box

from planner.errors import PlannerError
from planner.trade.cutting import Cutter, Machine, StepOverRow, cusps, feeds, laser, motion, step_over_advice
from planner.trade.demand import (
    Demand,
    critical_ratio,
    demand_from_sales,
    marginal_values,
    newsvendor_cost_normal,
    newsvendor_normal,
    newsvendor_pieces,
    newsvendor_uniform,
)
from planner.trade.finish import (
    RecoatWindow,
    amount_ml,
    coverage_ft2_per_gallon,
    coverage_m2_per_litre,
    cured_on,
    minutes_at,
    recoat_within_or_after,
    surface_in2,
)
from planner.trade.glue import clamps_for_panel, glue_grams, panels_in_minutes, panels_in_one_go
from planner.trade.lumber import FinishedPart, board_feet, quarter_for, to_buy, true_board_feet
from planner.trade.outlines import Limits, check_outline, eased, grown, inset
from planner.trade.outlines.findings import carved_width_in, grain_across
from planner.trade.price import BitWear, PriceFacts, RankRow, StationLoad, machine_dollars_an_hour
from planner.trade.sanding import grit_findings
from planner.trade.wood.flatness import FlatnessFacts
from planner.trade.wood.moisture import equilibrium_moisture_percent
from planner.trade.wood.movement import change_by_shrinkage, change_in
from planner.trade.wood.resting import moisture_findings, rest_days
from planner.trade.wood.species import WOODS

WOOD = next(iter(WOODS.values()))
BOWL = Cutter("bowl", 0.5)
FACTS = FlatnessFacts(0.5, 12, 8, 3, 3, True, WOOD, 8, 6)
ONE = Decimal(1)
NOUGHT = Decimal("NaN")
SALE = {"price": ONE * 3, "cost": ONE, "salvage": ONE, "most": 3}
MACHINE = {"price_dollars": ONE, "salvage_dollars": ONE, "years": 5, "hours_a_year": 900, "interest_fraction": ONE / 10}
FEWEST = {"panels_in_a_go": 1, "minutes_to_spread_and_close_a_panel": 5}
GO = {"minutes_to_spread_and_close_a_panel": 5, "clamps_free": 8, "clamps_a_panel": 2}

SUMS = {
    "minutes at a warmth": lambda x: minutes_at(x, 20, 15),
    "minutes at a label's warmth": lambda x: minutes_at(60, x, 15),
    "minutes at now": lambda x: minutes_at(60, 20, x),
    "minutes at the least": lambda x: minutes_at(60, 20, 15, x),
    "an amount of finish": lambda x: amount_ml(x, 2, 10),
    "coats": lambda x: amount_ml(100, x, 10),
    "cover": lambda x: amount_ml(100, 2, x),
    "surface": lambda x: surface_in2(x, 1, 1),
    "surface of walls": lambda x: surface_in2(1, 1, 1, pocket_perimeter_in=x, pocket_depth_in=1),
    "solids": lambda x: coverage_m2_per_litre(x, 100),
    "film": lambda x: coverage_m2_per_litre(0.5, x),
    "transfer": lambda x: coverage_ft2_per_gallon(0.5, 2, x),
    "recoat window": lambda x: recoat_within_or_after(x, 90),
    "time since a coat": lambda x: RecoatWindow(((0, 60),)).next_allowed(x),
    "is a coat allowed": lambda x: RecoatWindow(((0, 60),)).allows(x),
    "days to cure": lambda x: cured_on(date(2030, 1, 1), x),
    "rest": lambda x: rest_days(x, 8),
    "rest in the shop": lambda x: rest_days(8, x),
    "strips at rest": lambda x: moisture_findings([("oak", x), ("ash", 8)], 8),
    "flatness from": lambda x: replace(FACTS, from_percent=x),
    "flatness to": lambda x: replace(FACTS, to_percent=x),
    "flatness of strips": lambda x: replace(FACTS, widest_strip_in=x),
    "moisture": lambda x: equilibrium_moisture_percent(70, x),
    "movement": lambda x: change_in(6, WOOD, 8, x),
    "shrinkage": lambda x: change_by_shrinkage(6, x, 8, 6),
    "shrinkage of a width": lambda x: change_by_shrinkage(x, 8, 8, 6),
    "shrinkage to": lambda x: change_by_shrinkage(6, 8, 8, x),
    "grits": lambda x: grit_findings([80, 120], x),
    "clamps": clamps_for_panel,
    "glue": lambda x: glue_grams(20, x),
    "panels in a go": lambda x: panels_in_one_go(open_minutes=x, **GO),
    "panels in minutes": lambda x: panels_in_minutes(minutes=x, press_minutes=5, **FEWEST),
    "board feet": lambda x: board_feet(8, x),
    "true board feet": lambda x: true_board_feet(x, 8, 1),
    "a quarter": quarter_for,
    "parts": lambda x: FinishedPart(16, 9, x),
    "waste": lambda x: to_buy([], waste_fraction=x),
    "demand": lambda x: Demand(x, 1),
    "a guess": lambda x: demand_from_sales([], guess=x),
    "a critical ratio": lambda x: newsvendor_pieces(Demand(6, 2), x),
    "demand's mean": lambda x: newsvendor_normal(x, 2, 0.5),
    "demand's spread": lambda x: newsvendor_normal(6, x, 0.5),
    "cost of too many": lambda x: newsvendor_cost_normal(2, x, 1),
    "uniform demand": lambda x: newsvendor_uniform(0, x, 0.5),
    "used minutes": lambda x: StationLoad(x, 60),
    "open minutes": lambda x: StationLoad(60, x),
    "chip load": lambda x: feeds.chip_load_in(x, 18_000, 2),
    "chip load range": feeds.chip_load_range_in,
    "a level": lambda x: feeds.feed_findings(BOWL, depth_in=x),
    "levels": BOWL.level_in,
    "flutes": lambda x: replace(BOWL, flutes=2 * x),
    "rapid": lambda x: Machine(rapid_in_per_min=x),
    "cusp": lambda x: cusps.cusp_height_in(BOWL, x),
    "step-over": lambda x: cusps.step_over_for_cusp_in(BOWL, x),
    "floor": lambda x: step_over_advice(lambda _: 1.0, BOWL, x),
    "a cut": lambda x: motion.straight_minutes(x, 100, 20),
    "a feed": lambda x: motion.straight_minutes(5, x, 20),
    "a way": lambda x: motion.run_minutes(np.array([[0, 0], [1, x], [2, 0]]), 100, 20),
    "a raster": lambda x: laser.laser_raster_minutes(x, 2, lines_per_in=300, speed_in_per_s=10),
    "a rim": lambda x: grown(box(0, 0, 4, 4), x),
    "a rim inside": lambda x: inset(box(0, 0, 4, 4), x),
    "easing": lambda x: eased(box(0, 0, 4, 4), x),
    "limits": lambda x: check_outline(box(0, 0, 4, 4), (), limits=Limits(sanding_radius_in=x)),
    "a carved width": lambda x: carved_width_in(90, 0.1, x),
    "grain": lambda x: grain_across(x, 4),
}

DOLLARS = {
    "price": lambda x: critical_ratio(x, ONE),
    "cost": lambda x: critical_ratio(ONE, x),
    "marginal values": lambda x: marginal_values(Demand(6, 2), **SALE | {"cost": x}),
    "a machine": lambda x: machine_dollars_an_hour(**MACHINE | {"price_dollars": x}),
    "interest": lambda x: machine_dollars_an_hour(**MACHINE | {"interest_fraction": x}),
    "a fee": lambda x: PriceFacts(fee_dollars=x),
    "a bit's life": lambda x: PriceFacts(bits=(BitWear("bowl", ONE, ONE, x),)),
    "throughput": lambda x: RankRow("1", "tray", x, ONE, {}),
    "minutes at a station": lambda x: RankRow("1", "tray", ONE, ONE, {"router": x}),
}


@pytest.mark.parametrize("number", [nan, inf])
@pytest.mark.parametrize("asked", SUMS.values(), ids=SUMS)
def test_what_is_no_number_is_refused(asked, number):
    with pytest.raises(PlannerError, match=r"[.0-9a-z%]$"):
        asked(number)


@pytest.mark.parametrize("dollars", [NOUGHT, Decimal("Infinity")])
@pytest.mark.parametrize("asked", DOLLARS.values(), ids=DOLLARS)
def test_dollars_that_are_no_number_are_refused(asked, dollars):
    with pytest.raises(PlannerError):
        asked(dollars)


@pytest.mark.parametrize("asked", SUMS.values(), ids=SUMS)
def test_a_usual_number_is_taken(asked):
    asked(0.5)


def test_an_advice_compares_something():
    assert isinstance(step_over_advice(lambda _: 1.0, BOWL, 40, steps=[0.3]).best, StepOverRow)
    with pytest.raises(PlannerError, match="no step-over to compare"):
        step_over_advice(lambda _: 1.0, BOWL, 40, steps=())
