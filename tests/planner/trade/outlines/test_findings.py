"""What is found wrong with outlines, where, and that easing mends it."""

from math import pi, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, box

from planner.errors import OutlineError
from planner.trade.outlines import Limits, check_outline, eased, grown, inset, polygon_of
from planner.trade.outlines.findings import (
    Fault,
    crowded_lines,
    grain_across,
    thin_areas,
    thin_walls,
    tight_corners,
    unreachable,
)

L_SHAPE = Polygon([(0, 0), (6, 0), (6, 2), (2, 2), (2, 6), (0, 6)])


def test_every_square_corner_is_tight_and_the_hollow_one_too():
    found = tight_corners(L_SHAPE, 0.375)
    assert len(found) == 6
    assert sum(finding.says.startswith("The hollow") for finding in found) == 1


@pytest.mark.parametrize(("radius_in", "tight"), [(0.3, 0), (0.34, 0), (0.45, 4)])
def test_corners_as_round_as_the_pad_are_not_tight(radius_in, tight):
    assert len(tight_corners(polygon_of("rectangle", 8, 5, 0.35), radius_in)) == tight


def test_a_round_outline_has_no_corner():
    assert tight_corners(polygon_of("oval", 9, 9), 0.4) == ()


def test_a_hexagon_has_six_and_rounded_none():
    assert len(tight_corners(polygon_of("polygon", 8, 8, sides=6), 0.375)) == 6
    assert tight_corners(polygon_of("polygon", 8, 8, 0.4, sides=6), 0.375) == ()


@given(st.floats(0.1, 0.45))
def test_an_eased_outline_has_no_tight_corner_and_stays_inside_its_closing(radius_in):
    round_all_over = eased(L_SHAPE, radius_in)
    assert tight_corners(round_all_over, radius_in * 0.98) == ()
    taken_and_filled_in2 = 6 * (1 - pi / 4) * radius_in**2
    assert round_all_over.symmetric_difference(L_SHAPE).area == pytest.approx(taken_and_filled_in2, abs=0.002)


def test_an_outline_too_narrow_to_ease_says_so():
    with pytest.raises(OutlineError, match="nowhere as wide as 2 in"):
        eased(box(0, 0, 6, 1.5), 1)


def test_a_bit_leaves_four_corners_of_a_square_pocket_standing():
    found = unreachable(box(1, 1, 5, 4), 0.5)
    assert len(found) == 4
    assert sum(finding.shape.area for finding in found) == pytest.approx((4 - pi) * 0.25**2, rel=0.02)


def test_a_pocket_narrower_than_the_bit_is_not_entered():
    (finding,) = unreachable(box(0, 0, 5, 0.4), 0.5)
    assert "doesn't enter it" in finding.says


def test_a_thin_wall_is_told_with_its_thickness():
    (finding,) = thin_walls(box(0, 0, 8, 5), [box(0.125, 1, 7, 4)], 0.25)
    assert finding.fault is Fault.THIN_WALL
    assert "and the edge is 1/8 in thick" in finding.says


def test_walls_as_thick_as_the_least_are_well():
    assert thin_walls(box(0, 0, 8, 5), [box(0.25, 0.25, 3.5, 4.75), box(3.75, 0.25, 7.75, 4.75)], 0.25) == ()


def test_a_thin_wall_between_pockets_is_found():
    (finding,) = thin_walls(box(0, 0, 8, 5), [box(1, 1, 3, 4), box(3.1, 1, 5, 4)], 0.25)
    assert "another pocket" in finding.says


def test_a_stroke_of_a_letter_is_carved_only_as_wide_as_the_v():
    assert thin_areas([box(0, 0, 3, 0.3)], 90, 0.125) == ()
    assert len(thin_areas([box(0, 0, 3, 0.2)], 90, 0.125)) == 1


def test_lines_too_near_each_other_run_together():
    lines = [LineString([(0, 0), (4, 0)]), LineString([(0, 0.1), (4, 0.1)]), LineString([(0, 2), (4, 2)])]
    (finding,) = crowded_lines(lines, 60, 0.125)
    assert "nothing stands between them" in finding.says


def test_a_piece_long_across_its_grain_is_told():
    assert grain_across(6, 20)
    assert grain_across(20, 6) == grain_across(10, 12) == ()


def test_a_design_is_held_against_all_that_applies():
    faults = {
        finding.fault
        for finding in check_outline(L_SHAPE, [box(0.1, 0.1, 1.9, 1.9)], limits=Limits(pocket_bit_in=0.75))
    }
    assert faults == {Fault.TIGHT_CORNER, Fault.UNREACHABLE, Fault.THIN_WALL}


@given(st.floats(0.1, 2))
def test_a_rim_grows_outward_and_is_drawn_in_again(rim_in):
    inner = box(0, 0, 8, 5)
    outer = grown(inner, rim_in)
    assert outer.area == pytest.approx(40 + 26 * rim_in + pi * rim_in**2, rel=1e-3)
    (back,) = inset(outer, rim_in)
    assert back.symmetric_difference(inner).area < 0.02


def test_an_outline_falls_apart_where_the_rim_is_wider_than_its_waist():
    dumbbell = Point(0, 0).buffer(2).union(Point(8, 0).buffer(2)).union(box(0, -0.5, 8, 0.5))
    assert len(inset(dumbbell, 0.75)) == 2
    assert inset(box(0, 0, 1, 1), 0.6) == ()


@pytest.mark.parametrize("rim_in", [0, -1, float("nan"), float("inf")])
def test_a_rim_has_a_width(rim_in):
    with pytest.raises(OutlineError, match="A rim is more than 0"):
        grown(box(0, 0, 1, 1), rim_in)


def test_a_wall_is_measured_across_whatever_way_it_runs():
    diamond = Polygon([(0, 4), (4, 0), (8, 4), (4, 8)])
    (pocket,) = inset(diamond, 0.2)
    assert any("≈13/64" in finding.says for finding in thin_walls(diamond, [pocket], 0.25))
    assert sqrt(pocket.area) < sqrt(diamond.area)


def faults(outline, pockets=(), lines=(), **limits):
    found = check_outline(outline, pockets, lines, limits=Limits(sanding_radius_in=0.01, **limits))
    return [each.fault for each in found if each.fault is not Fault.TIGHT_CORNER]


def test_a_narrow_neck_and_a_thin_island_are_thin_walls():
    dumbbell = box(0, 0, 4, 4).union(box(4, 1.9, 8, 2.1)).union(box(8, 0, 12, 4))
    assert faults(dumbbell) == [Fault.THIN_WALL]
    assert faults(box(0, 0, 12, 8)) == []
    wall = box(1, 1, 11, 7).difference(box(5.95, 2, 6.05, 6))
    assert faults(box(0, 0, 12, 8), [wall]) == [Fault.THIN_WALL]


def test_every_thin_spot_between_two_pockets_is_told():
    comb = box(1, 1, 5, 2).union(box(4, 1, 5, 7)).union(box(1, 6, 5, 7))
    other = box(1, 2.1, 3, 5.9)
    assert faults(box(0, 0, 8, 8), [comb, other]).count(Fault.THIN_WALL) == 2


def test_a_line_near_the_edge_and_a_stroke_too_thin_for_the_v_are_told():
    tray = box(0, 0, 12, 8)
    assert faults(tray, lines=[LineString([(1, 0.05), (6, 0.05)])], v_angle_degrees=90) == [Fault.THIN_LINE]
    assert faults(tray, lines=[LineString([(1, 1), (6, 1)])], v_angle_degrees=90) == []
    assert Fault.THIN_LINE in faults(tray, [box(2, 2, 6, 2.2)], v_angle_degrees=90, pocket_bit_in=0.75)


def test_a_bit_enters_a_slot_as_wide_as_it():
    assert not any("doesn't enter" in finding.says for finding in unreachable(box(0, 0, 4, 0.25), 0.25))
    assert any("doesn't enter" in finding.says for finding in unreachable(box(0, 0, 4, 0.24), 0.25))
