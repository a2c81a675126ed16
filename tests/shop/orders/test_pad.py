"""The order pad as a form; tests/pages has it under a thumb."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
from django.utils.timezone import localdate, now

from shop.orders.models import Line, Order
from shop.stations.models import Workshop
from tests.shop.makers import make_design, make_fair, make_species

pytestmark = pytest.mark.django_db
PAD = "/orders/new/"


@pytest.fixture
def typed() -> dict[str, object]:
    """What a person types for one tray; the cells of a browser's form."""
    return {
        "form_key": str(uuid4()),
        "line-TOTAL_FORMS": "1",
        "line-INITIAL_FORMS": "1",
        "line-0-design": make_design("Gull tray", price=60, takes_text=True).pk,
        "line-0-species": make_species("cherry").pk,
        "line-0-quantity": "2",
        "line-0-price": "",
        "line-0-text": "Rex",
        "channel": "in person",
        "fair": "",
        "due": "2",
        "due_day": "",
        "customer": "Ada Fennimore",
        "note": "",
    }


def errors(page) -> list[str]:
    assert page.status_code == 422
    return [problem for _, problem in page.context["problems"]]


def test_an_order_is_taken_and_the_pad_is_ready_for_the_next(owner, typed):
    page = owner.post(PAD, typed, follow=True)
    order = Order.objects.get()
    assert page.redirect_chain[-1][0] == f"{PAD}?taken={order}"
    assert f'Taken: <b class="number">{order}</b>' in page.content.decode()
    assert (order.customer.name, order.is_hard) == ("Ada Fennimore", False)
    zone = Workshop.get().zone
    assert localdate(order.due_at, zone) == localdate(timezone=zone) + timedelta(weeks=2)


def test_the_price_is_the_designs_unless_somebody_says_another(owner, typed):
    owner.post(PAD, typed)
    owner.post(PAD, typed | {"form_key": str(uuid4()), "line-0-price": "55.50"})
    assert [line.price for line in Line.objects.all()] == [60, Decimal("55.50")]


def test_a_double_tap_is_one_order(owner, typed):
    for _ in range(2):
        owner.post(PAD, typed)
    assert Order.objects.count() == 1


def test_the_last_fair_channel_and_species_are_filled_in_the_next_time(owner, typed):
    fair = make_fair(opens_at=now() + timedelta(days=9))
    owner.post(PAD, typed | {"channel": "fair", "fair": fair.pk, "due": "fair"})
    pad = owner.get(PAD).context["pad"]
    assert pad.order["channel"].value() == "fair"
    assert pad.order["fair"].value() == fair.pk
    assert pad.order["due"].value() == "fair"
    assert pad.lines[0]["species"].value() == typed["line-0-species"]


def test_stock_for_a_fair_is_due_when_it_opens_and_worthless_after(owner, typed):
    fair = make_fair(opens_at=now() + timedelta(days=9))
    owner.post(PAD, typed | {"channel": "fair", "fair": fair.pk, "due": "fair"})
    order = Order.objects.get()
    assert (order.due_at, order.is_hard) == (fair.opens_at, True)


def test_another_line_keeps_what_was_typed_and_takes_no_order(owner, typed):
    page = owner.post(PAD, typed | {"another": "1"})
    lines = page.context["pad"].lines
    assert [line["text"].value() for line in lines] == ["Rex", ""]
    assert str(typed["form_key"]) in page.content.decode()
    assert not Order.objects.exists()


def test_several_lines_are_one_order_and_empty_ones_are_none(owner, typed):
    second = {"line-1-design": make_design().pk, "line-1-species": make_species().pk, "line-1-quantity": "1"}
    empty = {"line-2-design": "", "line-2-species": typed["line-0-species"], "line-2-quantity": "1"}
    owner.post(PAD, typed | second | empty | {"line-TOTAL_FORMS": "3"})
    assert Order.objects.get().lines.count() == 2


@pytest.mark.parametrize(
    ("cells", "error"),
    [
        ({"line-0-design": "", "line-0-text": ""}, "Choose what is ordered"),
        ({"line-0-design": ""}, "Choose what the text goes on"),
        ({"line-0-species": ""}, "Choose the wood"),
        ({"line-0-quantity": "0"}, "1 is the least"),
        ({"line-0-quantity": "501"}, "500 in one line is the most"),
        ({"line-0-quantity": "two"}, "How many is a whole number"),
        ({"line-0-price": "free"}, "Write the price like 48.00"),
        ({"line-0-text": "x" * 121}, "The text is longer than 120 characters"),
        ({"channel": ""}, "Say how it was ordered"),
        ({"channel": "fair"}, "Choose the fair it is for"),
        ({"due": "fair"}, "Choose the fair at which it is due"),
        ({"due": "day"}, "Say which day it is due"),
        ({"due": "day", "due_day": "5 Dec"}, "Write the day like 2026-12-05"),
        ({"due": "day", "due_day": "2020-01-01"}, "That is in the past"),
    ],
)
def test_what_is_wrong_is_said_in_words_and_nothing_typed_is_lost(owner, typed, cells, error):
    page = owner.post(PAD, typed | cells)
    assert errors(page) == [error]
    assert "<title>Error: " in page.content.decode()
    assert 'value="Ada Fennimore"' in page.content.decode()


@pytest.mark.parametrize("count", [None, "0", "", "-1", "many"])
def test_a_form_that_lost_the_count_of_its_lines_is_read_with_one(owner, typed, count):
    counts = {"line-TOTAL_FORMS", "line-INITIAL_FORMS"}
    rest = {name: said for name, said in typed.items() if name not in counts}
    said = rest | ({} if count is None else dict.fromkeys(counts, count))
    assert errors(owner.post(PAD, said | {"line-0-design": "", "line-0-text": ""})) == ["Choose what is ordered"]
    owner.post(PAD, said)
    assert Line.objects.get().quantity == 2


def test_text_on_a_design_that_takes_none_is_asked_about(owner, typed):
    page = owner.post(PAD, typed | {"line-0-design": make_design("Oval dish").pk})
    assert errors(page) == ["Oval dish takes no text: clear it, or write it in the note"]


def test_stock_for_a_fair_can_not_be_due_after_it_opens(owner, typed):
    fair = make_fair("Reef Fair", opens_at=now() + timedelta(days=3))
    assert errors(owner.post(PAD, typed | {"channel": "fair", "fair": fair.pk}))[0].startswith("Reef Fair opens ")


def test_a_partner_logs_an_order_at_the_designs_price(partner, typed):
    partner.post(PAD, typed | {"line-0-price": "1.00"})
    assert Line.objects.get().price == 60


def test_a_stranger_sees_the_sign_in(client):
    assert client.get(PAD)["Location"].startswith("/sign-in/")
