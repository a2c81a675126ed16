"""Outlines against closed forms, the SVG standard, and Shapely fed with points of the test's own."""

from math import cos, pi, sin, sqrt

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from shapely import MultiPoint, Polygon, box

from planner.trade.outlines import eased, grown, inset, polygon_of, read_svg
from planner.trade.outlines.findings import carved_width_in, unreachable
from tests.planner.trade.outlines.svgs import svg

CLOSED_FORM = pytest.mark.source("closed forms of plane geometry: circle, ellipse (Ramanujan 1914), rounded rectangle")
STEINER = pytest.mark.source("Steiner's formula for parallel bodies of convex shapes")
SVG_STANDARD = pytest.mark.source("SVG 1.1 (W3C 2011), chapters 7 and 9; CSS Values and Units 3, 6.2")
SHAPELY = pytest.mark.source("Shapely, used on points of the test's own")

sizes = st.floats(2, 30)


def ellipse_perimeter(a, b):
    """Ramanujan's second approximation: exact to a millionth for the ellipses of trays."""
    h = ((a - b) / (a + b)) ** 2
    return pi * (a + b) * (1 + 3 * h / (10 + sqrt(4 - 3 * h)))


@CLOSED_FORM
@given(sizes, sizes)
def test_an_oval_has_the_area_and_perimeter_of_an_ellipse(length_in, width_in):
    oval = polygon_of("oval", length_in, width_in)
    assert oval.area == pytest.approx(pi * length_in * width_in / 4, rel=3e-4)
    assert oval.length == pytest.approx(ellipse_perimeter(length_in / 2, width_in / 2), rel=1e-3)


@CLOSED_FORM
@given(sizes, sizes, st.floats(0.1, 1))
@example(2.0, 2.0, 1.0)
def test_a_rounded_rectangle_has_its_area_and_perimeter(length_in, width_in, radius_in):
    # Where it is a whole circle, its 128 chords leave out (2 pi / 128) ** 2 / 6 = 4.0e-4 of the area.
    tray = polygon_of("rectangle", length_in, width_in, radius_in)
    assert tray.area == pytest.approx(length_in * width_in - (4 - pi) * radius_in**2, rel=4.1e-4)
    assert tray.length == pytest.approx(2 * (length_in + width_in) - (8 - 2 * pi) * radius_in, rel=4.1e-4)


@STEINER
@given(sizes, sizes, st.floats(0.2, 2))
def test_a_grown_shape_has_area_a_plus_pr_plus_pi_r_squared(length_in, width_in, rim_in):
    inner = polygon_of("oval", length_in, width_in)
    expected = inner.area + inner.length * rim_in + pi * rim_in**2
    assert grown(inner, rim_in).area == pytest.approx(expected, rel=1e-3)


@STEINER
@given(st.floats(4, 30), st.floats(0.2, 1.5))
def test_a_circle_drawn_in_is_a_smaller_circle(across_in, rim_in):
    (pocket,) = inset(polygon_of("oval", across_in, across_in), rim_in)
    assert pocket.area == pytest.approx(pi * (across_in / 2 - rim_in) ** 2, rel=2e-3)


@CLOSED_FORM
@pytest.mark.parametrize("bit_in", [0.25, 0.5, 0.75, 1.0])
def test_a_round_bit_leaves_four_minus_pi_quarters_of_its_square_in_a_square_pocket(bit_in):
    left_in2 = sum(finding.shape.area for finding in unreachable(box(0, 0, 6, 4), bit_in))
    assert left_in2 == pytest.approx((4 - pi) * bit_in**2 / 4, rel=0.03)


@CLOSED_FORM
@pytest.mark.parametrize("radius_in", [0.3, 0.35, 0.4])
def test_easing_a_rectangle_takes_what_a_circle_leaves_of_its_square(radius_in):
    assert eased(box(0, 0, 9, 5), radius_in).area == pytest.approx(45 - (4 - pi) * radius_in**2, rel=1e-4)


# 90 degrees: as deep as half the width; 60 degrees: 3 mm wide at 2.598 mm, 6 mm at 5.196 mm.
@pytest.mark.source("trigonometry of V tools: width = 2 depth tan(angle / 2)")
@pytest.mark.parametrize(("angle", "depth", "width"), [(90, 1, 2), (60, 2.598, 3), (60, 5.196, 6)])
def test_a_v_is_as_wide_as_its_depth_says(angle, depth, width):
    assert carved_width_in(angle, depth) == pytest.approx(width, abs=5e-4)


# 1 in = 96 px = 25.4 mm = 2.54 cm = 72 pt = 6 pc.
@SVG_STANDARD
@pytest.mark.parametrize(
    ("size", "inches"), [("96px", 1), ("25.4mm", 1), ("2.54cm", 1), ("72pt", 1), ("6pc", 1), ("1in", 1), ("96", 1)]
)
def test_a_unit_is_as_long_as_the_standard_says(size, inches):
    drawing = read_svg(svg(f'<rect width="{size}" height="{size}"/>', 'width="400px" height="400px"'))
    assert drawing.length_in == pytest.approx(inches)


@SVG_STANDARD
@pytest.mark.parametrize(
    ("aspect", "size"),
    [("", (1, 1)), ('preserveAspectRatio="none"', (2, 1)), ('preserveAspectRatio="xMidYMid slice"', (2, 2))],
)
def test_a_view_box_is_scaled_as_the_standard_says(aspect, size):
    drawing = read_svg(svg('<rect width="10" height="10"/>', f'width="2in" height="1in" viewBox="0 0 10 10" {aspect}'))
    assert (drawing.length_in, drawing.width_in) == pytest.approx(size)


@SVG_STANDARD
def test_arcs_and_curves_are_those_of_the_standard():
    half_disc = read_svg(svg('<path d="M0 2 A2 2 0 0 1 4 2 Z"/>')).outline
    assert half_disc.area == pytest.approx(2 * pi, rel=1e-3)
    parabola = read_svg(svg('<path d="M0 4 Q2 0 4 4 Z"/>')).outline  # two thirds of base times height
    assert parabola.area == pytest.approx(2 / 3 * 4 * 2, rel=1e-3)
    cubic = read_svg(svg('<path d="M0 4 C0 0 4 0 4 4 Z"/>')).outline  # 3/20 of the control box's sums: 0.6 · 4 · 4
    assert cubic.area == pytest.approx(0.6 * 16, rel=1e-3)


@SHAPELY
@given(st.lists(st.tuples(st.floats(0, 10), st.floats(0, 10)), min_size=5, max_size=20, unique=True), st.floats(0.1, 1))
def test_a_grown_hull_is_what_shapely_buffers(points, rim_in):
    hull = MultiPoint(points).convex_hull
    if not isinstance(hull, Polygon) or hull.area < 0.1:
        return
    ours = grown(hull, rim_in)
    theirs = hull.buffer(rim_in, quad_segs=64)
    assert ours.symmetric_difference(theirs).area < 0.005 * theirs.area


@SHAPELY
@pytest.mark.parametrize("sides", range(3, 13))
def test_a_regular_polygon_has_the_area_of_its_triangles(sides):
    corners = [
        (cos(2 * pi * (n + 0.5) / sides - pi / 2), sin(2 * pi * (n + 0.5) / sides - pi / 2)) for n in range(sides)
    ]
    left, low, right, high = Polygon(corners).bounds
    ours = polygon_of("polygon", 5 * (right - left), 5 * (high - low), sides=sides)
    assert ours.area == pytest.approx(sides / 2 * 25 * sin(2 * pi / sides))
