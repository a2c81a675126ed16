"""The workshop's figures on their page, and what an hour of a machine costs."""

from __future__ import annotations

import pytest
from django.forms.models import model_to_dict

from shop.figures.forms import PARTS
from shop.figures.models import Figures
from shop.lengths import LengthField
from tests.shop.makers import INCH

pytestmark = pytest.mark.django_db
ADDRESS = "/workshop/figures/"


def figures_form(**changes: object) -> dict:
    """The form as its page has it, lengths in inches, with some fields changed."""
    row = model_to_dict(Figures.get(), [name for names in PARTS.values() for name in names])
    lengths = {name for name in row if isinstance(Figures._meta.get_field(name), LengthField)}
    return {name: value / INCH if name in lengths else value for name, value in row.items()} | changes


def test_grits_that_jump_too_far_are_told(owner):
    assert owner.post(ADDRESS, figures_form(grits="P80 then P240")).status_code == 302
    assert Figures.get().grits == "P80 then P240"
    assert "From P80 to P240 is too far" in owner.get(ADDRESS).content.decode()


@pytest.mark.parametrize(("grits", "said"), [("120, 130", "P130 is no grit known here"), ("fine", "at least one grit")])
def test_grits_that_are_none_are_refused(owner, grits, said):
    page = owner.post(ADDRESS, figures_form(grits=grits))
    assert page.status_code == 422
    assert said in page.content.decode()
    assert Figures.get().grits == "120, 180, 220"


def test_a_field_left_empty_is_named(owner):
    page = owner.post(ADDRESS, figures_form(usual_batch="", fee_percent="101"))
    text = page.content.decode()
    assert "Pieces in a usual batch: fill this in." in text
    assert "Fees of the channel, sold online, % of the price: Ensure" in text


def test_an_hour_of_a_machine_costs_its_wear_and_the_money_in_it(owner):
    """(6000·6 + 1000·4) / 10 = 4000 dollars in it on average; 1 dollar of wear and 24 cents of interest an hour."""
    asked = "price_dollars=6000&salvage_dollars=1000&years=5&hours_a_year=1000&interest_percent=6"
    assert "An hour of it costs $1.24" in owner.get(f"{ADDRESS}?{asked}").content.decode()
    wrong = owner.get(f"{ADDRESS}?{asked.replace('=1000&years', '=9000&years')}")
    assert "lies between 0 and its price" in wrong.content.decode()
    empty = owner.get(f"{ADDRESS}?price_dollars=6000")
    assert "Used for, years: fill this in." in empty.content.decode()


@pytest.mark.parametrize(
    ("slip", "said"),
    [
        ({"kerf_nm": "100"}, "Kerf and jointing take 1/2 in at most"),
        ({"usual_batch": "20000"}, "1 to 1,000 pieces"),
        ({"edge_margin_nm": "7"}, "6 in at most"),
        ({"ripped_above_nm": "1/4"}, "ripped above 1 to 24 in"),
        ({"artwork_minutes": "2001"}, "2,000 minutes at most"),
    ],
)
def test_a_slip_of_the_finger_is_told(owner, slip, said):
    page = owner.post(ADDRESS, figures_form(**slip))
    assert page.status_code == 422
    assert said in page.content.decode()
