"""Clamps and glue, against gluing guides."""

import pytest

from planner.trade.glue import (
    Hardness,
    WaterClass,
    caul_width_in,
    clamp_pressure,
    clamps_for_panel,
    glue_grams,
    pressed_length_in,
)

CONE = pytest.mark.source("Rabiej in a woodworking journal: clamp force spreads 45 degrees to each side")
GUIDE = pytest.mark.source("a trade gluing guide: clamps 8 to 12 in apart")


@CONE
def test_a_6_inch_board_gives_a_pressed_length_of_12_inches():
    assert pressed_length_in(6) == 12


@CONE
@pytest.mark.parametrize(("pad_in", "clamps"), [(0, 12), (0.5, 10), (3.5, 5)])
def test_a_48_inch_joint_of_2_inch_boards(pad_in, clamps):
    """With one clamp fewer the same pad is too narrow."""
    assert caul_width_in(48, clamps, 2) <= pad_in < caul_width_in(48, clamps - 1, 2)


@GUIDE
@pytest.mark.parametrize("panel_in", [12, 16, 20, 24, 36, 48])
def test_clamps_stand_no_farther_apart_than_the_guide_allows(panel_in):
    assert (panel_in - 2 * 2) / (clamps_for_panel(panel_in) - 1) <= 12


@GUIDE
@pytest.mark.parametrize(
    ("hardness", "psi"), [(Hardness.SOFT, (100, 150)), (Hardness.MEDIUM, (150, 200)), (Hardness.HARD, (200, 300))]
)
def test_pressure_on_a_joint_by_hardness(hardness, psi):
    pressure = clamp_pressure(hardness)
    assert (pressure.from_psi, pressure.to_psi) == psi


@pytest.mark.source("a plywood maker's guide to spread: 200 to 250 g/m² for both faces")
def test_a_square_metre_of_joint_takes_200_to_250_grams():
    one_metre_in = 1 / 0.0254
    assert 200 <= glue_grams(one_metre_in, one_metre_in) <= 250


@pytest.mark.source("EN 204: durability classes D1 to D4")
def test_each_durability_class_withstands_more_water_than_the_one_before():
    assert WaterClass.D1 < WaterClass.D2 < WaterClass.D3 < WaterClass.D4
