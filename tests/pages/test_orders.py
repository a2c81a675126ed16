"""What people do with orders, in a real browser."""

from __future__ import annotations

from datetime import timedelta
from time import perf_counter

import pytest
from django.utils.timezone import now

from shop.orders.models import Order
from shop.plans.models import Expectation
from shop.stations.models import Person
from tests.pages.conftest import DESK, PHONE, faults, sideways
from tests.shop.makers import (
    make_design,
    make_fair,
    make_line,
    make_order,
    make_piece,
    make_plan,
    make_station,
    make_step,
)
from tests.shop.orders.files import csv_of, stock_the_shop

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def shop():
    """A few orders in trouble and a fair ahead."""
    stock_the_shop()
    make_station()
    fair = make_fair("Reef Fair", opens_at=now() + timedelta(days=9))
    order = make_order(channel="fair", fair=fair, due_at=fair.opens_at)
    make_step(make_piece(make_line(order=order, quantity=3, text="Rex")))
    Expectation.objects.create(plan=make_plan(), order=order, ready_at=now() + timedelta(days=12))
    return order


def test_an_order_is_logged_at_the_fair_table_in_six_taps(open_page, shop):
    """The second one of a day, so that wood, channel and fair are remembered."""
    page = open_page("/orders/new/", PHONE)
    page.select_option("[name=line-0-design]", label="Gull tray, $60.00")
    page.select_option("[name=line-0-species]", label="cherry")
    page.get_by_role("button", name="Take the order").tap()
    page.get_by_text("Taken:").wait_for()

    begun = perf_counter()
    page.select_option("[name=line-0-design]", label="Gull tray, $60.00")  # two taps on a phone
    page.get_by_role("button", name="one more").tap()
    page.get_by_label("Text on it").tap()
    page.keyboard.type("Rex")
    page.get_by_role("button", name="Take the order").tap()
    page.get_by_text("“Rex”").wait_for()
    assert perf_counter() - begun < 20

    line = Order.objects.latest("pk").lines.get()
    assert (line.quantity, line.text, line.price, line.species.name) == (2, "Rex", 60, "cherry")


def test_due_follows_the_channel_until_somebody_says_otherwise(open_page, shop):
    page = open_page("/orders/new/", PHONE)
    page.get_by_text("for a fair").tap()
    assert page.locator("[name=due]:checked").input_value() == "fair"
    page.locator("label[for=id_due_1]").tap()
    page.get_by_text("in person").tap()
    assert page.locator("[name=due]:checked").input_value() == "1"


def test_the_pad_works_without_any_script(open_page, shop):
    page = open_page("/orders/new/", DESK, java_script_enabled=False)
    page.select_option("[name=line-0-design]", label="Oval dish, $45.00")
    page.select_option("[name=line-0-species]", label="maple")
    page.get_by_role("button", name="Another line first").click()
    assert page.locator(".line").count() == 2
    page.get_by_role("button", name="Take the order").click()
    assert "Taken:" in page.content()


def test_what_is_wrong_leads_to_its_field(open_page, shop):
    page = open_page("/orders/new/", PHONE)
    page.get_by_role("button", name="Take the order").tap()
    page.get_by_role("link", name="Choose what is ordered").tap()
    assert page.url.endswith("#id_line-0-design")
    assert page.title().startswith("Error: ")


def test_a_file_with_a_bad_row_is_brought_in_without_it(open_page, shop, tmp_path):
    file = tmp_path / "orders.csv"
    file.write_text(csv_of({}, {"reference": "A-2", "due": "2026-13-01"}))
    page = open_page("/orders/import/", DESK)
    page.set_input_files("[name=file]", file)
    page.get_by_role("button", name="Look at the file").click()
    page.get_by_text('row 3, due, "2026-13-01": no such date; write it like 2026-12-05').first.wait_for()
    assert faults(page) == []
    page.get_by_role("button", name="Bring in the good rows only: 1 order").click()
    page.get_by_text("1 order taken from orders.csv").wait_for()
    assert Order.objects.filter(reference="A-1").exists()
    assert not Order.objects.filter(reference="A-2").exists()


def test_artwork_is_said_where_it_stands(open_page, shop):
    page = open_page(shop.get_absolute_url(), PHONE)
    page.get_by_role("button", name="artwork approved").tap()
    page.locator("[aria-pressed=true]", has_text="artwork approved").wait_for()
    assert shop.lines.get().artwork == "approved"


def test_a_partner_keeps_their_own_hours_on_a_phone(open_page, shop):
    page = open_page("/workshop/", PHONE, Person.Role.PARTNER)
    page.get_by_role("link", name="Hours and days off").tap()
    page.get_by_label("Sunday").fill("9-12")
    page.get_by_role("button", name="Keep these hours").tap()
    page.get_by_text("hours are written down").wait_for()
    assert page.get_by_label("Sunday").input_value() == "9:00-12:00"


PAGES = [
    "/orders/",
    "/orders/new/",
    "/orders/fairs/",
    "/orders/import/",
    "/orders/1/",
    "/workshop/",
    "/workshop/hours/1/",
]


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
@pytest.mark.parametrize("colours", ["light", "dark"])
def test_every_page_can_be_read_by_everybody(open_page, shop, size, colours):
    make_design()
    page = open_page("/orders/", size, color_scheme=colours)
    for path in PAGES:
        path = path.replace("/1/", f"/{shop.pk if 'orders' in path else Person.objects.get().pk}/")  # noqa: PLW2901
        assert page.goto(path).status == 200
        assert faults(page) == [], path
        assert sideways(page) <= 0, path


def test_what_a_thumb_must_hit_is_big_enough(open_page, shop):
    page = open_page("/orders/new/", PHONE)
    targets = page.locator(
        ".pad :is(button, select, input:not([type=hidden], [type=radio], [type=checkbox]), .chips label)"
    )
    sizes = [(box["height"], target.inner_text()) for target in targets.all() if (box := target.bounding_box())]
    assert [what for height, what in sizes if height < 48] == []
    assert page.get_by_role("button", name="Take the order").bounding_box()["height"] >= 76
