"""Moisture and movement against the Wood Handbook."""

import pytest

from planner.trade.wood import (
    WOODS,
    Wood,
    change_in,
    equilibrium_moisture_percent,
    equilibrium_moisture_percent_celsius,
)
from planner.trade.wood.movement import change_by_shrinkage

TABLE_4_2 = pytest.mark.source("Wood Handbook, FPL-GTR-190 (2010), table 4-2: equilibrium moisture")
TABLE_13_5 = pytest.mark.source("Wood Handbook, FPL-GTR-190 (2010), tables 4-3 and 13-5: shrinkage and change")
EXAMPLE = pytest.mark.source("Wood Handbook, FPL-GTR-190 (2010), chapter 13: worked example")

FAHRENHEIT = (30, 50, 70, 80, 100, 130)
CELLS = {
    20: (4.6, 4.6, 4.5, 4.4, 4.2, 3.7),
    30: (6.3, 6.3, 6.2, 6.1, 5.8, 5.2),
    40: (7.9, 7.9, 7.7, 7.6, 7.2, 6.6),
    50: (9.5, 9.5, 9.2, 9.1, 8.7, 7.9),
    60: (11.3, 11.2, 11.0, 10.8, 10.3, 9.4),
    65: (12.4, 12.3, 12.0, 11.7, 11.2, 10.3),
    80: (16.5, 16.4, 16.0, 15.7, 15.1, 14.0),
}


@TABLE_4_2
@pytest.mark.parametrize(
    ("humidity", "fahrenheit", "percent"),
    [(row, column, cell) for row, cells in CELLS.items() for column, cell in zip(FAHRENHEIT, cells, strict=True)],
)
def test_every_cell_of_the_table(humidity, fahrenheit, percent):
    assert equilibrium_moisture_percent(fahrenheit, humidity / 100) == pytest.approx(percent, abs=0.07)


@pytest.mark.source("FPL-RN-0268 (1998): the equation in degrees Celsius")
@pytest.mark.parametrize("fahrenheit", range(32, 131, 14))
@pytest.mark.parametrize("humidity", [0.05, 0.3, 0.6, 0.95])
def test_both_forms_of_the_equation_agree(fahrenheit, humidity):
    celsius = equilibrium_moisture_percent_celsius((fahrenheit - 32) / 1.8, humidity)
    assert celsius == pytest.approx(equilibrium_moisture_percent(fahrenheit, humidity), abs=0.02)


# C = (S / F) / (100 - S (F - 10) / F): how the handbook's change per cent follows from its shrinkage.
@TABLE_13_5
@pytest.mark.parametrize("wood", [wood for wood in WOODS.values() if not wood.is_a_group], ids=lambda wood: wood.name)
def test_change_follows_from_shrinkage(wood):
    for shrinkage, coefficient in (
        (wood.radial_shrinkage, wood.radial),
        (wood.tangential_shrinkage, wood.tangential),
    ):
        saturation = wood.saturation_percent
        derived = (shrinkage / saturation) / (100 - shrinkage * (saturation - 10) / saturation)
        assert derived == pytest.approx(coefficient, abs=1.1e-5)


# A flat-sawn board of 232 mm (9.15 in) at 8 %, brought to 11 %, coefficient 0.00245: 233.7 mm, 9.217 in.
@EXAMPLE
@pytest.mark.parametrize(("width", "after", "near"), [(232, 233.7, 0.05), (9.15, 9.217, 0.0005)])
def test_the_worked_example(width, after, near):
    assert width * (1 + 0.00245 * 3) == pytest.approx(after, abs=near)
    white_fir = wood_like(0.00112, 0.00245)
    assert width + change_in(width, white_fir, 8, 11) == pytest.approx(after, abs=near)


@EXAMPLE
def test_the_second_equation_on_the_same_board():
    assert change_by_shrinkage(232, 7.0, 8, 11) == pytest.approx(1.712, abs=5e-4)


# 5 in of a wood with 0.00129, from 6 to 9 %: 0.019 in; 8 in with 0.0026 over 6 points: 0.1248 in.
@pytest.mark.source("flooring and furniture trade exercises with the handbook's equation 13-2")
@pytest.mark.parametrize(
    ("width_in", "coefficient", "low", "high", "change"), [(5, 0.00129, 6, 9, 0.019), (8, 0.0026, 7, 13, 0.1248)]
)
def test_exercises_of_the_trade(width_in, coefficient, low, high, change):
    assert change_in(width_in, wood_like(coefficient, coefficient), low, high) == pytest.approx(change, abs=5e-4)


def wood_like(radial, tangential):
    return Wood("a wood", 3.3, 7.0, radial, tangential, 0.4, 500)
