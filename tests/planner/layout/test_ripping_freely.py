"""Strips of any widths: sections chosen with width enough, and shared out to panels."""

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.layout.cutting.deadline import Deadline
from planner.layout.ripping.bench import Bench, Section
from planner.layout.ripping.boards import PanelWanted, RipAllowances, StockBoard
from planner.layout.ripping.crosscutting import crosscut, ways_by_lot, ways_to_crosscut
from planner.layout.ripping.ripping import rip_plan
from planner.layout.ripping.rules import broken_rip_rules
from planner.layout.ripping.sharing import shared_out
from planner.layout.ripping.widths import nm


def bench(boards, panels):
    return Bench(boards, panels, RipAllowances(), 0.5)


def board(name, length_in, width_in, thickness_in=1.0, quantity=1):
    return StockBoard(name, length_in, width_in, thickness_in, "ash", quantity=quantity)


def panel(name, length_in, width_in, strips=None, thickness_in=0.75, quantity=1):
    return PanelWanted(name, length_in, width_in, thickness_in, "ash", quantity, strips)


@given(st.integers(1, 200), st.integers(0, 3), st.lists(st.integers(5, 60), min_size=1, max_size=4, unique=True))
def test_ways_are_full_and_none_is_worth_another(length, kerf, lengths):
    lengths = tuple(sorted(lengths))
    ways = ways_to_crosscut(length, kerf, lengths) or ()
    for way in ways:
        room = length + kerf - sum(count * (each + kerf) for count, each in zip(way, lengths, strict=True))
        assert 0 <= room < lengths[0] + kerf
    reaches = [tuple(sum(way[place:]) for place in range(len(way))) for way in ways]
    for one in reaches:
        assert not any(other != one and all(a >= b for a, b in zip(other, one, strict=True)) for other in reaches)


def test_a_longer_section_does_for_a_shorter_one():
    assert ways_to_crosscut(80, 0, (39, 40)) == ((0, 2),)


def test_of_ways_too_many_to_list_full_ones_are_drawn():
    lengths = tuple(range(8, 24))
    assert ways_to_crosscut(240, 0, lengths) is None
    drawn = ways_by_lot(240, 0, lengths)
    assert all(sum(map(int.__mul__, way, lengths)) in range(233, 241) for way in drawn)
    assert all(any(way[place] for way in drawn) for place in range(len(lengths)))
    wanted = [panel(f"p{each}", each, 10) for each in range(8, 24)]
    stock = [board("b", 240, 9, quantity=3)]
    plan = rip_plan(stock, wanted, seconds=8)
    assert not plan.short
    assert not broken_rip_rules(stock, wanted, RipAllowances(), plan)


def test_boards_are_chosen_with_width_enough_and_cost_what_they_say():
    stock = [board("small", 40, 6), board("large", 40, 9)]
    there = bench(stock, [panel("p", 18, 11)])
    chosen = crosscut(there, 0.0, Deadline(5))
    assert {there.sizes[each.stock][1] for each in chosen.sections} == {nm(6)}
    assert len(chosen.sections) == 2
    assert chosen.cost == chosen.bound == round((40 * 6 / 144 + 0.5) * 1000)


@given(st.floats(1, 30), st.floats(0.5, 8), st.sampled_from([0, 0.125, 0.3]), st.sampled_from([0, 0.0625]))
def test_what_is_usable_of_a_board_is_what_the_best_number_of_strips_gives(width_in, widest_in, kerf_in, jointing_in):
    allowances = RipAllowances(kerf_in, jointing_in, widest_strip_in=widest_in, narrowest_strip_in=0.25)
    there = Bench([board("b", 40, width_in)], [panel("p", 18, 60)], allowances, 0.5)
    width = there.sizes[0][1]
    widest = min(nm(widest_in), width - there.jointed)
    best = max(min(widest * count, width + there.kerf - count * there.loss) for count in range(1, 200))
    assert there.usable(0) == best


def test_a_section_gives_a_panel_what_is_left_of_it_when_another_is_done():
    """Widths end to end, a kerf between and both edges jointed: 7.75 + 7.75 in of two sections 8 in wide and more."""
    there = bench([board("b", 40, 8, quantity=1)], [panel("one", 18, 10), panel("two", 18, 5)])
    sections = [Section(0, 0, nm(19), nm(8), nm(1))] * 2
    shares = shared_out(there, sections, Deadline(3))
    assert {share.panel: sum(share.widths) for share in shares if share.panel} == {1: nm(5)}
    assert sum(sum(share.widths) for share in shares if not share.panel) == nm(10)
    for place in range(2):
        own = [width for share in shares if share.place == place for width in share.widths]
        assert sum(own) + len(own) * there.loss <= nm(8) + there.kerf


def test_what_no_board_is_large_enough_for_leaves_the_rest_as_cheap():
    stock = [board("b", 40, 6), board("c", 40, 9)]
    wanted = [panel("p", 18, 11), panel("long", 60, 4), panel("thick", 18, 4, thickness_in=2)]
    plan = rip_plan(stock, wanted)
    assert {each.panel_id for each in plan.short} == {"long", "thick"}
    assert plan.is_proved
    assert plan.cost_board_feet == pytest.approx(rip_plan(stock, wanted[:1]).cost_board_feet)


def test_where_wood_is_too_little_what_is_made_is_made_freely():
    """Two panels 11 in wide of a board 6 in wide and one 9 in wide, 40 in long: one of them can be made."""
    stock = [board("b", 40, 6), board("c", 40, 9)]
    wanted = [panel("p", 18, 11, quantity=3)]
    plan = rip_plan(stock, wanted)
    assert not broken_rip_rules(stock, wanted, RipAllowances(), plan)
    assert sum(each.quantity for each in plan.short) + len(plan.panels) == 3
    assert plan.panels


def test_what_no_section_is_wide_enough_for_is_not_shared_out():
    there = bench([board("b", 40, 8)], [panel("one", 18, 16)])
    assert shared_out(there, [Section(0, 0, nm(19), nm(8), nm(1))] * 2, Deadline(0.2)) is None


def test_a_piece_of_one_board_is_of_one_board_beside_panels_of_any_strips():
    stock = [board("b", 40, 9.5), board("c", 40, 9.5), board("d", 40, 5)]
    wanted = [panel("lid", 18, 9.2, strips=1), panel("p", 18, 12), panel("three", 18, 6, strips=3)]
    plan = rip_plan(stock, wanted)
    assert not plan.short
    assert not broken_rip_rules(stock, wanted, RipAllowances(), plan)


@settings(deadline=None, max_examples=15)
@given(st.integers(0, 10_000))
def test_shares_are_within_sections_and_make_up_every_panel(seed):
    rng = Random(seed)  # noqa: S311
    stock = [board(f"b{n}", rng.choice([40, 60]), rng.uniform(2, 11), rng.choice([1, 1.25])) for n in range(6)]
    wanted = [
        panel(f"p{n}", rng.choice([12, 18]), rng.uniform(2, 14), rng.choice([None, None, 2]), rng.choice([0.75, 1]))
        for n in range(3)
    ]
    there = bench(stock, wanted)
    chosen = crosscut(there, 1.0, Deadline(2))
    if chosen.sections is None or not (shares := shared_out(there, chosen.sections, Deadline(0.5))):
        return
    for number, wood in enumerate(there.wood):
        assert sum(sum(share.widths) for share in shares if share.panel == number) == wood.width
    for place, section in enumerate(chosen.sections):
        own = [share for share in shares if share.place == place]
        widths = [width for share in own for width in share.widths]
        assert sum(widths) + len(widths) * there.loss <= section.width + there.kerf
        for share in own:
            wood = there.wood[share.panel]
            assert section.length >= wood.own.length
            assert section.thickness >= wood.own.thickness
            assert all(wood.narrowest <= width <= nm(8) for width in share.widths)


def test_twelve_panels_cost_next_to_no_more_than_the_bound():
    rng = Random(0)  # noqa: S311
    stock = [board(f"b{n}", rng.choice([72, 84, 96]), rng.randint(16, 40) / 4) for n in range(14)]
    wanted = [panel(f"p{n}", rng.choice([14, 16, 20, 24]), rng.randint(8, 16)) for n in range(12)]
    plan = rip_plan(stock, wanted)
    assert not broken_rip_rules(stock, wanted, RipAllowances(), plan)
    assert plan.gap < 0.03
