"""Drawings as people save them: shapes, units, pockets, lines, and what is refused in a sentence."""

from math import cos, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import OutlineError
from planner.trade.outlines import read_svg
from planner.trade.outlines.polygons import LEAST_IN2, MOST_IN2
from tests.planner.trade.outlines.svgs import TRAY, svg

INCH_FRAME = 'width="8in" height="4in" viewBox="0 0 8 4"'


def test_the_largest_shape_is_the_outline_and_those_in_it_are_pockets():
    tray = read_svg(svg(TRAY))
    assert (tray.length_in, tray.width_in, tray.outline.area) == pytest.approx((8, 4, 32))
    assert [pocket.area for pocket in tray.pockets] == pytest.approx([12])
    assert tray.says_its_size


def test_a_shape_in_a_pocket_is_an_island():
    tray = read_svg(svg(TRAY + '<circle cx="4" cy="2" r="0.5"/>'))
    assert [pocket.area for pocket in tray.pockets] == pytest.approx([12 - pi / 4], abs=0.01)


def test_open_lines_are_kept_apart():
    tray = read_svg(svg(TRAY + '<path d="M2 2 L6 2" fill="none"/>'))
    assert [line.length for line in tray.lines] == pytest.approx([4])


def test_a_drawing_is_turned_the_right_way_up():
    left_foot = read_svg(svg('<path d="M0 0 L1 0 L1 3 L4 3 L4 4 L0 4 Z"/>'))
    assert left_foot.outline.bounds == pytest.approx((0, 0, 4, 4))
    assert left_foot.outline.centroid.y < 2


def test_a_shape_drawn_twice_is_one():
    square = '<rect x="1" y="1" width="2" height="2"/>'
    assert read_svg(svg(square + square)).pockets == ()


@pytest.mark.parametrize(
    ("frame", "length_in"),
    [
        ('width="203.2mm" height="101.6mm" viewBox="0 0 8 4"', 8),
        ('width="20.32cm" height="10.16cm" viewBox="0 0 8 4"', 8),
        ('width="576pt" height="288pt" viewBox="0 0 8 4"', 8),
        ('width="48pc" viewBox="0 0 8 4"', 8),
        ('width="8in" height="8in" viewBox="0 0 8 4"', 8),  # the smaller scale holds: xMidYMid meet
    ],
)
def test_units_and_the_view_box_are_honoured(frame, length_in):
    drawing = read_svg(svg(TRAY, frame))
    assert (drawing.length_in, drawing.says_its_size) == (pytest.approx(length_in), True)


@pytest.mark.parametrize("frame", ['width="96" height="96"', 'viewBox="0 0 96 96"', 'width="100%" viewBox="0 0 96 96"'])
def test_a_drawing_without_units_says_so_and_has_96_to_the_inch(frame):
    drawing = read_svg(svg('<rect width="96" height="48"/>', frame))
    assert (drawing.length_in, drawing.width_in, drawing.says_its_size) == (pytest.approx(1), pytest.approx(0.5), False)


def test_transforms_are_followed():
    turned = read_svg(svg('<g transform="rotate(90) scale(2)"><rect width="1" height="0.5"/></g>'))
    assert (turned.length_in, turned.width_in) == pytest.approx((1, 2))


def test_curves_lie_within_a_thousandth_of_an_inch():
    disc = read_svg(svg('<path d="M4 0 A2 2 0 0 1 4 4 A2 2 0 0 1 4 0 Z"/>'))
    assert disc.outline.area == pytest.approx(4 * pi, abs=4 * pi * 0.0015)


def test_what_other_programs_note_is_left_out():
    noted = '<metadata><x:y xmlns:x="urn:x"/></metadata><defs><linearGradient/></defs><title>a tray</title>'
    assert read_svg(svg(noted + TRAY)).length_in == pytest.approx(8)


BOMB = (
    b'<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;">]><svg xmlns="http://www.w3.org/2000/svg">&b;</svg>'
)
EVIL = b'<!DOCTYPE svg [<!ENTITY f SYSTEM "file:///etc/passwd">]><svg xmlns="http://www.w3.org/2000/svg">&f;</svg>'


def wheel(teeth):
    """Points of a wheel with teeth, about 4 in across in a drawing 8 in wide."""
    turns = [2 * pi * tooth / teeth for tooth in range(teeth)]
    return " ".join(
        f"{4 + (2 - tooth % 2 / 20) * cos(turn)} {4 + (2 - tooth % 2 / 20) * sin(turn)}"
        for tooth, turn in enumerate(turns)
    )


REFUSED = {
    "not xml": (b"not a drawing", "no SVG that can be read"),
    "empty": (b"", "no SVG that can be read"),
    "html": (b"<html><body/></html>", "no SVG drawing"),
    "a doctype": (b'<!DOCTYPE svg><svg xmlns="http://www.w3.org/2000/svg"/>', "declares a document type"),
    "entities": (BOMB, "declares a document type"),
    "a file read": (EVIL, "declares a document type"),
    "entities in another coding": (BOMB.decode().encode("utf-16"), "declares a document type"),
    "compressed": (b"\x1f\x8b\x08\x00", "is compressed"),
    "ten megabytes": (svg(" " * 10_000_000), "10.0 MB"),
    "a script": (svg("<script>1</script>" + TRAY), "carries a script"),
    "a hidden script": (svg("<defs><script>1</script></defs>" + TRAY), "carries a script"),
    "a handler": (svg(TRAY.replace("<rect", '<rect onload="x()"')), "carries a script"),
    "a picture": (svg('<image href="data:,"/>' + TRAY), "has a picture in it"),
    "repeats": (svg('<g id="a"/><use href="#a"/>' + TRAY), "repeats shapes by reference"),
    "a style sheet": (svg("<style>rect{}</style>" + TRAY), "style sheet"),
    "letters": (svg("<text>A</text>" + TRAY), "turn letters into outlines"),
    "an animation": (svg("<animate/>" + TRAY), "“animate”"),
    "giant numbers": (svg('<rect width="1e9" height="4"/>'), "larger than any workshop"),
    "endless numbers": (svg('<rect width="1e400" height="4"/>'), "larger than any workshop"),
    "no numbers": (svg('<rect width="nan" height="4"/>'), "“nan”, which is no length"),
    "too many points": (svg('<path d="M0 0' + " 1 1" * 60_000 + '"/>'), "more than 15000 points"),
    "too many elements": (svg("<g/>" * 3_000), "more than 2000 elements"),
    "nested too deep": (svg("<g>" * 50 + TRAY + "</g>" * 50), "nested more than 32 deep"),
    "nested a hundred thousand deep": (svg("<g>" * 100_000 + "</g>" * 100_000), "nested more than"),
    "nothing": (svg("<g/>"), "no shape in it"),
    "an open path": (svg('<path d="M0 0 L4 0 L4 3 L0 3"/>'), "not closed: its ends are 3.00 in apart"),
    "a crossing": (
        svg('<path d="M0 0 L4 4 L4 0 L0 4 Z"/>'),
        "crosses or touches itself 2.00 in from its left and 2.00 in from its lower",
    ),
    "two shapes": (svg('<circle cx="1" cy="1" r="1"/><circle cx="5" cy="1" r="1"/>'), "side by side"),
    "shapes that cross": (svg('<circle cx="2" cy="2" r="2"/><circle cx="4" cy="2" r="1.5"/>'), "cross each other"),
    "a line that runs out": (svg('<rect width="4" height="4"/><path d="M1 1 L7 1"/>'), "runs out of the outline"),
    "next to nothing": (svg('<rect width="0.001" height="0.001"/>'), "no larger than a dot"),
    "a sliver": (svg('<rect width="2" height="0.0001"/>'), "next to no inside"),
    "a size in a style": (svg('<rect style="width:50px;height:30px"/>'), "has its width in a style"),
    "a move in a style": (svg(f'<g style="transform:scale(2)">{TRAY}</g>'), "has its transform in a style"),
    "scaled as a whole": (svg(TRAY, 'width="8in" height="4in" viewBox="0 0 8 4" transform="scale(2)"'), "as a whole"),
    "an unknown move": (svg('<rect width="4" height="4" transform="rotat(45)"/>'), "“rotat(45)”"),
    "a path of words": (svg('<rect width="4" height="4"/><path d="from here"/>'), "a path that can't be read"),
    "points that are no pairs": (svg('<rect width="4" height="4"/><polygon points="1 1 2"/>'), "not pairs of numbers"),
    "a width below 0": (svg('<rect width="4" height="4"/><rect width="-2" height="1"/>'), "less than 0"),
    "a radius in per cent": (svg('<circle cx="2" cy="2" r="10%"/>'), "circle's r is “10%”, a share of the window"),
    "a size in ems": (svg('<rect width="5em" height="4"/>'), "rect's width is “5em”, which is no length on paper"),
    "a size of no unit known": (svg('<rect width="2foo" height="4"/>'), "“2foo”, which is no length on paper"),
    "a size in words": (svg('<rect width="wide" height="4"/>'), "“wide”, which is no length on paper"),
    "a drawing of no unit known": (svg(TRAY, 'width="20foo" height="4in"'), "drawing's width is “20foo”"),
    "a drawing as wide as its type": (svg(TRAY, 'width="20em" height="4in"'), "drawing's width is “20em”"),
    "a move without a number": (svg('<rect width="4" height="4" transform="rotate()"/>'), "“rotate()”"),
    "a matrix of three": (svg('<rect width="4" height="4" transform="matrix(1 2 3)"/>'), "“matrix(1 2 3)”"),
    "a move in a style of its own": (svg(f'<g style="rotate:45deg">{TRAY}</g>'), "has its rotate in a style"),
    "a size behind a note in a style": (svg('<circle r="1" style="/**/r:2px"/>'), "has its r in a style"),
    "a point to turn about": (svg(f'<g transform-origin="1 1">{TRAY}</g>'), "(transform-origin)"),
    "a path that ends in a command": (svg('<path d="M1 1 L3 1 L3 3 Q"/>'), "can't be read from “Q” on"),
    "a path with half a point": (svg('<path d="M1 1 L3 1 L3"/>'), "can't be read from “L3” on"),
    "a path with a stray letter": (svg('<path d="M1 1 e L 2 2"/>'), "can't be read from “M1 1 e L 2 2” on"),
    "a path that goes on when it is closed": (svg('<path d="M1 1 L3 1 L3 3 Z2 2"/>'), "can't be read from “Z2 2” on"),
    "points with a gap": (svg('<polygon points="1,1,,2,1 2 2"/>'), "not pairs of numbers"),
    "a drawing nobody sees": (svg(TRAY, 'width="8in" height="4in" viewBox="0 0 8 4" opacity="0"'), "no shape in it"),
    "a hidden drawing": (svg(TRAY, 'width="8in" height="4in" viewBox="0 0 8 4" visibility="hidden"'), "no shape in it"),
    "many large circles": (svg('<circle cx="4" cy="2" r="10"/>' * 1_990), "more than 40000 points"),
    "many curves": (svg('<path d="M0 0' + "C9 0 0 9 10 10" * 2_000 + 'Z"/>'), "more than 40000 points"),
    "many commands": (svg('<path d="M1 1' + "Z" * 900_000 + '"/>'), "more than 700 shapes and lines"),
    "many bends": (svg(f'<polygon points="{wheel(6_000)}"/>'), "more than 5000 points where it bends"),
    "very many lines": (
        svg('<rect width="4" height="4"/>' + '<path d="M1 1 L2 1"/>' * 400),
        "more than 300 open lines",
    ),
    "giant": (svg(f'<g transform="scale(999999)"><g transform="scale(999999)">{TRAY}</g></g>'), "far more than 43"),
    "a field": (svg('<rect width="900" height="900"/>'), "check the units"),
    "no width": (svg(TRAY, 'width="0" height="4"'), "0 wide or high"),
    "a broken path": (svg('<path d="M0 0 Q"/>'), "can't be read from “Q” on"),
    "no numbers in a path": (svg('<path d="M0 0 L nan 1"/>'), "a path that can't be read"),
    "a broken box": (svg(TRAY, 'viewBox="0 0 8"'), "viewBox"),
}


@pytest.mark.parametrize(("data", "said"), REFUSED.values(), ids=REFUSED)
def test_what_is_no_outline_is_refused_in_one_sentence(data, said):
    with pytest.raises(OutlineError) as refusal:
        read_svg(data)
    assert said in str(refusal.value)
    assert len(str(refusal.value)) < 200
    assert "\n" not in str(refusal.value)


def outline_or_reason(data):
    """The outline read, or the sentence that refuses it."""
    try:
        return read_svg(data).outline, ""
    except OutlineError as refusal:
        return None, str(refusal)


@given(st.lists(st.tuples(st.floats(-1e7, 1e7), st.floats(-1e7, 1e7)), min_size=1, max_size=12))
def test_whatever_is_drawn_it_has_an_inside_or_a_reason(points):
    d = " L".join(f"{x!r} {y!r}" for x, y in points)
    frame = 'width="96in" height="96in" viewBox="0 0 9600 9600"'
    outline, reason = outline_or_reason(svg(f'<path d="M{d} Z"/>', frame))
    assert reason.endswith(".") or (outline.is_valid and LEAST_IN2 <= outline.area <= MOST_IN2)


@given(st.text("MLHVCSQTAZmlhvcsqtaz0123456789.- ,e", max_size=60))
def test_no_path_data_break_the_reader(d):
    outline, reason = outline_or_reason(svg(f'<path d="{d}"/>'))
    assert reason or outline.area > 0


@pytest.mark.parametrize(
    "unseen",
    [
        '<rect width="8" height="4" visibility="hidden"/>',
        '<rect width="8" height="4" style="visibility: hidden"/>',
        '<g visibility="hidden"><rect width="8" height="4"/></g>',
        '<rect width="8" height="4" opacity="0"/>',
        '<g opacity="0.0"><rect width="8" height="4"/></g>',
        '<rect width="8" height="4" fill="none" stroke="none"/>',
        '<g fill="none"><rect width="8" height="4" style="fill:none;stroke:none"/></g>',
        '<g fill="none"><rect width="8" height="4" stroke="none"/></g>',
        '<rect width="8" height="4" opacity="0e0"/>',
        '<rect width="8" height="4" opacity="-1"/>',
        '<rect width="8" height="4" fill-opacity="0"/>',
        '<rect width="8" height="4" fill="transparent"/>',
        '<rect width="8" height="4" fill="rgba(1, 2, 3, 0)"/>',
        '<rect width="8" height="4" fill="#12345600"/>',
        '<rect width="8" height="4" fill="none" stroke="black" stroke-width="0"/>',
        '<rect width="8" height="4" fill="none" stroke="transparent"/>',
        '<rect width="8" height="4" fill="none" stroke="black" style="stroke-opacity:0%"/>',
    ],
)
def test_what_nobody_sees_is_not_the_outline(unseen):
    drawing = read_svg(svg(unseen + '<circle cx="2" cy="2" r="1"/>'))
    assert (drawing.length_in, drawing.pockets) == (pytest.approx(2, abs=0.01), ())


def test_what_is_shown_again_inside_what_is_hidden_is_seen():
    hidden = '<g visibility="hidden"><rect width="8" height="4"/><circle cx="2" cy="2" r="1" visibility="visible"/></g>'
    assert read_svg(svg(hidden)).length_in == pytest.approx(2, abs=0.01)


@pytest.mark.parametrize("fill", ["#000", "#1230", "rgb(0, 0, 0)", "rgba(0,0,0,.5)", "rgb(9 9 9 / 40%)", "inherit"])
def test_a_shape_that_is_filled_is_seen(fill):
    outline, reason = outline_or_reason(svg(f'<rect width="4" height="2" fill="{fill}"/>'))
    assert reason if fill == "#1230" else outline.area == pytest.approx(8)


def test_quarter_millimetres_are_a_unit():
    drawing = read_svg(svg('<rect width="40Q" height="20Q"/>', 'width="8in" height="4in"'))
    assert (drawing.length_in, drawing.width_in) == pytest.approx((10 / 25.4, 5 / 25.4))


def test_a_drawing_as_wide_as_its_window_does_not_say_its_size():
    drawing = read_svg(svg(TRAY, 'width="100%" height="4in" viewBox="0 0 8 4"'))
    assert not drawing.says_its_size


def test_what_is_deferred_is_passed_over():
    """SVG 1.1, 7.8: defer is ignored except on pictures."""
    drawing = read_svg(svg(TRAY, 'width="16in" height="4in" viewBox="0 0 8 4" preserveAspectRatio="defer none"'))
    assert (drawing.length_in, drawing.width_in) == pytest.approx((16, 4))


def test_a_shape_with_an_edge_alone_is_seen():
    assert read_svg(svg('<g fill="none" stroke="black"><rect width="4" height="2"/></g>')).length_in == 4
