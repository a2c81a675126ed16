from dataclasses import replace
from decimal import Decimal

import pytest

from planner.errors import MakingError
from planner.layout.holddown import (
    CAUTION,
    COMMON_FIGURES,
    FENCE,
    SCREWS,
    TAPE,
    HoldDownFigures,
    HoldDownJob,
    compare_hold_downs,
    hold_down_advice,
)

WAGE = Decimal(60)


def ways(job):
    return [way.name for way in compare_hold_downs(job, WAGE)]


def test_tape_for_a_one_off_screws_for_panels_a_fence_for_repeats():
    assert ways(HoldDownJob(1, 1, 150.0))[0] == TAPE
    assert ways(HoldDownJob(16, 8, 150.0))[0] == SCREWS
    assert ways(HoldDownJob(60, 30, 16.0))[0] == SCREWS
    assert ways(HoldDownJob(20, 1, 150.0))[0] == FENCE


def test_no_fence_for_panels_and_no_screws_beside_a_single_piece():
    assert FENCE not in ways(HoldDownJob(16, 8, 150.0))
    assert SCREWS not in ways(HoldDownJob(16, 1, 150.0))


def test_minutes_and_consumables_add_up():
    figures = {TAPE: HoldDownFigures(6, 3, 0.5, 2, Decimal("0.10"), Decimal("0.60"))}
    (way,) = compare_hold_downs(HoldDownJob(10, 4, 72.0, figures), WAGE)
    assert way.minutes_a_piece == pytest.approx((6 + 3 * 3) / 10 + 0.5 + 2 * 0.5)
    assert way.consumables_dollars_a_piece == Decimal("0.330")
    assert way.dollars_a_piece == Decimal("3.330")


def test_the_advice_names_the_way_and_how_much_less_it_costs():
    job = HoldDownJob(20, 1, 144.0)
    said = hold_down_advice(compare_hold_downs(job, WAGE), job)
    assert said == (
        "For 20 pieces take stop fence: 2.5 minutes of hands and $0.05 of consumables a piece, "
        "$4.15 a piece less than tape and glue."
    )


def test_the_shops_own_figures_change_the_advice():
    slow = COMMON_FIGURES | {FENCE: replace(COMMON_FIGURES[FENCE], set_up_minutes=600)}
    assert ways(HoldDownJob(20, 1, 144.0, slow))[0] == TAPE


def test_the_caution_says_where_screws_must_not_be():
    assert "screws and clamps out of the bit's path" in CAUTION


@pytest.mark.parametrize("value", [-1, float("nan")])
def test_figures_are_0_or_more(value):
    with pytest.raises(MakingError, match="set up minutes is 0 or more"):
        replace(COMMON_FIGURES[TAPE], set_up_minutes=value)


@pytest.mark.parametrize("job", [(0, 1, 9.0), (1, 0, 9.0), (1, 1, 0.0), (1, 1, float("nan")), (1, 1, 9.0, {})])
def test_a_run_that_makes_no_sense_is_refused(job):
    with pytest.raises(MakingError):
        HoldDownJob(*job)


def test_a_wage_below_0_is_refused():
    with pytest.raises(MakingError, match="wage"):
        compare_hold_downs(HoldDownJob(1, 1, 9.0), Decimal(-1))
