"""The mix against textbook programs. Their answers were checked by trying every mix."""

from decimal import Decimal

import pytest

from planner.foresight.mix import MixProduct, best_mix

MINUTES = {"A": 2400, "B": 2400, "C": 2400, "D": 2400}
P = MixProduct("P", "P", (Decimal(45),) * 100, {"A": 15, "B": 15, "C": 15, "D": 15})
Q = MixProduct("Q", "Q", (Decimal(60),) * 50, {"A": 10, "B": 30, "C": 5, "D": 5})


def priced(mix):
    """Dollars a minute at the margin, by resource."""
    return {each.resource: float(each.at_the_margin) / 60 for each in mix.hour_prices}


# By unit margin Q goes first and the week loses 300; by what a minute of B brings it earns 300 with P 100, Q 30.
@pytest.mark.source("Goldratt, The Haystack Syndrome (1990): P and Q")
def test_p_and_q():
    mix = best_mix([P, Q], MINUTES)
    assert mix.pieces == {"P": 100, "Q": 30}
    assert mix.dollars - 6000 == 300
    assert priced(mix) == pytest.approx({"A": 0, "B": 2, "C": 0, "D": 0})
    assert 60 * 45 + 50 * 60 - 6000 == -300


# max 3x + 5y; x <= 4, 2y <= 12, 3x + 2y <= 18: (2, 6), 36, shadow prices 0, 3/2, 1.
@pytest.mark.source("Hillier and Lieberman, Introduction to Operations Research: Wyndor Glass (from memory)")
def test_wyndor_glass():
    doors = MixProduct("x", "doors", (Decimal(3),) * 20, {"1": 1, "3": 3})
    windows = MixProduct("y", "windows", (Decimal(5),) * 20, {"2": 2, "3": 2})
    mix = best_mix([doors, windows], {"1": 4, "2": 12, "3": 18})
    assert mix.pieces == {"x": 2, "y": 6}
    assert mix.dollars == 36
    assert priced(mix) == pytest.approx({"1": 0, "2": 1.5, "3": 1})


# max 5x + 4y; 6x + 4y <= 24, x + 2y <= 6, y <= 2: the program gives (3, 1.5) and 21, duals 3/4 and 1/2; whole numbers
# give 20.
@pytest.mark.source("Taha, Operations Research: Reddy Mikks (from memory)")
def test_reddy_mikks():
    exterior = MixProduct("x", "exterior", (Decimal(5),) * 20, {"M1": 6, "M2": 1})
    interior = MixProduct("y", "interior", (Decimal(4),) * 2, {"M1": 4, "M2": 2})
    mix = best_mix([exterior, interior], {"M1": 24, "M2": 6})
    assert priced(mix) == pytest.approx({"M1": 0.75, "M2": 0.5})
    assert mix.dollars == 20


# Choosing by the ratio at one scarce resource never beats the program (Barnard 2006 on several scarce resources).
@pytest.mark.source("Goldratt, The Haystack Syndrome (1990): P and Q")
@pytest.mark.parametrize("scarce", ["A", "B", "C", "D"])
def test_no_ratio_rule_beats_the_program(scarce):
    left, dollars = dict(MINUTES), 0
    for product in sorted([P, Q], key=lambda each: -each.values_dollars[0] / each.minutes[scarce]):
        pieces = min(len(product.values_dollars), *(left[r] // m for r, m in product.minutes.items()))
        left = {r: left[r] - pieces * m for r, m in product.minutes.items()}
        dollars += pieces * product.values_dollars[0]
    assert dollars <= best_mix([P, Q], MINUTES).dollars
