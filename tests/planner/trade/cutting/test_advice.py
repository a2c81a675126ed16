"""Cusps, step-over advice, feeds, lasers, and the factor learned from ticks."""

from itertools import pairwise
from math import exp

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import CuttingError
from planner.trade.cutting import (
    Cutter,
    chip_load_in,
    chip_load_range_in,
    correction_of,
    cusp_height_in,
    feed_findings,
    laser_raster_minutes,
    laser_vector_minutes,
    step_over_advice,
    step_over_for_cusp_in,
)

cutters = st.builds(
    lambda diameter, share: Cutter("bowl", diameter, corner_radius_in=diameter / 2 * share),
    st.floats(0.1, 2),
    st.floats(0.05, 1),
)


@given(cutters, st.floats(0.01, 1))
def test_a_cusp_is_undone_by_its_step_over(cutter, share):
    step = max(share * cutter.diameter_in, cutter.flat_in + 1e-6)
    cusp = cusp_height_in(cutter, step)
    assert step_over_for_cusp_in(cutter, cusp) == pytest.approx(step, rel=1e-3, abs=1e-3)


@given(cutters)
def test_cusps_grow_with_the_step_and_end_at_the_corner(cutter):
    cusps = [cusp_height_in(cutter, cutter.diameter_in * share / 20) for share in range(1, 21)]
    assert all(a <= b + 1e-12 for a, b in pairwise(cusps))
    assert cusps[-1] == pytest.approx(cutter.corner_in)


def test_a_flat_bit_leaves_no_cusp():
    assert cusp_height_in(Cutter("flat", 0.5), 0.4) == 0


@pytest.mark.parametrize("shape", ["v", "round-over"])
def test_a_bit_that_leaves_no_flat_floor_has_no_cusp(shape):
    cutter = Cutter(shape, 0.5)
    for ask in (cusp_height_in, step_over_for_cusp_in):
        with pytest.raises(CuttingError, match=f"A {shape} bit leaves no flat floor"):
            ask(cutter, 0.1)
    with pytest.raises(CuttingError, match="no flat floor"):
        step_over_advice(lambda step: 2 / step, cutter, 120)


def test_the_advice_is_the_step_over_that_takes_least_in_all():
    advice = step_over_advice(lambda step: 2 / step, Cutter("bowl", 0.75), 120)
    assert advice.best.total_minutes == min(row.total_minutes for row in advice.rows)
    assert advice.rows[0].router_minutes > advice.best.router_minutes
    assert advice.rows[-1].sanding_minutes > advice.best.sanding_minutes


@pytest.mark.parametrize(
    ("cutter", "said"),
    [
        (
            Cutter("down-cut", 0.25, feed_in_per_min=60),
            "it rubs and burns. Feed at 180 in a minute, or turn at 8,000 and feed at 80.",
        ),
        (
            Cutter("down-cut", 0.25, feed_in_per_min=120),
            "it rubs and burns. Feed at 180 in a minute or turn at 12,000.",
        ),
        (Cutter("down-cut", 0.25, feed_in_per_min=900), "it tears and may break"),
        (Cutter("down-cut", 0.25, feed_in_per_min=250, depth_per_pass_in=0.5), "deeper than it is wide"),
        (Cutter("down-cut", 0.25, feed_in_per_min=250, plunge_in_per_min=300), "plunges faster"),
    ],
)
def test_a_wrong_feed_is_told_with_what_to_change(cutter, said):
    assert any(said in finding for finding in feed_findings(cutter))


def test_soft_woods_take_thicker_chips():
    cutter = Cutter("down-cut", 0.25, feed_in_per_min=250)
    assert not feed_findings(cutter)
    assert "it rubs" in feed_findings(cutter, wood="soft")[0]


def test_a_good_feed_is_told_nothing():
    assert feed_findings(Cutter("down-cut", 0.25, feed_in_per_min=250)) == ()


# From the tables: up to 1 diameter as it is, 2 deep 20 to 25 % less, 3 deep 40 to 50 % less.
@pytest.mark.parametrize(
    ("depth_in", "least", "most"),
    [
        (0, 0.005, 0.010),
        (0.25, 0.005, 0.010),
        (0.375, 0.004375, 0.009),
        (0.5, 0.00375, 0.008),
        (0.75, 0.0025, 0.006),
        (2, 0.0025, 0.006),
    ],
)
def test_chips_are_thinner_on_deeper_levels(depth_in, least, most):
    assert chip_load_range_in(0.25, "hard", depth_in) == pytest.approx((least, most))
    assert chip_load_range_in(0.25, "soft", depth_in) == pytest.approx((2 * least, 2 * most))


@given(st.floats(0.05, 3), st.floats(0, 3), st.floats(0, 3))
def test_a_deeper_level_never_takes_a_thicker_chip(diameter_in, one, other):
    shallow, deep = (chip_load_range_in(diameter_in, "hard", depth_in) for depth_in in sorted((one, other)))
    assert deep[0] <= shallow[0] + 1e-12
    assert deep[1] <= shallow[1] + 1e-12
    assert 0 < deep[0] < deep[1]


def test_a_feed_is_judged_by_the_level_and_the_wood():
    cutter = Cutter("flat", 0.25, feed_in_per_min=162, depth_per_pass_in=0.25)  # 0.0045 in a tooth
    assert "it rubs" in feed_findings(cutter)[0]
    assert feed_findings(cutter, depth_in=0.5) == ()
    assert "less than 0.0100" in feed_findings(cutter, wood="soft")[0]


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ((0.25, "stone"), "known for hard and soft wood"),
        ((0.25, "hard", float("nan")), "0 inches deep or more"),
        ((0, "hard"), "wider than 0"),
    ],
)
def test_a_chip_load_for_what_is_none_is_refused(asked, said):
    with pytest.raises(CuttingError, match=said):
        chip_load_range_in(*asked)


def test_what_is_said_mends_it():
    slow = Cutter("flat", 0.5, feed_in_per_min=50)
    (said,) = feed_findings(slow)
    feed = float(said.split("Feed at ")[1].split()[0])
    assert feed_findings(Cutter("flat", 0.5, feed_in_per_min=feed + 1)) == ()
    assert chip_load_in(feed, 18_000, 2) > chip_load_in(50, 18_000, 2)


@given(st.floats(0.5, 12), st.floats(0.5, 12), st.integers(50, 600))
def test_an_engraving_takes_as_long_as_its_lines(length_in, width_in, lines):
    minutes = laser_raster_minutes(length_in, width_in, lines_per_in=lines, speed_in_per_s=12)
    assert minutes >= length_in * width_in * lines / 12 / 60 * (1 - 1e-9)
    assert laser_raster_minutes(length_in, width_in, lines_per_in=2 * lines, speed_in_per_s=12) > 1.5 * minutes


def test_a_cut_takes_its_length_over_its_speed():
    assert laser_vector_minutes(48, speed_in_per_s=0.8) == 1


@pytest.mark.parametrize("wrong", [0, -1, float("nan"), float("inf")])
def test_a_laser_has_a_speed(wrong):
    with pytest.raises(CuttingError, match="speed is more than 0"):
        laser_vector_minutes(10, speed_in_per_s=wrong)


@given(st.floats(0.5, 2), st.integers(3, 60))
def test_the_factor_is_what_every_tick_says(factor, count):
    learned = correction_of([(10 + n, (10 + n) * factor) for n in range(count)])
    assert learned.factor == pytest.approx(factor)
    assert learned.low < learned.factor < learned.high


def test_twenty_ticks_alike_say_so_within_two_in_a_hundred():
    learned = correction_of([(20, 26)] * 20)
    assert (learned.low, learned.factor, learned.high) == pytest.approx((1.275, 1.3, 1.325), abs=0.001)


def share_that_holds(factor, spread, count, *, spoilt=0, times=2000):
    """In how many of so many workshops the interval holds the true factor."""
    rng = np.random.default_rng([count, round(100 * factor), round(100 * spread)])
    held = 0
    for errors in rng.normal(0, spread, (times, count)):
        errors[:spoilt] += 2
        learned = correction_of([(20, 20 * factor * exp(error)) for error in errors])
        held += learned.low <= factor <= learned.high
    return held / times


@pytest.mark.parametrize("count", [3, 5, 10, 30])
@pytest.mark.parametrize("factor", [0.8, 1.0, 1.3])
def test_nine_in_ten_intervals_hold_the_true_factor(factor, count):
    assert 0.87 <= share_that_holds(factor, 0.2, count) <= 0.94


@pytest.mark.parametrize("count", [3, 5, 10, 30])
def test_of_very_even_or_uneven_ticks_nearly_as_many_hold_it(count):
    assert 0.88 <= share_that_holds(1.3, 0.1, count) <= 0.97  # the least spread makes few even ticks less sure
    assert 0.83 <= share_that_holds(1.3, 0.4, count) <= 0.92  # the farthest honest ticks are taken for spoilt


@pytest.mark.parametrize("count", [10, 30])
def test_a_spoilt_afternoon_in_ten_leaves_the_interval_honest(count):
    assert 0.87 <= share_that_holds(1.3, 0.2, count, spoilt=count // 10) <= 0.94


def test_of_three_ticks_one_mad_one_makes_it_unsure_not_wrong():
    learned = correction_of([(20, 22), (20, 22), (20, 400)])
    assert learned.factor == pytest.approx(1.1)
    assert not learned.is_sure


def test_one_mad_tick_in_ten_changes_little():
    calm = [(20, 22)] * 9
    assert correction_of([*calm, (20, 400)]).factor == pytest.approx(correction_of([*calm, (20, 22)]).factor, rel=0.05)


def test_more_ticks_make_it_surer():
    few, many = correction_of([(10, 12)] * 4), correction_of([(10, 12)] * 40)
    assert many.high - many.low < few.high - few.low
    assert many.is_sure
    assert "longer than geometry says, from 40 ticks." in many.says


def test_before_three_ticks_nothing_is_said():
    assert correction_of([(10, 20), (10, 20)]).factor == 1
    assert "Only 2 of 3 ticks" in correction_of([(10, 20), (10, 20), (0, 5), (5, float("nan"))]).says
    assert correction_of([]).high == pytest.approx(exp(0.4))
