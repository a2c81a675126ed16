"""Passes: what must hold for every shape, and what is refused."""

from dataclasses import replace
from math import cos, pi, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, MultiLineString, Point, Polygon, box

from planner.errors import CuttingError
from planner.trade.cutting import Cutter, Machine, Workpiece, routed

BOWL = Cutter("bowl", 0.75, feed_in_per_min=150, plunge_in_per_min=40)
QUARTER = Cutter("down-cut", 0.25)
MACHINE = Machine()
TRAY = Workpiece(
    box(0, 0, 12, 8), 0.75, (box(1, 1, 11, 7),), (LineString([(2, 2), (10, 2)]), LineString([(2, 5), (10, 5)]))
)


def pocketed(pocket, step_over=0.4, cutter=BOWL, kind="pocket", depth_in=0.4):
    return routed(
        kind, Workpiece(pocket.buffer(1), 0.75, (pocket,)), cutter, MACHINE, depth_in=depth_in, step_over=step_over
    )


@settings(max_examples=20)
@given(st.floats(3, 12), st.floats(2, 8), st.sampled_from([0.1, 0.25, 0.4, 0.5, 0.7, 0.85, 1.0]))
def test_the_rounds_clear_all_that_the_bit_can_reach(length_in, width_in, step_over):
    pocket = box(0, 0, length_in, width_in)
    swept = MultiLineString(pocketed(pocket, step_over).paths).buffer(0.375)
    reachable = pocket.buffer(-0.375).buffer(0.375)
    assert reachable.difference(swept).area < 0.01 * reachable.area
    assert swept.difference(pocket.buffer(1e-3)).area < 1e-3


@pytest.mark.parametrize("step_over", [0.1, 0.4, 0.5, 0.6, 0.7, 0.8, 1.0])
@pytest.mark.parametrize(
    "pocket",
    [
        box(0, 0, 8, 8).difference(box(1.6, 1.6, 9, 9)),
        box(0, 0, 10, 8).difference(box(4.5, 3, 5.5, 5)),
        box(0, 0, 10, 8).difference(box(4.95, 1, 5.05, 7)),
        Polygon([(0, 0), (10, 0), (5, 2.5)]),
    ],
    ids=["two arms", "an island", "a wall", "sharp corners"],
)
def test_arms_and_islands_and_corners_are_cleared_as_well(pocket, step_over):
    swept = MultiLineString(pocketed(pocket, step_over).paths).buffer(0.375)
    reachable = pocket.buffer(-0.375).buffer(0.375)
    assert reachable.difference(swept).area < 0.002 * reachable.area


def test_an_island_stays_and_is_gone_round():
    pocket = box(0, 0, 10, 8).difference(Point(5, 4).buffer(1.5))
    swept = MultiLineString(pocketed(pocket).paths).buffer(0.375)
    assert swept.intersection(Point(5, 4).buffer(1.45)).area < 1e-3


def test_a_pocket_with_a_waist_falls_apart_into_runs():
    dumbbell = box(0, 0, 4, 4).union(box(4, 1.5, 8, 2.5)).union(box(8, 0, 12, 4))
    assert pocketed(dumbbell).retracts > pocketed(box(0, 0, 10, 4)).retracts


ARC = LineString([(2 * cos(n * pi / 100), 2 * sin(n * pi / 100)) for n in range(101)])


@pytest.mark.parametrize(
    "middle",
    [LineString([(0, 0), (4, 0)]), ARC, LineString([(n / 20, sin(n / 20)) for n in range(101)])],
    ids=["straight", "an arc", "a wave"],
)
@pytest.mark.parametrize("play_in", [-0.001, 0, 0.001])
def test_a_slot_as_wide_as_the_bit_is_cut_as_one_line(middle, play_in):
    slot = pocketed(middle.buffer(0.125 + play_in / 2, quad_segs=32), cutter=QUARTER, depth_in=0.25)
    assert slot.path_in == pytest.approx(middle.length, abs=0.01)
    assert slot.left_in2 < 0.001
    assert slot.paths[0].hausdorff_distance(middle) < 0.005


def test_a_groove_as_wide_as_the_bit_is_gone_round_once():
    groove = Point(0, 0).buffer(2, 128).difference(Point(0, 0).buffer(1.75, 128))
    assert pocketed(groove, cutter=QUARTER, depth_in=0.25).path_in == pytest.approx(2 * pi * 1.875, rel=0.001)


@pytest.mark.parametrize(
    "pocket",
    [
        box(0, 0, 2, 2).union(box(2, 1, 5, 1.25)).union(box(5, 0, 7, 2)),
        box(0, 0, 4, 0.25).union(box(0, 0, 0.25, 3)),
        box(0, 0, 4, 0.25).union(box(2, 0, 2.25, 3)),
    ],
    ids=["two pockets with a channel", "an L", "a T"],
)
def test_channels_as_wide_as_the_bit_are_cut_with_the_rest(pocket):
    swept = MultiLineString(pocketed(pocket, cutter=QUARTER).paths).buffer(0.125)
    square_ends_in2 = 6 * (1 - pi / 4) * 0.125**2
    assert pocket.difference(swept).area < 2 * square_ends_in2
    assert swept.difference(pocket.buffer(2e-3)).area < 1e-3


def test_the_pocket_that_the_bit_does_not_enter_is_named():
    tiny = replace(TRAY, pockets=(box(1, 1, 11, 4), box(2, 5, 2.5, 6.5)))
    with pytest.raises(CuttingError, match=r"doesn't enter the pocket at 2\.25, 5\.75 in, 0\.50 × 1\.50 in"):
        routed("pocket", tiny, BOWL, MACHINE, depth_in=0.4)


def test_time_is_cutting_plunging_and_travelling():
    done = pocketed(box(0, 0, 10, 6))
    assert done.minutes == pytest.approx(done.cutting_minutes + done.plunging_minutes + done.travelling_minutes)
    assert min(done.cutting_minutes, done.plunging_minutes, done.travelling_minutes) > 0


def test_deeper_cuts_take_more_levels():
    assert [pocketed(box(0, 0, 9, 6), depth_in=depth).levels for depth in (0.2, 0.25, 0.3, 0.6)] == [1, 1, 2, 3]
    assert pocketed(box(0, 0, 9, 6), kind="clean-up", depth_in=0.6).levels == 1


def test_a_profile_goes_round_outside_and_tabs_cost_time():
    free = routed("profile", TRAY, QUARTER, MACHINE, depth_in=0.75, tabs=0)
    held = routed("profile", TRAY, QUARTER, MACHINE, depth_in=0.75, tabs=4)
    (ring,) = free.paths
    assert ring.distance(TRAY.outline) == pytest.approx(0.125, abs=2e-3)
    assert free.levels == 3
    assert free.minutes < held.minutes < free.minutes + 0.5


def test_a_round_over_is_one_round_and_a_texture_covers_the_face():
    edge = routed("round-over", TRAY, Cutter("round-over", 0.25), MACHINE, depth_in=0.25)
    assert edge.path_in == pytest.approx(40, rel=1e-3)
    texture = routed("texture", TRAY, Cutter("bowl", 0.5), MACHINE, depth_in=0.06, step_over=0.6)
    assert texture.path_in == pytest.approx(96 / 0.3, rel=0.05)


@given(st.floats(0.5, 44), st.floats(0.1, 0.6))
def test_a_flatter_slope_takes_longer_and_nothing_else_changes(degrees, depth_in):
    pocket = box(0, 0, 8, 5)
    flat = pocketed(pocket, cutter=replace(BOWL, ramp_degrees=degrees), depth_in=depth_in)
    steep = pocketed(pocket, cutter=replace(BOWL, ramp_degrees=degrees + 1), depth_in=depth_in)
    straight = pocketed(pocket, depth_in=depth_in)
    assert flat.plunging_minutes > steep.plunging_minutes
    assert flat.cutting_minutes == steep.cutting_minutes == straight.cutting_minutes
    assert flat.path_in == straight.path_in


def test_lines_are_carved_one_after_the_other():
    carved = routed("carve", TRAY, Cutter("v", 0.5, angle_degrees=90, depth_per_pass_in=0.125), MACHINE, depth_in=0.125)
    assert carved.path_in == pytest.approx(16)
    assert carved.retracts == 1


@pytest.mark.parametrize(
    ("kind", "piece", "how", "said"),
    [
        ("texture", Workpiece(box(0, 0, 0.1, 0.1), 0.75), {}, "smaller than one step-over"),
        ("drill", TRAY, {}, "“drill” is no pass"),
        ("profile", TRAY, {}, "A bowl bit doesn't cut a profile pass"),
        ("texture", TRAY, {"depth_in": 2.0}, "cut less deep"),
        ("pocket", replace(TRAY, pockets=()), {}, "no pocket to cut"),
        ("pocket", TRAY, {"depth_in": 0.75}, "leave a floor"),
        ("pocket", replace(TRAY, pockets=(box(1, 1, 8, 1.5),)), {}, "doesn't enter the pocket"),
        ("pocket", TRAY, {"step_over": 0.0}, "1 to 100 % of the bit"),
        ("pocket", TRAY, {"step_over": 1.2}, "1 to 100 % of the bit"),
        ("pocket", TRAY, {"depth_in": float("nan")}, "more than 0 inches deep"),
        ("clean-up", replace(TRAY, pockets=(box(0, 0, 90, 90),)), {"step_over": 0.05}, "take a larger step-over"),
        ("profile", TRAY, {"tabs": -1}, "0 to 100 tabs"),
        ("carve", replace(TRAY, lines=()), {}, "no lines to carve"),
    ],
)
def test_what_can_not_be_cut_is_refused_in_a_sentence(kind, piece, how, said):
    with pytest.raises(CuttingError) as refusal:
        routed(kind, piece, BOWL, MACHINE, **{"depth_in": 0.4} | how)
    assert said in str(refusal.value)


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: Cutter("saw", 1), "no shape of a bit"),
        (lambda: Cutter("bowl", 0), "diameter is more than 0"),
        (lambda: Cutter("bowl", 0.5, corner_radius_in=0.4), "at most half its diameter"),
        (lambda: Cutter("bowl", 0.5, ramp_degrees=60), "slope of 0 to 45 degrees"),
        (lambda: Cutter("bowl", 0.5, ramp_degrees=float("nan")), "slope of 0 to 45 degrees"),
        (lambda: Machine(acceleration_in_per_s2=0), "acceleration is more than 0"),
        (lambda: Workpiece(box(0, 0, 1, 1), 0), "more than 0 inches thick"),
    ],
)
def test_tools_that_are_none_are_refused(make, said):
    with pytest.raises(CuttingError, match=said):
        make()


@settings(max_examples=15)
@given(st.lists(st.tuples(st.floats(0, 10), st.floats(0, 10)), min_size=3, max_size=8, unique=True))
def test_any_pocket_is_cut_or_refused(points):
    pocket = Polygon(points).convex_hull
    if not isinstance(pocket, Polygon) or pocket.area < 0.5:
        return
    if pocket.buffer(-0.375 + 0.001).is_empty:  # half of what a slot may be narrower than the bit
        with pytest.raises(CuttingError):
            pocketed(pocket)
    else:
        assert pocketed(pocket).minutes > 0
