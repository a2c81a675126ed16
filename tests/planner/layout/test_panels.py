import pytest
from shapely import Polygon, box

from planner.errors import MakingError
from planner.layout.panels import NestPiece, PanelRules, PanelSize, PanelStock, Placed, Turns, outline_on_panel
from tests.planner.layout.makers import ANGLE, circle, make_pieces, make_rules


@pytest.mark.parametrize(
    ("outline", "turns", "may", "may_not"),
    [
        (box(0, 0, 10, 5), Turns.HALF, (0, 180, 360, -180), (90, 270, 45)),
        (box(0, 0, 10, 5), Turns.QUARTERS, (0, 90, 180, 270), (45,)),
        (box(0, 0, 10, 5), Turns.FREE, (0, 17, 90), ()),
        (box(0, 0, 5, 5), Turns.HALF, (0, 90, 180, 270), (45,)),
        (circle(5), Turns.HALF, (0, 33, 90), ()),
        (ANGLE, Turns.HALF, (180,), (90,)),
        (Polygon([(0, 0), (10, 0), (5, 10)]), Turns.HALF, (180,), (90,)),
    ],
)
def test_square_pieces_turn_by_quarters_round_ones_freely_others_as_their_design_says(outline, turns, may, may_not):
    piece = NestPiece("p", "Gull tray", outline, turns)
    assert all(piece.may_turn(degrees) for degrees in may)
    assert not any(piece.may_turn(degrees) for degrees in may_not)
    assert all(piece.may_turn(degrees) for degrees in piece.degrees)


@pytest.mark.parametrize(
    "outline", [Polygon([(0, 0), (4, 4), (4, 0), (0, 4)]), Polygon(), box(0, 0, 0, 3), box(0, 0, float("inf"), 3)]
)
def test_an_outline_without_an_inside_is_refused(outline):
    with pytest.raises(MakingError, match="outline of Gull tray"):
        make_pieces(outline)


@pytest.mark.parametrize("name", ["bit_diameter_in", "web_in", "edge_margin_in", "screw_margin_in"])
@pytest.mark.parametrize("value", [-0.1, float("nan"), float("inf")])
def test_spacing_and_margins_are_0_or_more(name, value):
    figures = {"bit_diameter_in": 0, "web_in": 0, "edge_margin_in": 0, "screw_margin_in": 0} | {name: value}
    with pytest.raises(MakingError, match=name.removesuffix("_in").replace("_", " ")):
        PanelRules(**figures, planer_width_in=13, bed_length_in=48, bed_width_in=24)


@pytest.mark.parametrize("size", [(0, 4), (4, -1), (float("nan"), 4)])
def test_a_panel_has_a_size(size):
    with pytest.raises(MakingError, match="more than 0 inches"):
        PanelSize(*size)


def test_margins_that_leave_nothing_are_refused():
    with pytest.raises(MakingError, match="leave nothing"):
        make_rules(edge=7)


def test_fewer_than_no_panels_are_refused():
    with pytest.raises(MakingError, match="-1 panels of 48 × 13 in"):
        PanelStock(PanelSize(48, 13), -1)


def test_the_larger_of_edge_and_screw_margin_counts_at_the_ends():
    assert make_rules(edge=0.5, screws=1).zone(PanelSize(48, 13)) == (46, 12)
    assert make_rules(edge=0.5, screws=0.25).zone(PanelSize(48, 13)) == (47, 12)


def test_a_piece_lies_turned_with_its_lower_left_corner_at_its_place():
    (piece,) = make_pieces(ANGLE, turns=Turns.QUARTERS)
    lies = outline_on_panel(piece, Placed("p1", 3, 4, 90))
    assert lies.bounds == pytest.approx((3, 4, 11, 14))
    assert lies.covers(box(3 + 5.1, 4.1, 3 + 7.9, 13.9)), "its long arm lies right: turned counter-clockwise"
