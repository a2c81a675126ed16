"""Drawings as people save them: shapes, units, pockets, lines, and what is refused in a sentence."""

from math import cos, pi, sin
from time import process_time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import OutlineError
from planner.trade.outlines import flattening, read_svg
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
    tray = read_svg(svg(TRAY + '<path d="M2 2 L6 2" fill="none" stroke="black"/>'))
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
        ('width="4in" height="4in" viewBox="0 0 8 4" preserveAspectRatio="defer none"', 4),
        ('width="auto" height="4in" viewBox="0 0 8 4"', 8),
        ('width="812.8Q" height="406.4Q" viewBox="0 0 8 4"', 8),
        ('width="8in" height="8in" viewBox="0 0 8 4" preserveAspectRatio="xMinYMin"', 8),
    ],
)
def test_units_and_the_view_box_are_honoured(frame, length_in):
    drawing = read_svg(svg(TRAY, frame))
    assert (drawing.length_in, drawing.says_its_size) == (pytest.approx(length_in), True)


@pytest.mark.parametrize(
    "frame",
    [
        'width="96" height="96"',
        'viewBox="0 0 96 96"',
        'width="100%" viewBox="0 0 96 96"',
        'width="1in" height="100%" viewBox="0 0 96 96"',  # the window may make it smaller than its inch
    ],
)
def test_a_drawing_without_units_says_so_and_has_96_to_the_inch(frame):
    drawing = read_svg(svg('<rect width="96" height="48"/>', frame))
    assert (drawing.length_in, drawing.width_in, drawing.says_its_size) == (pytest.approx(1), pytest.approx(0.5), False)


def test_a_quarter_of_a_millimetre_is_a_unit():
    assert read_svg(svg('<rect width="101.6Q" height="50.8q"/>', "")).length_in == pytest.approx(1)


@pytest.mark.parametrize(
    "d",
    [
        "M1 1A1 1 0 013 1Z",  # flags written together, and with the number after them
        "M1 1 a1 1 0 0,12,0 z",
        "M1,1A1-1 0 01 3 1Z",
        "m1. 1e0 a 1 +1 0 012-0z",
    ],
)
def test_a_path_is_read_by_its_grammar(d):
    half_disc = read_svg(svg(f'<path d="{d}"/>'))
    assert (half_disc.length_in, half_disc.width_in) == pytest.approx((2, 1), abs=0.002)


def test_a_closed_path_goes_on_from_where_it_began():
    drawing = read_svg(svg('<path d="M0 0 H4 V4 H0 Z l1 1 h1 v1 h-1 v-1"/>'))
    assert drawing.outline.area == pytest.approx(16)
    assert [line.coords[0] for line in drawing.lines] == [pytest.approx((0, 4))]


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

WAVES = " ".join(
    f"{4 + (1.9 + n % 2 / 20) * cos(pi * n / 3_000):.4f} {2 + (1.9 + n % 2 / 20) * sin(pi * n / 3_000):.4f}"
    for n in range(6_000)
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
    "a size in a style": (svg('<rect style="width:50px;height:30px"/>'), "in its style (width)"),
    "a move in a style": (svg(f'<g style="transform:scale(2)">{TRAY}</g>'), "in its style (transform)"),
    "scaled as a whole": (svg(TRAY, 'width="8in" height="4in" viewBox="0 0 8 4" transform="scale(2)"'), "as a whole"),
    "an unknown move": (svg('<rect width="4" height="4" transform="rotat(45)"/>'), "“rotat(45)”"),
    "a path of words": (svg('<rect width="4" height="4"/><path d="from here"/>'), "a path that can't be read"),
    "points that are no pairs": (svg('<rect width="4" height="4"/><polygon points="1 1 2"/>'), "not pairs of numbers"),
    "a width below 0": (svg('<rect width="4" height="4"/><rect width="-2" height="1"/>'), "less than 0"),
    "a radius in per cent": (svg('<circle cx="2" cy="2" r="10%"/>'), "give it as a length"),
    "a size in ems": (svg('<rect width="5em" height="4"/>'), "“5em”, which is no length"),
    "very many lines": (
        svg('<rect width="4" height="4"/>' + '<path d="M1 1 L2 1"/>' * 400),
        "more than 300 open lines",
    ),
    "a path that ends in a command": (svg('<path d="M1 1 L3 1 L3 3 Q"/>'), "can't be read at “Q”"),
    "a path that ends without numbers": (svg('<path d="M1 1 L3 1 3 3 L"/>'), "can't be read at “L”"),
    "a path with a letter too many": (svg('<path d="M1 1 e L2 2 3 3Z"/>'), "can't be read at “M1 1 e”"),
    "a path with numbers after its end": (svg('<path d="M1 1 L2 2 3 1Z2 2"/>'), "can't be read at “Z2 2”"),
    "a path with a number missing": (svg('<path d="M1 1 C2 2 3 1 3Z"/>'), "can't be read at “C2 2 3 1 3”"),
    "a flag that is none": (svg('<path d="M1 1 A1 1 0 2 0 3 1Z"/>'), "can't be read at “A1 1 0 2 0 3 1”"),
    "points with a gap": (svg('<polygon points="1,1,,2,1 2 2"/>'), "not pairs of numbers"),
    "a turn by nothing": (svg('<rect width="4" height="3" transform="rotate()"/>'), "moved by “rotate()”"),
    "a turn about half a point": (
        svg('<rect width="4" height="3" transform="rotate(9 1)"/>'),
        "moved by “rotate(9 1)”",
    ),
    "half a matrix": (svg('<rect width="4" height="3" transform="matrix(1 2 3)"/>'), "moved by “matrix(1 2 3)”"),
    "a move in px": (svg('<rect width="4" height="3" transform="translate(1px)"/>'), "moved by “translate(1px)”"),
    "moves that end with a comma": (svg('<rect width="4" height="3" transform="scale(1),"/>'), "end with a comma"),
    "an unknown unit": (svg('<rect width="2foo" height="3"/>'), "The rect's width is “2foo”, which is no length"),
    "a unit of a container": (svg('<rect width="2cqw" height="3"/>'), "“2cqw”, which is no length"),
    "a word for a width": (svg('<rect width="abc" height="3"/>'), "“abc”, which is no length"),
    "no width at all": (svg('<rect height="3"/>'), "The rect has no width"),
    "a drawing in an unknown unit": (svg(TRAY, 'width="20foo" height="4in"'), "The drawing's width is “20foo”"),
    "a drawing with a word for a width": (svg(TRAY, 'width="abc" viewBox="0 0 8 4"'), "The drawing's width is “abc”"),
    "a box with a gap": (svg(TRAY, 'viewBox="0,0,8,,4"'), "viewBox"),
    "a move by style": (svg('<circle r="1" style="translate:1px"/>'), "moved in its style (translate)"),
    "a scale by style": (svg('<circle r="1" style="fill:red;scale:2"/>'), "moved in its style (scale)"),
    "a turn by style": (svg('<circle r="1" style="ROTATE : 3deg"/>'), "moved in its style (rotate)"),
    "a size behind a comment": (
        svg('<ellipse rx="1" ry="1" style="/**/rx:2px"/>'),
        "The ellipse has its size or place",
    ),
    "a size behind a backslash": (svg('<circle r="1" style="\\72:2px"/>'), "a backslash"),
    "a turn about its middle": (svg('<rect width="4" height="3" transform-origin="center"/>'), "transform-origin"),
    "a hidden drawing": (svg(TRAY, 'width="8in" height="4in" visibility="hidden"'), "Nothing in the drawing is seen"),
    "a clear drawing": (svg(TRAY, 'width="8in" height="4in" opacity="0"'), "Nothing in the drawing is seen"),
    "a drawing not displayed": (svg(TRAY, 'width="8in" height="4in" style="display:none"'), "Nothing in the drawing"),
    "more points than anybody draws": (svg(f'<path d="M{WAVES}Z"/>'), "more than 5000 points where it bends"),
    "a shape with too many points": (svg('<path d="M0 0' + " q1 2 2 0" * 7_000 + '"/>'), "more than 12000 points"),
    "giant": (svg(f'<g transform="scale(999999)"><g transform="scale(999999)">{TRAY}</g></g>'), "far more than 43"),
    "a field": (svg('<rect width="900" height="900"/>'), "check the units"),
    "no width": (svg(TRAY, 'width="0" height="4"'), "0 wide or high"),
    "a broken path": (svg('<path d="M0 0 Q"/>'), ""),
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
        '<rect width="8" height="4" fill-opacity="0%" stroke="none"/>',
        '<rect width="8" height="4" fill="transparent"/>',
        '<rect width="8" height="4" style="fill:rgba(9, 9, 9, 0.0)"/>',
        '<rect width="8" height="4" style="fill:rgb(9 9 9 / 0%)"/>',
        '<rect width="8" height="4" fill="#12345600"/>',
        '<rect width="8" height="4" fill="none" stroke="black" stroke-width="0"/>',
        '<rect width="8" height="4" fill="none" stroke="black" stroke-width="0px"/>',
        '<rect width="8" height="4" fill="none" stroke="black" stroke-opacity=".0"/>',
        '<rect width="8" height="4" style="/* no */fill:none"/>',
        '<rect width="8" height="4" style="fill:red;fill:none"/>',
        '<rect width="8" height="4" style="fill:none!important;fill:red"/>',
    ],
)
def test_what_nobody_sees_is_not_the_outline(unseen):
    drawing = read_svg(svg(unseen + '<circle cx="2" cy="2" r="1"/>'))
    assert (drawing.length_in, drawing.pockets) == (pytest.approx(2, abs=0.01), ())


def test_what_is_shown_again_inside_what_is_hidden_is_seen():
    hidden = '<g visibility="hidden"><rect width="8" height="4"/><circle cx="2" cy="2" r="1" visibility="visible"/></g>'
    assert read_svg(svg(hidden)).length_in == pytest.approx(2, abs=0.01)


@pytest.mark.parametrize(
    "look",
    [
        'fill="#000"',
        'fill="#f0f0f0"',
        'style="fill:rgb(0,0,0)"',
        'style="fill:rgba(0,0,0,.1)"',
        'opacity="1e-1"',
        'fill-opacity="0" stroke="black"',
        'fill="none" stroke="black" stroke-width="0.1"',
        'style="fill:none;fill:red"',
    ],
)
def test_what_is_faint_is_seen(look):
    assert read_svg(svg(f'<g fill="red"><rect {look} width="4" height="2"/></g>')).length_in == 4


def test_a_shape_with_an_edge_alone_is_seen():
    assert read_svg(svg('<g fill="none" stroke="black"><rect width="4" height="2"/></g>')).length_in == 4


SLOW = {
    "many circles": '<circle cx="400" cy="2" r="1000"/>' * 1_990,
    "as many circles as shapes go": '<circle cx="4" cy="2" r="2"/>' * 390,
    "many arcs": '<path d="M0 0' + "A9 9 0 0 1 3 3 A9 9 0 0 1 0 0 " * 2_100 + '"/>',
    "many tiny arcs": '<path d="M0 0' + "a.01.01 0 01.01 0" * 4_200 + 'V4H0Z"/>',
    "many curves": '<path d="M0 0' + "q.005.01.01 0" * 7_400 + 'V4H0Z"/>',
    "many ends": '<path d="M1 1H3V3' + "Z" * 900_000 + '"/>',
    "many beginnings": '<path d="M1 1H3V3' + "zl1 1" * 7_000 + '"/>',
    "many moves": ('<g transform="' + "rotate(1)" * 400 + '">') * 31 + '<circle r="1"/>' * 600 + "</g>" * 31,
    "a long zigzag": '<path d="M0 4 L' + " ".join(f"{n / 1e3} {n % 2 * 3}" for n in range(11_900)) + ' 50 4Z"/>',
    "many lines": '<rect width="8" height="4"/>' + '<path d="M1 1L7 3 1 2"/>' * 600,
    "shapes in shapes": "".join(
        f'<path d="M{4 - n / 200} {2 - n / 200}h{n / 100}v{n / 100}h-{n / 100}z"/>' for n in range(200, 10, -1)
    ),
    "shapes that are alike": '<rect width="8" height="4"/>'
    + "".join(f'<ellipse cx="{1 + n % 20 / 3}" cy="{1 + n // 20 / 5}" rx=".1" ry=".08"/>' for n in range(198)),
    "a long number": f'<rect width="4{"0" * 900_000}!" height="4"/>',
    "a long style": f'<rect width="4" height="4" style="{"a:b;" * 220_000}"/>',
    "a long comment": f'<rect width="4" height="4" style="{"/*" * 450_000}"/>',
    "a long opacity": f'<rect width="4" height="4" opacity="{"0" * 900_000}!"/>',
}


@pytest.mark.parametrize("inside", SLOW.values(), ids=SLOW)
def test_whatever_is_sent_is_answered_at_once(inside):
    began = process_time()
    outline, reason = outline_or_reason(svg(inside))
    assert process_time() - began < 3
    assert reason or outline.area > 0


@pytest.mark.parametrize("inside", [SLOW["many circles"], SLOW["as many circles as shapes go"], SLOW["many arcs"]])
def test_what_is_too_much_is_refused_before_any_point_is_made(inside, monkeypatch):
    made = []
    monkeypatch.setattr(flattening, "_flattened", made.append)
    assert "more than" in outline_or_reason(svg(inside))[1]
    assert not made
