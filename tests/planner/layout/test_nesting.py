from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box
from shapely.affinity import scale

from planner.errors import MakingError
from planner.layout import shapes
from planner.layout.nest_rules import broken_nest_rules
from planner.layout.nesting import nest
from planner.layout.panels import NestPiece, PanelSize, PanelStock, Turns, outline_on_panel
from tests.planner.layout.makers import (
    ANGLE,
    HEART,
    TRIANGLE,
    bare_rules,
    chance,
    circle,
    cut_up,
    make_pieces,
    make_rules,
    make_stock,
)

sides = st.floats(1, 20)
outlines = st.one_of(
    st.tuples(sides, sides).map(lambda size: box(0, 0, *size)),
    st.floats(1, 14).map(circle),
    st.tuples(st.sampled_from([HEART, TRIANGLE, ANGLE]), st.floats(0.2, 1.6)).map(
        lambda drawn: scale(drawn[0], drawn[1], drawn[1])
    ),
    st.lists(st.tuples(sides, sides), min_size=3, max_size=9)
    .map(lambda points: Polygon(points).convex_hull)
    .filter(lambda hull: hull.geom_type == "Polygon" and hull.area > 0.5),
)


@settings(max_examples=25, deadline=None)
@given(
    st.lists(st.tuples(outlines, st.sampled_from(Turns)), max_size=6),
    st.sampled_from([0.0, 0.3, 1.0]),
    st.booleans(),
    st.integers(0, 3),
)
def test_any_pieces_keep_all_rules_and_are_placed_once_or_named_with_a_reason(drawn, gap, glued, seed):
    pieces = [NestPiece(f"p{n}", "Gull tray", outline, turns) for n, (outline, turns) in enumerate(drawn)]
    rules = make_rules(gap=gap)
    found = nest(pieces, rules, panels=None if glued else make_stock(), tries=10, seed=seed)
    assert broken_nest_rules(pieces, rules, found) == ()
    assert all(each.why for each in found.unplaced)
    assert sum(len(panel.placed) for panel in found.panels) + len(found.unplaced) == len(pieces)


@settings(max_examples=20, deadline=None)
@given(st.lists(st.tuples(outlines, st.sampled_from(Turns)), min_size=1, max_size=5))
def test_a_piece_alone_on_its_panel_is_placed_exactly_where_it_fits_as_the_grain_lies(drawn):
    rules, size = make_rules(), PanelSize(48, 13)
    for outline, turns in drawn:
        piece = NestPiece("p", "Gull tray", outline, turns)
        fits = piece.size[0] <= 46 and piece.size[1] <= 12
        found = nest([piece], rules, panels=[PanelStock(size)], tries=1)
        assert len(found.panels) >= fits


def test_a_stick_that_may_turn_freely_lies_askew_where_it_fits_only_so():
    pieces = make_pieces((24, 1), (24, 1), turns=Turns.FREE)
    rules = make_rules(edge=0, screws=0, planer=20, bed=(20, 20))
    found = nest(pieces, rules, panels=make_stock(20, 20), tries=5)
    assert not found.unplaced
    assert broken_nest_rules(pieces, rules, found) == ()


@pytest.mark.parametrize("turns", [Turns.HALF, Turns.QUARTERS])
def test_only_a_design_that_allows_it_lies_across_the_grain(turns):
    pieces = make_pieces((10, 20), turns=turns)
    found = nest(pieces, make_rules(), panels=make_stock())
    assert [panel.placed[0].turn_degrees for panel in found.panels] == ([90.0] if turns is Turns.QUARTERS else [])


def test_what_does_not_fit_is_named_with_its_size_and_the_panel():
    (unplaced,) = nest(make_pieces((10, 20)), make_rules(), panels=make_stock()).unplaced
    said = "Gull tray of 10 × 20 in doesn't fit inside the margins of any panel, the largest being 48 × 13 in"
    assert unplaced.why.startswith(said)


def test_where_one_panel_is_not_enough_large_pieces_are_not_left_to_the_end():
    # Two panels hold all when each takes a large piece, a middle one and a small one.
    pieces = make_pieces(*[(24, 12), (14, 12), (10, 12)] * 2)
    found = nest(pieces, bare_rules(48, 12), panels=make_stock(48, 12))
    assert [panel.yield_fraction for panel in found.panels] == [pytest.approx(1)] * 2


def test_of_what_one_panel_cannot_hold_as_much_wood_as_can_be_lies_there():
    pieces = make_pieces((40, 12), *[(11, 12)] * 4)
    (panel,) = nest(pieces, bare_rules(48, 12), panels=make_stock(48, 12, count=1)).panels
    assert panel.yield_fraction == pytest.approx(44 / 48)


def test_when_the_stock_is_used_up_the_rest_is_named():
    found = nest(make_pieces(*[(15, 11)] * 5), make_rules(), panels=make_stock(count=1))
    assert [each.why for each in found.unplaced] == ["No panel is left that has room for Gull tray."] * 2
    assert nest(make_pieces((1, 1)), make_rules(), panels=[]).unplaced[0].why == "There is no panel for Gull tray."


def test_of_several_sizes_in_stock_the_one_that_is_used_best_is_taken():
    stock = [PanelStock(PanelSize(48, 13)), PanelStock(PanelSize(18, 12))]
    found = nest(make_pieces((15, 11)), make_rules(), panels=stock)
    assert [panel.size for panel in found.panels] == [PanelSize(18, 12)]


def test_a_panel_to_be_glued_up_is_as_small_as_the_pieces_and_margins_to_a_sixteenth():
    found = nest(make_pieces((15, 10.99)), make_rules())
    assert found.panels[0].size == PanelSize(17, 12)
    assert found.area_in2 == 17 * 12


def test_panels_to_be_glued_up_stay_within_planer_and_bed():
    found = nest(make_pieces(*[(9, 5)] * 30), make_rules(planer=12, bed=(40, 24)), tries=20)
    assert len(found.panels) > 1
    assert all(panel.size.length_in <= 40 and panel.size.width_in <= 12 for panel in found.panels)


def test_the_same_seed_gives_the_same_nest_whatever_the_hour():
    pieces = make_pieces(*[(5 + n % 4, 3 + n % 3) for n in range(14)], HEART, HEART, circle(5))
    nests = {nest(pieces, make_rules(), panels=make_stock(), tries=40, seed=5) for _ in range(2)}
    assert len(nests) == 1


def test_the_search_ends_when_somebody_says_so():
    asked = []
    pieces = make_pieces(*cut_up(chance(3), 48, 24, 30, 1))
    nest(pieces, bare_rules(48, 24), panels=make_stock(48, 24), tries=10**9, enough=lambda: not asked.append(1))
    assert 0 < len(asked) < 20


def test_outlines_that_nest_into_each_other_hold_more_than_their_boxes():
    pieces = make_pieces(*[ANGLE] * 8)
    found = nest(pieces, make_rules(), panels=make_stock(), tries=60)
    by_boxes = nest(make_pieces(*[(10, 8)] * 8), make_rules(), panels=make_stock())
    assert len(found.panels[0].placed) >= 2 * len(by_boxes.panels[0].placed)


def test_triangles_turn_by_half_into_each_others_gaps():
    found = nest(make_pieces(*[TRIANGLE] * 12), make_rules(), panels=make_stock(), tries=60)
    assert {placed.turn_degrees for placed in found.panels[0].placed} == {0.0, 180.0}
    assert len(found.panels[0].placed) > 2 * 4


def test_what_was_cut_from_a_full_panel_goes_back_on_it():
    rng = chance(8)
    pieces = make_pieces(*cut_up(rng, 48, 24, 24))
    found = nest(pieces, bare_rules(48, 24), panels=make_stock(48, 24))
    assert (len(found.panels), found.yield_fraction) == (1, pytest.approx(1))


def test_rounds_lie_in_rows_and_the_rest_beside_them():
    pieces = make_pieces(*[circle(4)] * 20, (10, 11.5))
    found = nest(pieces, make_rules(gap=0), panels=make_stock(), tries=20)
    # 12 in hold three square rows of 4; (46 - 10) / 4 is 9 in each.
    assert len(found.panels) == 1
    assert not broken_nest_rules(pieces, make_rules(gap=0), found)


def test_once_it_is_enough_no_more_no_fit_polygons_are_built_and_what_lies_there_is_a_nest(monkeypatch):
    built = []
    real = shapes.no_fit
    monkeypatch.setattr(shapes, "no_fit", lambda *pair: built.append(1) or real(*pair))
    pieces = make_pieces(*(scale(HEART, 1 + n / 50, 1) for n in range(9)), turns=Turns.FREE)
    found = nest(pieces, make_rules(), enough=lambda: len(built) >= 5)
    assert 5 <= len(built) <= 5 + len(pieces)
    assert broken_nest_rules(pieces, make_rules(), found) == ()


def test_offcuts_are_free_of_pieces_and_of_each_other_and_long_enough():
    pieces = make_pieces((15, 5), (9, 7), circle(6), HEART)
    rules = make_rules()
    (panel,) = nest(pieces, rules, panels=make_stock(), tries=10).panels
    known = {piece.id: piece for piece in pieces}
    parts = [box(x, y, x + length, y + width) for x, y, length, width in panel.offcuts]
    wood = [outline_on_panel(known[placed.id], placed) for placed in panel.placed]
    assert parts
    assert all(length >= 12 and width >= 4 for _, _, length, width in panel.offcuts)
    assert all(one.intersection(other).area < 1e-9 for one, other in combinations(parts, 2))
    assert all(part.distance(piece) >= rules.bit_diameter_in - 1e-9 for part in parts for piece in wood)


def test_two_pieces_of_one_id_are_refused():
    with pytest.raises(MakingError, match=r"^Two pieces have the id p1; give each its own\.$"):
        nest(make_pieces((3, 3)) * 2, make_rules())


def test_a_panel_larger_than_the_bed_is_refused():
    with pytest.raises(MakingError, match=r"^A panel of 60 × 13 in is larger than the bed of 48 × 24 in"):
        nest(make_pieces((3, 3)), make_rules(), panels=make_stock(60))


def test_nothing_to_cut_needs_no_panel():
    found = nest([], make_rules())
    assert (found.panels, found.unplaced, found.yield_fraction) == ((), (), 0)


def test_an_outline_of_2_000_points_is_laid_like_any_other():
    fine = circle(9).buffer(0).segmentize(0.014)
    bumpy = Polygon([(x * (1 + 0.05 * (n % 40 < 20)), y) for n, (x, y) in enumerate(fine.exterior.coords)]).buffer(0)
    pieces = make_pieces(*[max(getattr(bumpy, "geoms", [bumpy]), key=lambda part: part.area)] * 6)
    found = nest(pieces, make_rules(), panels=make_stock(), tries=10)
    assert len(pieces[0].outline.exterior.coords) > 1_900
    assert broken_nest_rules(pieces, make_rules(), found) == ()
    assert not found.unplaced


def test_holes_are_no_room_for_others():
    ring = circle(11).difference(circle(9))
    pieces = make_pieces(*[ring] * 3, (5, 5), (5, 5))
    found = nest(pieces, make_rules(), panels=make_stock(), tries=20)
    assert broken_nest_rules(pieces, make_rules(), found) == ()


class TestTheJudge:
    """Each rule is seen to be broken."""

    @pytest.fixture
    def asked(self):
        return make_pieces((10, 5), (10, 5))

    @pytest.fixture
    def good(self, asked):
        return nest(asked, make_rules(), panels=make_stock())

    def moved(self, good, n, **change):
        placed = [replace(each, **change) if m == n else each for m, each in enumerate(good.panels[0].placed)]
        return replace(good, panels=(replace(good.panels[0], placed=tuple(placed)),))

    def test_a_good_nest_breaks_none(self, asked, good):
        assert broken_nest_rules(asked, make_rules(), good) == ()

    @pytest.mark.parametrize(
        ("change", "said"),
        [
            ({"x_in": 0.9}, "lies in the margin"),
            ({"y_in": 8.0}, "lies in the margin"),
            ({"turn_degrees": 90.0}, "is turned by 90 degrees"),
            ({"id": "p2"}, "p2 is there 2 times, not once"),
            ({"id": "other"}, "other was not asked for"),
        ],
    )
    def test_a_piece_moved_or_turned_wrongly_is_seen(self, asked, good, change, said):
        assert any(said in each for each in broken_nest_rules(asked, make_rules(), self.moved(good, 0, **change)))

    def test_pieces_too_near_are_seen(self, asked, good):
        first, second = good.panels[0].placed
        nearer = self.moved(good, 1, x_in=second.x_in + (0.01 if first.x_in > second.x_in else -0.01), y_in=second.y_in)
        nearer = nearer if first.x_in != second.x_in else self.moved(good, 1, y_in=first.y_in + 5.3)
        assert any("are nearer than 0.375 in" in each for each in broken_nest_rules(asked, make_rules(), nearer))

    def test_overlapping_is_seen_without_spacing(self, asked):
        rules = make_rules(gap=0)
        found = nest(asked, rules, panels=make_stock())
        first = found.panels[0].placed[0]
        said = broken_nest_rules(asked, rules, self.moved(found, 1, x_in=first.x_in + 9.9, y_in=first.y_in))
        assert any("overlap" in each for each in said)

    def test_a_wrong_yield_and_a_panel_larger_than_the_bed_are_seen(self, asked, good):
        wrong = replace(good, panels=(replace(good.panels[0], yield_fraction=0.9, size=PanelSize(50, 13)),))
        said = broken_nest_rules(asked, make_rules(), wrong)
        assert any("is larger than the bed" in each for each in said)
        assert any("the yield" in each for each in said)
