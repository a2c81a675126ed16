"""Bits that are none are refused in a sentence."""

from math import inf, nan

import pytest

from planner.errors import CuttingError
from planner.trade.cutting import Cutter


@pytest.mark.parametrize("angle", [nan, inf, -60, 0, 9.9, 170.1])
def test_a_bit_has_an_angle_between_a_needle_and_a_plate(angle):
    with pytest.raises(CuttingError, match=r"^A bit’s angle is 10 to 170 degrees, not .*\.$"):
        Cutter("v", 0.5, angle_degrees=angle)


@pytest.mark.parametrize("tip", [nan, inf, -0.01, 0.51])
def test_a_tip_is_no_wider_than_its_bit(tip):
    with pytest.raises(CuttingError, match=r"^A bit’s tip is 0 to 0.5 in wide, as the bit is, not .*\.$"):
        Cutter("v", 0.5, angle_degrees=60, tip_in=tip)


@pytest.mark.parametrize("depth", [1e-9, 0.001, 0.0156])
def test_a_bit_goes_at_least_a_sixty_fourth_deep_at_once(depth):
    with pytest.raises(CuttingError, match=r"^A bit goes 1/64 in deep at once or more, not .*\.$"):
        Cutter("flat", 0.25, depth_per_pass_in=depth)


@pytest.mark.parametrize("angle", [10, 60, 170, None])
def test_what_is_just_a_bit_is_taken(angle):
    assert Cutter("v", 0.5, angle_degrees=angle, tip_in=0.5, depth_per_pass_in=1 / 64).angle_degrees == angle
