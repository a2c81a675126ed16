"""Cutting against handbooks, closed forms and a tray worked out by hand."""

from math import ceil, floor, pi, sqrt

import numpy as np
import pytest
from shapely import MultiLineString, Point, box

from planner.trade.cutting import (
    Cutter,
    Machine,
    Workpiece,
    chip_load_in,
    cusp_height_in,
    routed,
    step_over_for_cusp_in,
)
from planner.trade.cutting.motion import run_minutes, straight_minutes
from planner.trade.cutting.rings import linked, reach, rounds
from planner.trade.outlines import polygon_of

CUSP = pytest.mark.source("ball-nose tables: cusp = R - sqrt(R^2 - (s/2)^2)")
MOTION = pytest.mark.source("linear motion handbooks: trapezoidal moves, t = d/v + v/a or 2 sqrt(d/a)")
BY_HAND = pytest.mark.source("worked out by hand: a round tray")
CLOSED_FORM = pytest.mark.source("closed forms: lengths of rings and rasters")

MM = 1 / 25.4


@CUSP
@pytest.mark.parametrize(
    ("radius", "step", "cusp"), [(3, 0.5, 0.010435), (0.25, 0.05, 0.001253), (3, 6, 3), (0.25, 1e-6, 0)]
)
def test_cusps_of_a_ball(radius, step, cusp):
    assert cusp_height_in(Cutter("bowl", 2 * radius), step) == pytest.approx(cusp, abs=5e-7)


@CUSP
def test_the_step_over_for_a_cusp():
    assert step_over_for_cusp_in(Cutter("bowl", 6), 0.005) == pytest.approx(0.346, abs=5e-4)


# D 12.7 mm with a corner of 3.175: none up to the flat of 6.35, then 0.109, 0.577 and the whole corner.
@CUSP
@pytest.mark.parametrize(("step", "cusp"), [(6.35, 0), (8, 0.109), (10, 0.577), (12.7, 3.175)])
def test_cusps_of_a_flat_bit_with_round_corners(step, cusp):
    cutter = Cutter("bowl", 12.7, corner_radius_in=3.175)
    assert cusp_height_in(cutter, step) == pytest.approx(cusp, abs=6e-4)


@CUSP
@pytest.mark.parametrize("share", [0.05, 0.25, 0.5])
def test_the_usual_approximation_is_never_above_and_near(share):
    exact = cusp_height_in(Cutter("bowl", 2), share)
    assert share**2 / 8 <= exact <= share**2 / 8 * 1.02


# 18,000 turns, 2 flutes: 0.011 in at 396 in a minute, 0.005 at 180, 0.1 mm at 3600 mm.
@pytest.mark.source("feeds and speeds tables: chip load = feed / (turns x flutes)")
@pytest.mark.parametrize(("feed", "chip"), [(396, 0.011), (180, 0.005), (3600 * MM, 0.1 * MM)])
def test_chip_loads(feed, chip):
    assert chip_load_in(feed, 18_000, 2) == pytest.approx(chip)


@MOTION
@pytest.mark.parametrize(("mm", "seconds"), [(2, 0.163), (10, 0.365), (50, 0.972), (200, 3.222)])
def test_straight_moves_from_rest_to_rest(mm, seconds):
    assert straight_minutes(mm * MM, 4000 * MM, 300 * MM) * 60 == pytest.approx(seconds, abs=1e-3)


# A circle is gone round at v = min(feed, sqrt(a R)): 2 pi R / v, and v/a to start and stop. R 0.5 at 5 in/s and 20
# in/s²: v = 3.162, 0.993 + 0.158 = 1.152 s.
@pytest.mark.source("mechanics: centripetal acceleration a = v^2 / R")
@pytest.mark.parametrize("points", [16, 24, 64, 180, 720])
@pytest.mark.parametrize("radius_in", [0.1, 0.25, 0.5, 1, 2, 4])
@pytest.mark.parametrize("feed_in_per_min", [60, 150, 300])
def test_circles_keep_to_the_centripetal_limit(radius_in, points, feed_in_per_min):
    turns = np.linspace(0, 2 * pi, points + 1)
    circle = radius_in * np.column_stack([np.cos(turns), np.sin(turns)])
    speed = min(feed_in_per_min / 60, sqrt(20 * radius_in))
    seconds = 2 * pi * radius_in / speed + speed / 20
    assert run_minutes(circle, feed_in_per_min, 20) * 60 == pytest.approx(seconds, rel=0.008)


# 200 x 100 mm at 2.5 mm: a raster is 40 lines of 200 and 39 steps of 2.5, 8097.5 mm; area over step-over 8000.
@CLOSED_FORM
def test_rounds_over_a_field_are_about_area_over_step_over():
    (run,) = linked(rounds(reach(box(0, 0, 200 * MM, 100 * MM), 1.25 * MM), 2.5 * MM, 2.5 * MM), 2.5 * MM)
    length_mm = np.hypot(*np.diff(run, axis=0).T).sum() / MM
    assert length_mm == pytest.approx(200 * 100 / 2.5, rel=0.02)
    assert length_mm == pytest.approx(8097.5, rel=0.02)


@CLOSED_FORM
@pytest.mark.parametrize("step", [0.1, 0.3, 0.45])
def test_rings_of_a_round_pocket_are_the_circles_of_geometry(step):
    rings = rounds(reach(Point(0, 0).buffer(5, quad_segs=256), 0.375), step, 0.375)
    radii = [4.625 - step * n for n in range(floor(4.625 / step) + 1)]
    lengths = sorted(2 * pi * radius for radius in radii if radius > 1e-3)
    ours = sorted(np.hypot(*np.diff(np.vstack([ring, ring[:1]]), axis=0).T).sum() for ring in rings)
    assert ours[-len(lengths) :] == pytest.approx(lengths, rel=0.01, abs=0.05)


def circles(radius, bit_radius, step):
    """The length of concentric rounds of a bit in a round pocket, and how many there are."""
    radii = [radius - bit_radius - step * n for n in range(ceil((radius - bit_radius) / step - 1e-9))]
    return 2 * pi * sum(radii), len(radii)


@BY_HAND
def test_a_round_tray():
    """A tray 12 in across, its pocket 10 in across and 0.4 in deep, from 3/4 in stock.

    3/4 in bowl bit at 150 in a minute, plunging at 40, at most 1/4 in at once; 1/4 in bit at 100 and 30, at most 1/4;
    200 in a minute without cutting, 20 in/s², 1/4 in over the wood; four tabs.
    """
    bowl = Cutter("bowl", 0.75, feed_in_per_min=150, plunge_in_per_min=40, depth_per_pass_in=0.25)
    quarter = Cutter("down-cut", 0.25, feed_in_per_min=100, plunge_in_per_min=30, depth_per_pass_in=0.25)
    tray = Workpiece(polygon_of("oval", 12, 12), 0.75, (Point(6, 6).buffer(5, quad_segs=128),))
    ours = [
        routed("pocket", tray, bowl, Machine(), depth_in=0.4, step_over=0.4).minutes,
        routed("clean-up", tray, bowl, Machine(), depth_in=0.4, step_over=0.1).minutes,
        routed("profile", tray, quarter, Machine(), depth_in=0.75, tabs=4).minutes,
    ]

    # Pocket: 40 % of 3/4 are 0.3 in. Circles of radius 4.625, 4.325, ... 0.125: 16 of them, 238.8 in; between them 15
    # steps of 0.3, 4.5 in. 0.4 in are two levels of 0.2: 486.5 in at 150 a minute, two plunges of 0.2 at 40.
    length, count = circles(5, 0.375, 0.3)
    assert count == 16
    assert length == pytest.approx(238.8, abs=0.1)
    pocket = 2 * (length + 0.3 * (count - 1)) / 150 + 2 * 0.2 / 40
    # Clean-up: 10 % are 0.075 in: 62 circles, one level at full depth.
    length, count = circles(5, 0.375, 0.075)
    assert count == 62
    clean_up = (length + 0.075 * (count - 1)) / 150 + 0.4 / 40
    # Cut out: a circle of radius 6.125, three levels of 1/4, over four tabs of 1/16 on the last: up, and down at 30.
    cut_out = 3 * 2 * pi * 6.125 / 100 + 3 * 0.25 / 30 + 4 * (1 / 16 / 200 + 1 / 16 / 30)
    # Every run starts and stops: v/a seconds each, and again at three of the tabs; down to the wood and up from it.
    stops = (2 * 2.5 + 2.5 + (3 + 3) * 100 / 60) / 20 / 60
    by_hand = pocket + clean_up + cut_out + stops + 3 * 2 * 0.5 / 200
    assert sum(ours) == pytest.approx(by_hand, rel=0.03)
    assert ours == pytest.approx([pocket, clean_up, cut_out], rel=0.06)


@BY_HAND
def test_an_entry_down_a_slope():
    """0.2 in down a slope of 3 degrees is 0.2 / sin 3° = 3.82 in of path at 120 in a minute, 2 in/s: 1.91 s, and v/a =
    0.1 s to start and stop. The pocket is 0.4 in deep, two levels, one run each."""
    sloping = Cutter("bowl", 0.75, feed_in_per_min=120, depth_per_pass_in=0.25, ramp_degrees=3)
    tray = Workpiece(polygon_of("oval", 12, 12), 0.75, (Point(6, 6).buffer(5, quad_segs=128),))
    done = routed("pocket", tray, sloping, Machine(acceleration_in_per_s2=20), depth_in=0.4, step_over=0.4)
    assert done.levels == 2
    assert done.plunging_minutes * 60 == pytest.approx(2 * (1.91 + 0.1), rel=0.002)


@BY_HAND
def test_length_goes_as_one_over_the_step_over_and_the_cusp_as_its_square():
    tray = Workpiece(Point(0, 0).buffer(7), 0.75, (Point(0, 0).buffer(6, quad_segs=64),))
    bowl = Cutter("bowl", 0.75)
    lengths = {
        s: routed("clean-up", tray, bowl, Machine(), depth_in=0.4, step_over=s).path_in for s in (0.05, 0.1, 0.2)
    }
    assert lengths[0.05] / lengths[0.1] == pytest.approx(2, rel=0.03)
    assert lengths[0.1] / lengths[0.2] == pytest.approx(2, rel=0.03)
    assert cusp_height_in(bowl, 0.15) / cusp_height_in(bowl, 0.075) == pytest.approx(4, rel=0.03)


@BY_HAND
def test_time_grows_with_area():
    minutes = []
    for radius in (4, 8, 16):
        pocket = Point(0, 0).buffer(radius, quad_segs=64)
        tray = Workpiece(pocket.buffer(1), 0.75, (pocket,))
        minutes.append(routed("pocket", tray, Cutter("bowl", 0.75), Machine(), depth_in=0.4, step_over=0.4).minutes)
    assert minutes[2] / minutes[1] == pytest.approx(4, rel=0.08)
    assert sqrt(minutes[1] / minutes[0]) == pytest.approx(2, rel=0.12)


@CLOSED_FORM
@pytest.mark.parametrize("step_over", [0.1, 0.4])
def test_what_the_rounds_sweep_is_the_pocket(step_over):
    pocket = Point(0, 0).buffer(4, quad_segs=64)
    tray = Workpiece(pocket.buffer(1), 0.75, (pocket,))
    done = routed("pocket", tray, Cutter("bowl", 0.75), Machine(), depth_in=0.4, step_over=step_over)
    assert MultiLineString(done.paths).buffer(0.375).area == pytest.approx(pi * 16, rel=0.005)
    assert done.left_in2 == pytest.approx(0, abs=0.05)
