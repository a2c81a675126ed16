"""Moisture and movement: what must hold whatever the wood and the air."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import PlannerError
from planner.trade.wood import WOODS, Air, change_in, equilibrium_moisture_percent, shop_to_home, wood_named
from planner.trade.wood.movement import change_by_shrinkage

woods = st.sampled_from(list(WOODS.values()))
moistures = st.floats(0, 22)


@given(st.floats(30, 130), st.floats(0, 0.97), st.floats(0.001, 0.02))
def test_damper_air_makes_damper_wood(fahrenheit, humidity, more):
    assert equilibrium_moisture_percent(fahrenheit, humidity + more) > equilibrium_moisture_percent(
        fahrenheit, humidity
    )


@given(woods, st.floats(1, 30), moistures, moistures)
def test_wood_swells_as_it_takes_up_moisture_and_more_along_its_rings(wood, width_in, one, other):
    low, high = sorted([one, other])
    swollen = change_in(width_in, wood, low, high)
    assert swollen >= 0
    assert swollen >= change_in(width_in, wood, low, high, "quarter") - 1e-12


@given(woods, st.floats(1, 30), moistures, moistures)
def test_both_equations_say_much_the_same_where_both_hold(wood, width_in, one, other):
    one, other = 6 + one / 22 * 8, 6 + other / 22 * 8
    straight = change_in(width_in, wood, one, other)
    exact = change_by_shrinkage(width_in, wood.tangential_shrinkage, one, other, wood.saturation_percent)
    assert straight == pytest.approx(exact, rel=0.16, abs=1e-9)


def test_a_tray_from_the_shop_gets_narrower_in_a_heated_home():
    moved = shop_to_home(10, wood_named("Walnut"), Air(68, 0.45), Air(70, 0.25))
    assert moved.change_in < 0
    assert moved.says.startswith("Across 10 in it gets 0.0")
    assert "narrower" in moved.says


def test_in_the_same_air_it_stays():
    assert "stays as wide as it is" in shop_to_home(10, wood_named("cherry"), Air(70, 0.4), Air(70, 0.4)).says


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("Walnut", "black walnut"),
        ("MAPLE", "sugar maple"),
        ("White oak", "white oak"),
        ("yellow poplar", "yellow-poplar"),
    ],
)
def test_woods_are_found_as_people_name_them(said, name):
    assert wood_named(said).name == name


def test_an_unknown_wood_is_a_guess_and_says_so():
    wood = wood_named("driftwood")
    assert wood.is_a_guess
    assert "a guess" in shop_to_home(10, wood, Air(68, 0.6), Air(70, 0.2)).says


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: equilibrium_moisture_percent(500, 0.5), "30 to 130 °F"),
        (lambda: equilibrium_moisture_percent(70, 1.0), "below 1"),
        (lambda: equilibrium_moisture_percent(70, float("nan")), "below 1"),
        (lambda: change_in(10, WOODS["teak"], 8, 25), "between 0 and 22 %"),
        (lambda: change_in(0, WOODS["teak"], 8, 10), "more than 0 inches"),
        (lambda: change_in(5, WOODS["teak"], 8, 10, "end"), "flat or quarter"),
    ],
)
def test_nonsense_is_refused_in_a_sentence(make, said):
    with pytest.raises(PlannerError, match=said):
        make()
