"""Wanted lengths cut out of stock lengths."""

from collections import Counter
from math import inf, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.errors import PlannerError
from planner.layout.cutting.knapsack import best_filling, full_fillings
from planner.layout.cutting.strips import StockLength, StripWanted, cut_strips

sizes = st.lists(st.integers(1, 12), min_size=1, max_size=5, unique=True)


def every_filling(lengths, most, room):
    """All there are, by trying."""
    if not lengths:
        return [()]
    found = []
    for count in range(min(most[0], room // lengths[0]) + 1):
        found += [(count, *rest) for rest in every_filling(lengths[1:], most[1:], room - count * lengths[0])]
    return found


@given(sizes, st.data())
def test_the_best_filling_is_the_best_of_all(lengths, data):
    some = st.lists(st.integers(0, 4), min_size=len(lengths), max_size=len(lengths))
    most, values, room = data.draw(some), data.draw(some), data.draw(st.integers(0, 30))
    found = best_filling(lengths, values, most, room)
    assert all(count <= most[item] for item, count in found.items())
    assert sum(lengths[item] * count for item, count in found.items()) <= room
    best = max(sum(map(int.__mul__, values, way)) for way in every_filling(lengths, most, room))
    assert sum(values[item] * count for item, count in found.items()) == best


@given(sizes, st.data())
def test_the_full_fillings_are_those_with_room_for_nothing_more(lengths, data):
    most = data.draw(st.lists(st.integers(0, 3), min_size=len(lengths), max_size=len(lengths)))
    room = data.draw(st.integers(0, 25))
    ways = every_filling(lengths, most, room)
    full = {way for way in ways if not any((*way[:n], way[n] + 1, *way[n + 1 :]) in ways for n in range(len(lengths)))}
    found = [way for way in full_fillings(lengths, most, room) if way is not None]
    assert sorted(tuple(way.get(n, 0) for n in range(len(lengths))) for way in found) == sorted(full)


stocks = st.lists(st.builds(StockLength, st.floats(1, 100), st.none() | st.integers(0, 3)), max_size=3)
strips = st.lists(st.builds(StripWanted, st.floats(0.5, 110), st.integers(0, 4)), max_size=5)


@settings(deadline=None, max_examples=60)
@given(strips, stocks, st.sampled_from([0, 0.125, 0.1]))
def test_whatever_is_wanted_bars_hold_what_is_cut_of_them_and_nothing_is_lost(wanted, stock, kerf_in):
    plan = cut_strips(wanted, stock, kerf_in, seconds=2)
    for bar in plan.bars:
        assert bar.strips_in
        assert sum(bar.strips_in) + kerf_in * (len(bar.strips_in) - 1) <= bar.stock_length_in + 1e-6
    cut = Counter(length for bar in plan.bars for length in bar.strips_in)
    cut.update({each.length_in: each.quantity for each in plan.short})
    asked = Counter()
    for each in wanted:
        asked[each.length_in] += each.quantity
    assert +cut == +asked
    opened = Counter(bar.stock_length_in for bar in plan.bars)
    for length in opened:
        there = [inf if each.quantity is None else each.quantity for each in stock if each.length_in == length]
        assert opened[length] <= sum(there)
    assert plan.bound_in <= plan.opened_in == pytest.approx(sum(bar.stock_length_in for bar in plan.bars))
    assert plan.bound <= len(plan.bars)


def test_the_saw_takes_its_kerf_between_strips_and_not_at_the_end():
    assert len(cut_strips([StripWanted(20, 3)], [StockLength(60.25)], 0.125).bars) == 1
    assert len(cut_strips([StripWanted(20, 3)], [StockLength(60.24)], 0.125).bars) == 2


def test_the_shorter_stock_is_opened_where_it_will_do():
    plan = cut_strips([StripWanted(20, 2), StripWanted(50)], [StockLength(96), StockLength(48, 1), StockLength(60)], 0)
    assert sorted(bar.stock_length_in for bar in plan.bars) == [48, 60] or plan.opened_in == 96
    assert plan.opened_in == 96


def test_stock_that_runs_short_is_used_for_as_much_length_as_it_holds():
    plan = cut_strips([StripWanted(30, 2), StripWanted(25, 2)], [StockLength(60, 1)], 0)
    assert plan.bars[0].strips_in == (30, 30)
    assert plan.short == (StripWanted(25, 2),)
    assert plan.is_proved


def test_without_stock_everything_is_short():
    assert cut_strips([StripWanted(30, 2)], [], 0.125).short == (StripWanted(30, 2),)
    assert cut_strips([], [StockLength(60)], 0.125).bars == ()


@pytest.mark.parametrize(
    "refused",
    [
        lambda: StripWanted(0),
        lambda: StripWanted(nan),
        lambda: StripWanted(3, -1),
        lambda: StockLength(inf),
        lambda: StockLength(60, -1),
        lambda: cut_strips([], [], -0.1),
        lambda: cut_strips([], [], 0.1, seconds=0),
    ],
)
def test_what_makes_no_sense_is_refused(refused):
    with pytest.raises(PlannerError):
        refused()
