"""Pages of orders and fairs, asked as a browser asks."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils.timezone import localdate, now

from shop.orders.models import Order, Upload
from shop.plans.models import Expectation
from shop.stations.models import Workshop
from tests.shop.makers import (
    make_customer,
    make_design,
    make_fair,
    make_finish,
    make_line,
    make_order,
    make_piece,
    make_plan,
    make_planned,
    make_step,
)
from tests.shop.orders.files import csv_of, stock_the_shop

pytestmark = pytest.mark.django_db
SOON = timedelta(days=5)


def asked(page) -> list[str]:
    return [order.reference for order in page.context["page"]]


def fill(number: int) -> None:
    plan = make_plan()
    for _ in range(number):
        order = make_order(customer=make_customer(), due_at=now() + SOON)
        Expectation.objects.create(plan=plan, order=order, ready_at=now() + SOON * 2)
        for _ in range(2):
            make_step(make_piece(make_line(order=order)))


@pytest.mark.parametrize("number", [5, 50])
def test_a_list_takes_as_many_queries_for_five_orders_as_for_fifty(owner, number, django_assert_num_queries):
    fill(number)
    owner.get("/orders/")
    with django_assert_num_queries(8):
        page = owner.get("/orders/")
    assert page.content.decode().count("<b>late</b>") == number


def test_an_order_that_can_not_be_planned_says_what_is_missing(owner):
    plan, order = make_plan(), make_order(due_at=now() + SOON)
    piece = make_piece(make_line(order=order))
    Expectation.objects.create(plan=plan, order=order, ready_at=None)
    for stage, why in (("carve", "There is no laser."), ("pack", "It comes after something else.")):
        make_planned(plan, make_step(piece, stage=stage), None, why=why)
    for address in ("/orders/", f"/orders/{order.pk}/"):
        text = owner.get(address).content.decode()
        assert "There is no laser." in text
        assert "It comes after" not in text


def test_an_order_that_is_planned_gives_no_reason_of_a_plan_from_before(owner):
    order = make_order(due_at=now() + SOON)
    make_planned(make_plan(is_in_force=False), make_step(make_piece(make_line(order=order))), None, why="No laser.")
    make_plan()
    assert "No laser." not in owner.get("/orders/").content.decode()


def test_late_says_by_how_much(owner):
    fill(1)
    assert "by 5 days" in owner.get("/orders/").content.decode()


def test_the_list_is_cut_into_pages(owner):
    for _ in range(60):
        make_line()
    assert len(asked(owner.get("/orders/?page=2"))) == 10


def test_orders_are_found_by_what_people_remember(owner):
    gull = make_line(design=make_design("Gull tray"), text="Rex").order
    other = make_order(customer=make_customer("Ada Fennimore"))
    found = {word: asked(owner.get("/orders/", {"search": word})) for word in ("gull", "rex", "fennimore", "nobody")}
    assert found == {"gull": [str(gull)], "rex": [str(gull)], "fennimore": [str(other)], "nobody": []}


def test_orders_are_filtered_by_state_channel_and_fair(owner):
    fair = make_fair()
    at_fair = make_order(channel="fair", fair=fair)
    gone = make_order(handed_over_at=now())
    assert asked(owner.get("/orders/")) == [str(at_fair)]
    assert asked(owner.get("/orders/", {"state": Order.State.HANDED_OVER})) == [str(gone)]
    assert asked(owner.get("/orders/", {"state": "all", "channel": "fair"})) == [str(at_fair)]
    assert asked(owner.get("/orders/", {"fair": fair.pk})) == [str(at_fair)]


def test_a_filter_that_makes_no_sense_is_as_if_not_given(owner):
    order = make_order()
    assert asked(owner.get("/orders/", {"state": "x", "fair": "9999", "page": "x"})) == [str(order)]


def test_an_order_shows_its_lines_and_pieces(owner):
    line = make_line(text="Rex <b>")
    make_step(make_piece(line), what="sand it")
    text = owner.get(line.order.get_absolute_url()).content.decode()
    assert "Rex &lt;b&gt;" in text
    assert "sand it: no start is planned" in text


def test_an_order_is_cancelled_and_opened_again(owner):
    order = make_line().order
    page = owner.post(f"/orders/{order.pk}/cancel/", follow=True)
    assert f"Order {order} is cancelled." in page.content.decode()
    owner.post(f"/orders/{order.pk}/reopen/")
    assert Order.objects.open().exists()


def test_cancelling_what_somebody_handed_over_meanwhile_says_how_it_stands(owner):
    order = make_line().order
    owner.post(f"/orders/{order.pk}/hand-over/")
    assert "was changed by somebody else" in owner.post(f"/orders/{order.pk}/cancel/", follow=True).content.decode()


def test_artwork_is_set_on_its_own_piece_of_the_page(owner):
    line = make_line(artwork="wanted")
    reply = owner.post(f"/orders/lines/{line.pk}/artwork/", {"artwork": "received"}, headers={"HX-Request": "true"})
    assert reply.content.decode().strip().startswith(f'<form class="acts" id="artwork-{line.pk}"')
    line.refresh_from_db()
    assert line.artwork == "received"


def test_artwork_without_a_script_comes_back_to_the_order(owner):
    line = make_line()
    reply = owner.post(f"/orders/lines/{line.pk}/artwork/", {"artwork": "nonsense"})
    assert reply["Location"] == line.order.get_absolute_url()


def test_fairs_say_what_lies_ahead(owner):
    fair = make_fair("Reef Fair", opens_at=now() + SOON)
    make_line(order=make_order(channel="fair", fair=fair, due_at=fair.opens_at), quantity=3)
    text = owner.get("/orders/fairs/").content.decode()
    assert "<b>3</b> on the way" in text


def upload(client, text: str | bytes, name: str = "orders.csv"):
    raw = text if isinstance(text, bytes) else text.encode()
    return client.post("/orders/import/", {"file": SimpleUploadedFile(name, raw)}, follow=True)


def test_a_file_is_looked_at_before_it_is_brought_in(owner):
    stock_the_shop()
    page = upload(owner, csv_of({}, {"reference": "A-2"}))
    assert "2 new orders in 2 rows" in page.content.decode()
    kept = Upload.objects.get()
    page = owner.post(f"/orders/import/{kept.pk}/bring-in/", {"rows": "all"}, follow=True)
    assert "2 orders taken from orders.csv" in page.content.decode()
    assert (Order.objects.count(), Upload.objects.count()) == (2, 0)


def test_other_headers_are_guessed_and_can_be_changed(owner):
    stock_the_shop()
    upload(owner, "No,where,thing,qty,wood,due\n7,online,Gull tray,1,cherry,2026-12-04\n")
    kept = Upload.objects.get()
    assert kept.matching == {"channel": "where", "quantity": "qty", "species": "wood", "due": "due"}
    chosen = {
        "reference": "No",
        "design": "thing",
        "channel": "where",
        "quantity": "qty",
        "species": "wood",
        "due": "due",
    }
    page = owner.post(f"/orders/import/{kept.pk}/", chosen, follow=True)
    assert "1 new order in 1 row" in page.content.decode()


def test_a_needed_column_without_a_header_is_asked_for(owner):
    stock_the_shop()
    assert "The file has no columns reference, design" in upload(owner, "channel,quantity\nonline,1\n").content.decode()
    page = owner.post(f"/orders/import/{Upload.objects.get().pk}/", {"channel": "channel", "quantity": "quantity"})
    assert page.status_code == 422
    assert "Choose the column that holds the reference" in page.content.decode()


def test_a_bad_row_holds_back_the_file_or_is_left_out(owner):
    stock_the_shop()
    page = upload(owner, csv_of({}, {"reference": "A-2", "quantity": "no"}))
    assert "row 3, quantity, &quot;no&quot;: a whole number" in page.content.decode()
    address = f"/orders/import/{Upload.objects.get().pk}/bring-in/"
    assert "1 bad row, so nothing came in" in owner.post(address, {"rows": "all"}).content.decode()
    owner.post(address, {"rows": "good"})
    assert [order.reference for order in Order.objects.all()] == ["A-1"]


@pytest.mark.parametrize(
    ("raw", "sentence"),
    [
        (b"PK\x03\x04", "This is an Excel or zip file, not a CSV file"),
        (b"", "The selected file is empty"),
        (b'a,b\n"1', "A quote that opens in row 2 is never closed"),
    ],
)
def test_a_file_that_is_no_table_is_refused_in_words(owner, raw, sentence):
    page = upload(owner, raw)
    assert page.status_code == 422
    assert sentence in page.content.decode()
    assert not Upload.objects.exists()


def test_a_file_name_is_only_ever_shown(owner):
    stock_the_shop()
    page = upload(owner, csv_of({}), name="..<img src=x>.csv")
    assert "&lt;img src=x&gt;" in page.content.decode()


def test_a_file_is_only_seen_by_who_brought_it_and_for_a_day(owner, partner):
    stock_the_shop()
    upload(owner, csv_of({}))
    kept = Upload.objects.get()
    assert partner.get(f"/orders/import/{kept.pk}/").status_code == 403
    Upload.objects.update(made_at=now() - timedelta(days=2))
    assert owner.get(f"/orders/import/{kept.pk}/").status_code == 404


OWNERS = ["/orders/", "/orders/fairs/", "/orders/import/", "/orders/{}/"]
ACTS = ["/orders/{}/cancel/", "/orders/{}/hand-over/", "/orders/{}/reopen/"]


@pytest.mark.parametrize("address", OWNERS)
def test_the_order_book_is_the_owners(owner, partner, client, address):
    address = address.format(make_line().order.pk)
    assert owner.get(address).status_code == 200
    assert partner.get(address).status_code == 403
    assert client.get(address).status_code == 302


@pytest.mark.parametrize("address", ACTS)
def test_closing_orders_is_the_owners_and_never_a_link(owner, partner, client, address):
    address = address.format(make_line().order.pk)
    assert owner.get(address).status_code == 405
    assert partner.post(address).status_code == 403
    assert client.post(address).status_code == 302


def test_an_order_says_from_when_its_finish_is_cured(owner):
    design = make_design(finish=make_finish(cure_days=7))
    line = make_line(order=make_order(due_at=now() + SOON), design=design)
    page = owner.get(f"/orders/{line.order_id}/").content.decode()
    assert "food may touch it" not in page
    last_coat = now() + timedelta(days=20)
    piece, plan = make_piece(line), make_plan()
    make_planned(plan, make_step(piece, stage="oil"), now() + timedelta(days=2))
    make_planned(plan, make_step(piece, stage="oil 2"), last_coat)
    page = owner.get(f"/orders/{line.order_id}/").content.decode()
    the_day = localdate(last_coat, Workshop.get().zone) + timedelta(days=7)
    assert f"from about <b>{the_day:%a} {the_day.day} {the_day:%b}</b>" in page
