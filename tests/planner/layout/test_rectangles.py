from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.layout.blocks import joined_at_random, singles
from planner.layout.boxes import lying
from planner.layout.rectangles import fill_with_boxes
from planner.layout.skyline import fill_hollows
from planner.layout.tries import Tries
from tests.planner.layout.makers import chance, cut_up

boxes = st.lists(st.tuples(st.floats(1, 30), st.floats(1, 30), st.booleans()), max_size=12)
whole = st.lists(st.tuples(st.integers(1, 9), st.integers(1, 9), st.booleans()), max_size=14)
ZONE = (20.0, 12.0)


def few(count=5, seed=1):
    return Tries(chance(seed), count, lambda: False)


def fill(sides, zone=ZONE, tries=None):
    return fill_with_boxes(sides, [length * width for length, width, _ in sides], zone, tries or few())


def keep_apart_inside(sides, spots, zone=ZONE):
    lie = [lying(sides[number], spot) for number, spot in spots.items()]
    inside = all(
        x >= 0 and y >= 0 and x + length <= zone[0] + 1e-5 and y + width <= zone[1] + 1e-5
        for x, y, length, width in lie
    )
    apart = all(
        max(a[0] - b[0] - b[2], b[0] - a[0] - a[2], a[1] - b[1] - b[3], b[1] - a[1] - a[3]) >= -1e-5
        for a, b in combinations(lie, 2)
    )
    turned_rightly = all(sides[number][2] or not spot[2] for number, spot in spots.items())
    return inside and apart and turned_rightly


@settings(deadline=None)
@given(st.one_of(boxes, whole))
def test_rectangles_lie_inside_apart_and_turned_only_where_they_may(sides):
    assert keep_apart_inside(sides, fill(sides))


@settings(deadline=None)
@given(st.one_of(boxes, whole), st.randoms(use_true_random=False))
def test_hollows_filled_in_any_order_keep_the_same_rules(sides, rng):
    order = rng.sample(range(len(sides)), len(sides))
    assert keep_apart_inside(sides, fill_hollows(sides, order, ZONE))


@settings(deadline=None)
@given(whole, st.randoms(use_true_random=False))
def test_blocks_hold_their_boxes_without_waste(sides, rng):
    fit = [side for side in sides if side[0] <= ZONE[0] and side[1] <= ZONE[1]]
    blocks = joined_at_random(singles(fit), ZONE, rng)
    for block in blocks:
        for turned in (False, True) if block.may_turn else (False,):
            spots = dict(block.spots((0.0, 0.0, turned)))
            zone = (block.width, block.length) if turned else (block.length, block.width)
            assert keep_apart_inside(fit, spots, zone)
            area = sum(fit[number][0] * fit[number][1] for number in spots)
            assert area == pytest.approx(block.length * block.width)
    assert sorted(number for block in blocks for number, _ in block.spots((0.0, 0.0, False))) == list(range(len(fit)))


@pytest.mark.parametrize("may_turn", [True, False])
@pytest.mark.parametrize("count", [6, 15, 30])
def test_what_was_cut_from_a_full_zone_fills_it(count, may_turn):
    sides = [(*side, may_turn) for side in cut_up(chance(count), *ZONE, count)]
    assert len(fill(sides, tries=few(200))) == count


def test_a_pinwheel_that_no_straight_cut_takes_apart_is_found():
    arms = [(12, 5, False), (8, 8, False), (12, 4, False), (8, 7, False)]
    assert len(fill([*arms, (4, 3, False)], tries=few(300))) == 5


def test_alike_boxes_that_may_not_turn_lie_in_a_grid_at_once():
    asked = []
    tries = Tries(chance(1), 1000, lambda: bool(asked.append(1)))
    assert len(fill([(3.0, 5.0, False)] * 30, tries=tries)) == 6 * 2
    assert not asked


def test_what_is_worth_most_lies_there():
    sides = [(20.0, 12.0, False), (10.0, 12.0, False), (10.0, 12.0, False)]
    assert set(fill_with_boxes(sides, [50, 40, 30], ZONE, few())) == {1, 2}
    assert set(fill_with_boxes(sides, [90, 40, 30], ZONE, few())) == {0}
