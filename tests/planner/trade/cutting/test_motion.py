"""Time along a path with limits of acceleration."""

from itertools import pairwise
from math import pi
from time import perf_counter

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.trade.cutting.motion import run_minutes, straight_minutes

lengths = st.floats(0.001, 100)
feeds = st.floats(5, 400)
paths = st.lists(st.tuples(st.floats(-20, 20), st.floats(-20, 20)), min_size=2, max_size=30).map(np.array)


def length(points):
    return np.hypot(*np.diff(points, axis=0).T).sum()


@given(paths, feeds, st.floats(1, 200))
def test_no_path_is_quicker_than_its_length_over_the_feed(points, feed, acceleration):
    assert run_minutes(points, feed, acceleration) >= length(points) / feed * (1 - 1e-9) - 1e-12


@given(paths, feeds)
def test_a_machine_without_weight_takes_length_over_feed(points, feed):
    assert run_minutes(points, feed, 1e12) == pytest.approx(length(points) / feed, rel=1e-3, abs=1e-6)


@given(paths, feeds, st.floats(1, 200), st.floats(1.01, 5))
def test_more_acceleration_never_takes_longer(points, feed, acceleration, more):
    assert run_minutes(points, feed, acceleration * more) <= run_minutes(points, feed, acceleration) * (1 + 1e-9)


@given(lengths, feeds, st.integers(2, 20))
def test_points_on_a_straight_run_change_nothing(length_in, feed, parts):
    cut_up = np.linspace([0, 0], [length_in, 0], parts)
    assert run_minutes(cut_up, feed, 20) == pytest.approx(straight_minutes(length_in, feed, 20), rel=1e-6)


@given(st.floats(0.2, 10))
def test_a_circle_of_chords_is_gone_round_without_stops(radius_in):
    turns = np.linspace(0, 2 * pi, 400)
    circle = radius_in * np.column_stack([np.cos(turns), np.sin(turns)])
    naive = 2 * pi * radius_in / 100
    assert run_minutes(circle, 100, 20) == pytest.approx(naive + 100 / 60 / 20 / 60, rel=0.02)


def circle_of(radius_in, chords):
    turns = np.linspace(0, 2 * pi, chords + 1)
    return radius_in * np.column_stack([np.cos(turns), np.sin(turns)])


def rounded_square(side_in, radius_in, chords):
    quarter = circle_of(radius_in, 4 * chords)
    half = side_in / 2 - radius_in
    middles = np.array([[1, 1], [-1, 1], [-1, -1], [1, -1]]) * half
    corners = [middle + quarter[n * chords : (n + 1) * chords + 1] for n, middle in enumerate(middles)]
    return np.vstack([*corners, corners[0][:1]])


@pytest.mark.parametrize("chords", [4, 8, 16, 64, 256])
@pytest.mark.parametrize("radius_in", [0.05, 0.2, 0.5, 2])
def test_a_rounded_corner_takes_as_long_drawn_coarsely_as_finely(radius_in, chords):
    finely = run_minutes(rounded_square(10, radius_in, 1000), 300, 20)
    assert run_minutes(rounded_square(10, radius_in, chords), 300, 20) == pytest.approx(finely, rel=0.005)


UNEVEN = {
    "one long, one short": [20, 1],
    "two long, two short": [12, 12, 1, 1],
    "a long one and two short": [10, 1, 1],
    "all sorts": [1, 7, 2, 0.1, 5, 0.3, 11, 4, 0.05, 8],
}


def round_an_oval(a_in, b_in, shares):
    turns = 2 * pi * np.concatenate([[0], np.cumsum(shares) / np.sum(shares)])
    return np.column_stack([a_in * np.cos(turns), b_in * np.sin(turns)])


@pytest.mark.parametrize("shares", UNEVEN.values(), ids=UNEVEN)
@pytest.mark.parametrize("radius_in", [0.1, 0.5, 2, 6])
def test_a_circle_drawn_unevenly_takes_as_long_as_one_drawn_evenly(radius_in, shares):
    evenly = run_minutes(circle_of(radius_in, 4000), 300, 20)
    assert run_minutes(round_an_oval(radius_in, radius_in, shares * 40), 300, 20) == pytest.approx(evenly, rel=0.005)


@pytest.mark.parametrize("shares", [[1], *UNEVEN.values()], ids=["evenly", *UNEVEN])
def test_an_ellipse_takes_as_long_drawn_coarsely_as_finely(shares):
    finely = run_minutes(round_an_oval(2, 1, [1] * 20_000), 300, 20)
    coarsely = round_an_oval(2, 1, shares * (240 // len(shares)))
    assert run_minutes(coarsely, 300, 20) == pytest.approx(finely, rel=0.01)


@pytest.mark.parametrize("chords", [4, 8, 16, 64])
def test_short_straights_between_rounds_are_no_stops(chords):
    finely = run_minutes(rounded_square(4.01, 2, 1000), 300, 20)
    assert run_minutes(rounded_square(4.01, 2, chords), 300, 20) == pytest.approx(finely, rel=0.01)


def test_points_along_the_sides_of_a_square_change_nothing():
    square = np.array([[0, 0], [5, 0], [5, 5], [0, 5], [0, 0.0]])
    sides = [np.linspace(a, b, 500, endpoint=False) for a, b in pairwise(square)]
    assert run_minutes(np.vstack([*sides, square[:1]]), 300, 20) == pytest.approx(run_minutes(square, 300, 20))


def test_points_along_the_chords_of_a_circle_change_nothing():
    circle = circle_of(0.5, 64)
    chords = [np.linspace(a, b, 7, endpoint=False) for a, b in pairwise(circle)]
    assert run_minutes(np.vstack([*chords, circle[:1]]), 300, 20) == pytest.approx(run_minutes(circle, 300, 20))


def test_the_corners_of_a_polygon_are_no_bends_of_a_curve():
    octagon, sixteen = circle_of(12, 8), circle_of(12, 16)
    without_corners = 2 * pi * 12 / 300 + 300 / 60 / 20 / 60
    assert run_minutes(octagon, 300, 20) > 1.02 * without_corners
    assert run_minutes(sixteen, 300, 20) > 1.05 * without_corners


def test_two_thousand_points_are_timed_in_a_blink():
    circle = circle_of(4, 2000)
    begun = perf_counter()
    for _ in range(100):
        run_minutes(circle, 300, 20)
    assert perf_counter() - begun < 0.5  # 0.05 on an idle computer


def test_a_sharp_corner_costs_time_and_a_blunt_one_less():
    sharp = run_minutes(np.array([[0, 0], [5, 0], [0, 0.1]]), 100, 20)
    blunt = run_minutes(np.array([[0, 0], [5, 0], [10, 0.1]]), 100, 20)
    assert sharp > blunt


def test_no_way_takes_no_time():
    assert run_minutes(np.array([[1.0, 1.0], [1.0, 1.0]]), 100, 20) == 0
