"""The mix that earns most: as good as trying every mix, and told in words."""

from decimal import Decimal
from itertools import product as every

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.errors import PlannerError
from planner.foresight.mix import MixProduct, best_mix

values = st.lists(st.integers(-5, 40), max_size=3).map(lambda each: tuple(map(Decimal, sorted(each, reverse=True))))
minutes = st.fixed_dictionaries({"router": st.integers(0, 30), "hands": st.integers(0, 30)})


def worth(products, pieces):
    return sum(sum(each.values_dollars[:n]) for each, n in zip(products, pieces, strict=True))


@settings(max_examples=30)
@given(st.lists(st.tuples(values, minutes), max_size=4), st.integers(0, 90), st.integers(0, 90))
def test_no_other_mix_earns_more(rows, router, hands):
    products = [MixProduct(str(n), f"tray {n}", each, taken) for n, (each, taken) in enumerate(rows)]
    capacity = {"router": router, "hands": hands}
    mix = best_mix(products, capacity)
    fitting = (
        worth(products, pieces)
        for pieces in every(*(range(len(each.values_dollars) + 1) for each in products))
        if all(sum(n * p.minutes[r] for p, n in zip(products, pieces, strict=True)) <= capacity[r] for r in capacity)
    )
    assert mix.dollars == max(fitting)
    assert all(mix.used_minutes[resource] <= capacity[resource] + 1e-6 for resource in capacity)


def test_what_is_promised_is_made_though_it_pays_less():
    trays = MixProduct("t", "tray", (Decimal(50),) * 4, {"router": 20})
    dishes = MixProduct("d", "dish", (Decimal(5),) * 4, {"router": 20}, least=2)
    assert best_mix([trays, dishes], {"router": 80}).pieces == {"t": 2, "d": 2}


def test_an_hour_is_priced_and_said():
    trays = MixProduct("t", "tray", (Decimal(38),) * 10, {"router": 60})
    router, hands = best_mix([trays], {"router": 120, "hands": 600}).hour_prices
    assert router.says == "One more router hour is worth 38 dollars."
    assert (router.at_the_margin, router.in_whole_pieces) == (38, 38)
    assert hands.says == "There are hands hours to spare: one more is worth nothing."


def test_what_is_promised_and_does_not_fit_names_what_is_short():
    dishes = MixProduct("d", "dish", (Decimal(5),) * 4, {"rack": 90}, least=3)
    with pytest.raises(PlannerError, match=r"needs 4\.5 rack hours, and 2\.0 are left"):
        best_mix([dishes], {"rack": 120})


def test_nothing_to_make_and_no_hours_make_an_empty_mix():
    assert best_mix([], {"router": 0}).dollars == 0
    assert best_mix([MixProduct("t", "tray", (Decimal(9),), {"router": 1})], {"router": 0}).pieces == {"t": 0}


@pytest.mark.parametrize("capacity", [-1, float("nan"), float("inf")])
def test_hours_left_are_a_number(capacity):
    with pytest.raises(PlannerError, match="router has 0 or more minutes left"):
        best_mix([], {"router": capacity})


def test_values_that_rise_are_refused():
    with pytest.raises(PlannerError, match="can't rise"):
        MixProduct("t", "tray", (Decimal(1), Decimal(2)), {})
