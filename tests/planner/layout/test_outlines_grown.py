from math import cos, pi, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, union_all
from shapely.affinity import translate

from planner.layout.grown import convex_parts, grown, no_fit
from tests.planner.layout.makers import ANGLE, HEART, TRIANGLE, circle


def star(radii):
    """An outline that reaches so far from its middle, in even steps of a turn."""
    steps = [2 * pi * n / len(radii) for n in range(len(radii))]
    return Polygon([(radius * cos(step), radius * sin(step)) for radius, step in zip(radii, steps, strict=True)])


stars = st.lists(st.floats(0.4, 6), min_size=5, max_size=40).map(star)
shapes = st.one_of(st.sampled_from([ANGLE, HEART, TRIANGLE, circle(5)]), stars)


@settings(deadline=None)
@given(shapes, st.floats(0.01, 1))
def test_a_grown_outline_holds_all_that_is_within_half_the_spacing(outline, spacing_in):
    around = outline.buffer(spacing_in / 2, quad_segs=64)
    assert grown(outline, spacing_in).buffer(1e-9).covers(around)


@pytest.mark.parametrize("spacing_in", [0, 0.375, 1])
def test_a_grown_round_has_few_corners_and_is_hardly_larger(spacing_in):
    larger = grown(circle(5), spacing_in, is_round=True)
    assert larger.covers(circle(5).buffer(spacing_in / 2))
    assert larger.area <= circle(5 + spacing_in).area * 1.005


def test_many_corners_become_few():
    assert len(grown(HEART.segmentize(0.02), 0.375).exterior.coords) < 80


@settings(deadline=None)
@given(shapes)
def test_convex_parts_are_convex_and_make_up_the_outline(outline):
    parts = convex_parts(outline)
    assert sum(part.area for part in parts) == pytest.approx(outline.area)
    assert union_all(parts).symmetric_difference(outline).area < 1e-6 * outline.area
    assert all(part.convex_hull.area <= part.area * (1 + 1e-6) for part in parts)


@settings(deadline=None, max_examples=60)
@given(shapes, shapes, st.floats(-15, 15), st.floats(-15, 15))
def test_two_outlines_overlap_exactly_where_the_no_fit_polygon_says(fixed, moving, x, y):
    left, low = moving.bounds[:2]
    place = Point(x, y)
    forbidden = no_fit(fixed, moving)
    if forbidden.boundary.distance(place) > 1e-6:
        overlap = fixed.intersection(translate(moving, x - left, y - low)).area > 0
        assert forbidden.covers(place) == overlap
