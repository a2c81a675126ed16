"""What people do with orders, in a real browser."""

from __future__ import annotations

from datetime import timedelta
from time import perf_counter

import pytest
from django.utils.timezone import now

from shop.orders.models import Order
from shop.plans.models import Expectation
from tests.pages.looking import DESK, PHONE, say_violations
from tests.shop.makers import (
    make_fair,
    make_line,
    make_order,
    make_piece,
    make_plan,
    make_station,
    make_step,
)
from tests.shop.orders.files import csv_of, stock_the_shop

pytestmark = [pytest.mark.pages, pytest.mark.django_db(transaction=True)]


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


def test_the_day_of_another_day_does_not_lie_under_the_button(signed_in, shop):
    page = signed_in("/orders/new/", screen=PHONE)
    page.get_by_text("for a fair", exact=True).tap()
    page.get_by_text("another day", exact=True).tap()
    day = page.locator("[name=due_day]").bounding_box()
    button = page.get_by_role("button", name="Take the order").bounding_box()
    assert day["y"] + day["height"] <= button["y"]


def test_an_order_is_logged_at_the_fair_table_in_six_taps(signed_in, shop):
    """The second one of a day, so that wood, channel and fair are remembered."""
    page = signed_in("/orders/new/", screen=PHONE)
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


def test_due_follows_the_channel_until_somebody_says_otherwise(signed_in, shop):
    page = signed_in("/orders/new/", screen=PHONE)
    page.get_by_text("for a fair").tap()
    assert page.locator("[name=due]:checked").input_value() == "fair"
    page.locator("label[for=id_due_1]").tap()
    page.get_by_text("in person").tap()
    assert page.locator("[name=due]:checked").input_value() == "1"


def test_the_pad_works_without_any_script(signed_in, shop):
    page = signed_in("/orders/new/", screen=DESK, script=False)
    page.select_option("[name=line-0-design]", label="Oval dish, $45.00")
    page.select_option("[name=line-0-species]", label="maple")
    page.get_by_role("button", name="Another line first").click()
    assert page.locator(".line").count() == 2
    page.get_by_role("button", name="Take the order").click()
    assert "Taken:" in page.content()


def test_what_is_wrong_leads_to_its_field(signed_in, shop):
    page = signed_in("/orders/new/", screen=PHONE)
    page.get_by_role("button", name="Take the order").tap()
    page.get_by_role("link", name="Choose what is ordered").tap()
    assert page.url.endswith("#id_line-0-design")
    assert page.title().startswith("Error: ")


def test_a_file_with_a_bad_row_is_brought_in_without_it(signed_in, shop, tmp_path):
    file = tmp_path / "orders.csv"
    file.write_text(csv_of({}, {"reference": "A-2", "due": "2026-13-01"}))
    page = signed_in("/orders/import/", screen=DESK)
    page.set_input_files("[name=file]", file)
    page.get_by_role("button", name="Look at the file").click()
    page.get_by_text('row 3, due, "2026-13-01": no such date; write it like 2026-12-05').first.wait_for()
    assert not say_violations(page)
    page.get_by_role("button", name="Bring in the good rows only: 1 order").click()
    page.get_by_text("1 order taken from orders.csv").wait_for()
    assert Order.objects.filter(reference="A-1").exists()
    assert not Order.objects.filter(reference="A-2").exists()


def test_artwork_is_said_where_it_stands(signed_in, shop):
    page = signed_in(shop.get_absolute_url(), screen=PHONE)
    page.get_by_role("button", name="artwork approved").tap()
    page.locator("[aria-pressed=true]", has_text="artwork approved").wait_for()
    assert shop.lines.get().artwork == "approved"


def test_a_partner_keeps_their_own_hours_on_a_phone(signed_in, shop, joss):
    page = signed_in("/workshop/", screen=PHONE, by=joss)
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
    "/orders/{order}/",
    "/workshop/",
    "/workshop/hours/{person}/",
]


@pytest.mark.parametrize("screen", [PHONE, DESK], ids=["phone", "desk"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_page_can_be_read_by_everybody(signed_in, ines, shop, screen, scheme):
    for address in PAGES:
        page = signed_in(address.format(order=shop.pk, person=ines.pk), screen=screen, scheme=scheme)
        assert page.locator("h1").count() == 1
        assert not say_violations(page)
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), address


def test_what_a_thumb_must_hit_is_big_enough(signed_in, shop):
    page = signed_in("/orders/new/", screen=PHONE)
    targets = page.locator(
        ".pad :is(button, select, input:not([type=hidden], [type=radio], [type=checkbox]), .chips label)"
    )
    sizes = [(box["height"], target.inner_text()) for target in targets.all() if (box := target.bounding_box())]
    assert [what for height, what in sizes if height < 48] == []
    assert page.get_by_role("button", name="Take the order").bounding_box()["height"] >= 76
