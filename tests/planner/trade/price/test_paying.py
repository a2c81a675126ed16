"""Prices and what they pay: every formula undoes the other, and more of anything never costs less."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import PlannerError
from planner.trade.price import (
    BitWear,
    Hands,
    PriceFacts,
    RankRow,
    StationLoad,
    batch_curve,
    cost_of,
    floor_price,
    price_for_wage,
    rank_by_scarcest,
    what_it_pays,
)

TRAY = PriceFacts(
    wood_board_feet=Decimal("1.5"),
    waste_fraction=Decimal("0.2"),
    wood_dollars_a_board_foot=Decimal(10),
    router_minutes=Decimal(14),
    router_dollars_a_minute=Decimal(1),
    hands=(Hands("bench", Decimal(20), Decimal(30)), Hands("detail", Decimal(10), Decimal(24))),
    set_up_minutes=Decimal(15),
    set_up_dollars_an_hour=Decimal(30),
    bits=(BitWear("3/4 in bowl", Decimal(10), Decimal(40), Decimal(400)),),
    finish_dollars=Decimal("0.75"),
    packing_dollars=Decimal(2),
    fee_fraction=Decimal("0.065"),
    fee_dollars=Decimal("0.45"),
    seconds_fraction=Decimal("0.04"),
    seconds_off_fraction=Decimal("0.5"),
)
money = st.decimals(0, 200, places=2)


def test_a_cost_sheet_says_what_goes_where():
    sheet = cost_of(TRAY, 5)
    said = {line.name: line.dollars for line in sheet.lines}
    assert said["wood"] == 18
    assert said["wear of bits"] == 1
    assert said["setting up, shared by the batch"] == Decimal("1.5")
    assert sheet.dollars == 18 + 14 + 10 + 4 + Decimal("1.5") + 1 + Decimal("0.75") + 2
    assert sheet.hands_minutes == 33


@given(st.integers(1, 50))
def test_at_its_floor_a_piece_leaves_nothing_and_a_cent_less_loses(batch):
    floor = floor_price(TRAY, batch)
    assert 0 <= what_it_pays(TRAY, batch, floor).profit_dollars <= Decimal("0.01")
    assert what_it_pays(TRAY, batch, floor - Decimal("0.02")).profit_dollars < 0


@given(st.integers(1, 50), st.decimals(5, 120, places=2))
def test_the_price_for_a_wage_pays_that_wage(batch, wage):
    pay = what_it_pays(TRAY, batch, price_for_wage(TRAY, batch, wage))
    assert pay.an_hour_of_hands == pytest.approx(wage, abs=Decimal("0.04"))


def test_the_floor_is_the_price_for_the_wages_where_all_are_paid_alike():
    alike = replace(TRAY, hands=(Hands("bench", Decimal(30), Decimal(30)),))
    assert floor_price(alike, 5) == price_for_wage(alike, 5, Decimal(30))


@given(st.lists(st.integers(1, 500), min_size=2, max_size=6, unique=True).map(sorted))
def test_a_larger_batch_never_costs_more_a_piece(sizes):
    dollars = [sheet.dollars for sheet in batch_curve(TRAY, sizes)]
    assert dollars == sorted(dollars, reverse=True)


@given(money, money)
def test_a_higher_price_pays_more_an_hour(one, other):
    low, high = sorted([one, other])
    assert what_it_pays(TRAY, 5, low).an_hour_of_hands <= what_it_pays(TRAY, 5, high).an_hour_of_hands


def test_seconds_raise_the_floor():
    assert floor_price(replace(TRAY, seconds_fraction=Decimal("0.2")), 5) > floor_price(TRAY, 5)


def test_artwork_for_one_piece_is_dearer_than_for_ten():
    drawn = replace(TRAY, artwork_minutes=Decimal(45))
    assert cost_of(drawn, 1).dollars - cost_of(TRAY, 1).dollars == Decimal("22.5")
    assert cost_of(drawn, 10).dollars - cost_of(TRAY, 10).dollars == Decimal("2.25")


def test_a_piece_without_hands_pays_no_hour_of_them():
    assert what_it_pays(PriceFacts(router_minutes=Decimal(5)), 1, Decimal(10)).an_hour_of_hands is None


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"router_minutes": Decimal(-1)}, "router minutes is 0 or more, not -1."),
        ({"waste_fraction": Decimal(2)}, "waste fraction is a share from 0 to 1, not 2."),
        ({"fee_fraction": Decimal(1)}, "leaves nothing"),
        ({"wood_board_feet": Decimal("NaN")}, "wood board feet is 0 or more, not NaN."),
        ({"bits": (BitWear("V", Decimal(1), Decimal(20), Decimal(0)),)}, "V cuts well for more than 0 minutes"),
    ],
)
def test_nonsense_is_refused_in_a_sentence(wrong, said):
    with pytest.raises(PlannerError) as refusal:
        replace(TRAY, **wrong)
    assert said in str(refusal.value)


def test_a_price_below_nothing_is_refused():
    with pytest.raises(PlannerError, match="0 or more dollars"):
        what_it_pays(TRAY, 1, Decimal(-1))


def row(name, throughput, profit, **minutes):
    return RankRow(
        name, name, Decimal(throughput), Decimal(profit), {key: Decimal(value) for key, value in minutes.items()}
    )


def test_designs_are_ranked_by_what_the_scarcest_hour_brings():
    loads = {"router": StationLoad(300, 400), "hands": StationLoad(500, 1000)}
    rows = [
        row("slow", 60, 10, router=30, hands=10),
        row("quick", 45, 5, router=15, hands=30),
        row("loss", 20, -4, router=20),
    ]
    ranking = rank_by_scarcest(rows, loads)
    assert ranking.scarcest == "router"
    assert [(each.row.name, each.dollars_an_hour) for each in ranking.rows] == [
        ("quick", 180),
        ("slow", 120),
        ("loss", 60),
    ]
    assert [each.row.name for each in ranking.rows if not each.is_worth_making] == ["loss"]


def test_what_takes_nothing_of_the_scarcest_comes_first():
    ranking = rank_by_scarcest([row("a", 10, 1, router=5), row("b", 1, 1, hands=5)], {"router": StationLoad(5, 5)})
    assert [each.row.name for each in ranking.rows] == ["b", "a"]
