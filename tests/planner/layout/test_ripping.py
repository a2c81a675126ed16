"""Boards ripped into strips for panels."""

from dataclasses import replace
from math import nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.errors import PlannerError
from planner.layout.ripping.boards import PanelWanted, RipAllowances, StockBoard
from planner.layout.ripping.plan import Purchase, Rings, Short
from planner.layout.ripping.ripping import rip_plan
from planner.layout.ripping.rules import broken_rip_rules

ALLOWANCES = RipAllowances()


def board(name="b", size=(40, 6), thickness_in=1.0, species="cherry", **other):
    return StockBoard(name, *size, thickness_in, species, **other)


def panel(name="p", size=(18, 11), thickness_in=0.75, species="cherry", **other):
    return PanelWanted(name, *size, thickness_in, species, **other)


boards = st.lists(
    st.builds(
        StockBoard,
        st.just(""),
        st.sampled_from([20, 40.5, 72]) | st.floats(5, 80),
        st.floats(1, 14),
        st.sampled_from([0.5, 1, 1.25]),
        st.sampled_from(["cherry", "maple"]),
        st.none() | st.floats(5, 14),
        st.integers(0, 2),
    ),
    max_size=4,
)
panels = st.lists(
    st.builds(
        PanelWanted,
        st.just(""),
        st.sampled_from([10, 16, 24]),
        st.floats(1, 18),
        st.sampled_from([0.5, 0.75]),
        st.sampled_from(["cherry", "maple"]),
        st.integers(0, 2),
        st.none() | st.integers(1, 3),
    ),
    max_size=3,
)
allowances = st.builds(
    RipAllowances, st.sampled_from([0, 0.125]), st.sampled_from([0, 0.0625]), trim_in=st.floats(0, 2)
)


@settings(deadline=None, max_examples=40)
@given(boards, panels, allowances)
def test_whatever_is_in_stock_and_wanted_no_rule_is_broken(some, wanted, given_allowances):
    some = [replace(each, id=f"b{number}") for number, each in enumerate(some)]
    wanted = [replace(each, id=f"p{number}") for number, each in enumerate(wanted)]
    plan = rip_plan(some, wanted, given_allowances, seconds=0.5)
    assert broken_rip_rules(some, wanted, given_allowances, plan) == []
    assert plan.bound_board_feet <= plan.cost_board_feet + 1e-9
    assert plan.cost_board_feet == pytest.approx(plan.board_feet_opened + 0.5 * plan.boards_opened, abs=0.05)
    assert 0 <= plan.waste_fraction <= 1


def test_neighbouring_strips_lie_the_other_way_round():
    (glued,) = rip_plan([board(size=(80, 4))], [panel(size=(18, 12))]).panels
    assert [strip.rings for strip in glued.strips] == [Rings.BARK_UP, Rings.BARK_DOWN] * 2


def test_a_board_wider_than_8_in_is_ripped_before_it_goes_into_a_panel():
    plan = rip_plan([board(size=(20, 11))], [panel(size=(18, 10))])
    widths = [strip.width_in for strip in plan.panels[0].strips]
    assert len(widths) == 2
    assert max(widths) <= 8
    assert sum(widths) == pytest.approx(10)


def test_a_wide_and_a_narrow_board_make_a_panel_that_neither_makes_alone():
    plan = rip_plan([board("wide", (20, 7.25)), board("narrow", (20, 5.25))], [panel(size=(18, 12))])
    assert plan.short == ()
    assert plan.boards_opened == 2


def test_a_fixed_number_of_strips_is_kept_and_equally_wide():
    plan = rip_plan([board(size=(80, 6))], [panel(size=(18, 12), strips=4)])
    assert [strip.width_in for strip in plan.panels[0].strips] == [3, 3, 3, 3]


def test_one_large_board_is_opened_rather_than_two_small_ones():
    stock = [board("small", (20, 5.75), quantity=2), board("large", (40, 5.75))]
    assert [cut.board_id for cut in rip_plan(stock, [panel()]).boards] == ["large"]


def test_opening_a_board_more_can_be_worth_the_wood_it_saves():
    stock = [board("small", (20, 5.75), quantity=2), board("large", (46, 5.75))]
    assert rip_plan(stock, [panel()]).boards_opened == 1
    assert rip_plan(stock, [panel()], board_is_worth_board_feet=0).boards_opened == 2


def test_a_board_too_thin_once_planed_or_of_other_wood_is_left_alone():
    stock = [board("thin", thickness_in=0.9), board("maple", species="maple")]
    plan = rip_plan(stock, [panel()])
    assert plan.boards == ()
    assert plan.short == (Short("p", 1),)


def test_what_no_board_is_thick_enough_for_stays_short_and_the_rest_is_bought():
    plan = rip_plan([], [panel("thick", thickness_in=4), panel("plain", size=(18, 8))])
    assert plan.short == (Short("thick", 1), Short("plain", 1))
    assert plan.buy == (Purchase("cherry", "4/4", 2),)


def test_what_is_bought_is_thick_enough_to_be_ripped_with_the_same_planing():
    allowances = RipAllowances(planing_in=0.3)
    assert [each.quarter for each in rip_plan([], [panel()], allowances).buy] == ["5/4"]
    assert rip_plan([board(size=(80, 6), thickness_in=1.25)], [panel()], allowances).short == ()


def test_what_stock_is_short_of_is_bought_in_quarters():
    wanted = [panel("thin", (24, 12), quantity=5), panel("thick", (24, 12), 1.0, quantity=5)]
    plan = rip_plan([], wanted, waste_fraction=0.2)
    assert plan.buy == (Purchase("cherry", "4/4", 12), Purchase("cherry", "5/4", 15))


def test_as_much_panel_as_possible_is_made_before_wood_is_saved():
    plan = rip_plan([board(size=(40, 6))], [panel("small", (18, 5.5)), panel("large", (18, 11))])
    assert plan.short == (Short("small", 1),)


def test_of_boards_alike_those_that_are_as_dry_go_into_one_panel():
    stock = [board(name, (20, 5.75), moisture_percent=wet) for name, wet in zip("abcd", (6, 10, 6, 10), strict=True)]
    plan = rip_plan(stock, [panel(quantity=2)])
    assert [glued.moisture_gap_percent for glued in plan.panels] == [0, 0]


def test_a_board_that_nobody_metered_leaves_the_gap_unknown():
    stock = [board("a", (20, 5.75), moisture_percent=7), board("b", (20, 5.75))]
    assert rip_plan(stock, [panel()]).panels[0].moisture_gap_percent is None


def test_a_panel_of_one_strip_needs_neither_clamps_nor_glue():
    (glued,) = rip_plan([board()], [panel(size=(18, 5))]).panels
    assert (glued.clamps, glued.glue_grams) == (0, 0)


def test_an_offcut_large_enough_is_kept_and_is_no_waste():
    (cut,) = rip_plan([board(size=(60, 6))], [panel(size=(18, 5.5))]).boards
    assert [offcut.is_kept for offcut in cut.offcuts] == [False, True]
    assert cut.waste_in2 == pytest.approx(0.125 * 6 + 0.125 * 19 + 0.25 * 19)


def broken(**changed):
    """What the judge says of a good plan with something changed."""
    stock, wanted = [board(size=(40, 6))], [panel()]
    plan = rip_plan(stock, wanted)
    return broken_rip_rules(changed.pop("stock", stock), wanted, ALLOWANCES, replace(plan, **changed))


def good():
    return rip_plan([board(size=(40, 6))], [panel()])


def with_strip(**changed):
    cut = good().boards[0]
    section = cut.sections[0]
    strips = (replace(section.strips[0], **changed), *section.strips[1:])
    return (replace(cut, sections=(replace(section, strips=strips), *cut.sections[1:])),)


def with_glued(**changed):
    (glued,) = good().panels
    return (replace(glued, strips=(replace(glued.strips[0], **changed), *glued.strips[1:])),)


def test_the_judge_finds_nothing_in_a_good_plan():
    assert broken() == []


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        (lambda: {"stock": []}, "not in stock"),
        (lambda: {"boards": good().boards * 2}, "opened 2 times"),
        (lambda: {"boards": (replace(good().boards[0], width_in=7),)}, "not as drawn"),
        (lambda: {"boards": (replace(good().boards[0], offcuts=()),)}, "not the whole board"),
        (lambda: {"boards": (replace(good().boards[0], sections=good().boards[0].sections[:1] * 2),)}, "a kerf apart"),
        (lambda: {"boards": with_strip(y_in=1)}, "over the edge"),
        (lambda: {"boards": with_strip(x_in=3)}, "not inside its section"),
        (lambda: {"boards": with_strip(length_in=18)}, "too short"),
        (lambda: {"boards": with_strip(panel_id="q")}, "nobody wants"),
        (lambda: {"boards": with_strip(panel_number=2)}, "not glued"),
        (lambda: {"boards": with_strip(width_in=5)}, "not the ones cut for it"),
        (lambda: {"stock": [board(size=(40, 6), species="maple")]}, "maple is not cherry"),
        (lambda: {"stock": [board(size=(40, 6), thickness_in=0.9)]}, "too thin"),
        (lambda: {"panels": ()}, "0 made and 0 short of 1"),
        (lambda: {"panels": with_glued(width_in=5)}, "do not make up its width"),
        (lambda: {"panels": with_glued(width_in=9)}, "too wide"),
        (lambda: {"panels": with_glued(rings=Rings.BARK_DOWN)}, "lie the same way"),
    ],
)
def test_the_judge_finds_what_is_wrong(changed, said):
    assert any(said in sentence for sentence in broken(**changed()))


@pytest.mark.parametrize(
    "refused",
    [
        lambda: board(size=(0, 6)),
        lambda: board(moisture_percent=nan),
        lambda: board(quantity=-1),
        lambda: panel(size=(18, nan)),
        lambda: panel(strips=0),
        lambda: RipAllowances(kerf_in=-0.1),
        lambda: RipAllowances(narrowest_strip_in=9),
        lambda: rip_plan([board(), board()], []),
        lambda: rip_plan([], [], seconds=0),
        lambda: rip_plan([], [], board_is_worth_board_feet=nan),
    ],
)
def test_what_makes_no_sense_is_refused(refused):
    with pytest.raises(PlannerError):
        refused()
