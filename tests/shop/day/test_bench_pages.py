"""The router's page and the detail page as a browser gets them."""

import re
from datetime import timedelta

import pytest
from django.contrib.auth import get_user_model
from django.utils.timezone import now

from shop.floor.models import Piece, Step
from shop.plans.models import Plan
from tests.shop.makers import (
    make_it_midday,
    make_line,
    make_person,
    make_piece,
    make_plan,
    make_planned,
    make_station,
    make_step,
)

pytestmark = pytest.mark.django_db
TOMORROW = timedelta(days=1)


@pytest.fixture
def plan(client) -> Plan:
    person = make_person("Ines")
    person.user = get_user_model().objects.create_user("ines")
    person.save()
    client.force_login(person.user)
    return make_plan()


def make_load(plan: Plan, *, text: str = "") -> None:
    piece = make_piece(make_line(text=text))
    layout = [{"piece": f"p{piece.pk}", "x_in": 1, "y_in": 1, "turned": False}]
    step = make_step(piece, stage="router", about={"bits": ["3/4 in bowl"], "thickness_in": 0.75, "layout": layout})
    make_planned(plan, step, now() + TOMORROW, make_station())


def make_lot(plan: Plan, *, text: str = "") -> None:
    make_planned(plan, make_step(make_piece(make_line(text=text)), stage="paint"), now())


@pytest.mark.parametrize("address", ["/router/", "/router/2026-06-01/", "/detail/"])
def test_nobody_reads_the_bench_without_signing_in(client, address):
    assert client.get(address).status_code == 302


@pytest.mark.parametrize("address", ["/router/2026-02-30/", "/router/9999-12-31/", "/router/tomorrow/"])
def test_a_day_that_no_workshop_has_is_no_such_page(client, plan, address):
    assert client.get(address).status_code == 404


def test_before_the_first_plan_both_pages_say_that_nothing_is_there(client, plan):
    Plan.objects.all().delete()
    assert "Nothing is planned at the router" in client.get("/router/").content.decode()
    assert "Nothing waits" in client.get("/detail/").content.decode()


@pytest.mark.parametrize(("address", "piece"), [("/router/", "queue"), ("/detail/", "lots")])
def test_htmx_gets_its_piece_and_nothing_around_it(client, plan, address, piece):
    text = client.get(address, headers={"HX-Request": "true"}).content.decode()
    assert text.strip().startswith(f'<div id="{piece}"')
    assert "<html" not in text


def test_a_bit_that_left_the_rack_is_still_named(client, plan):
    make_load(plan)
    assert "3/4 in bowl" in client.get("/router/").content.decode()


def test_what_is_due_on_another_day_than_the_pages_says_its_day(client, plan):
    make_it_midday()
    make_load(plan)
    load = plan.steps.get().step
    make_planned(plan, make_step(*load.pieces.all(), stage="flatten", what="Plane flat"), now())
    assert re.search(r"Plane flat: <b>not done yet</b>, due today \d", client.get("/router/").content.decode())


def test_what_is_spoilt_already_is_not_asked_after(client, plan):
    make_load(plan)
    Step.objects.update(begun_at=now())
    assert "Spoilt?" in client.get("/router/").content.decode()
    Piece.objects.update(spoilt_at=now(), spoilt_why="tear-out")
    assert "Spoilt?" not in client.get("/router/").content.decode()


@pytest.mark.parametrize(("address", "make"), [("/router/", make_load), ("/detail/", make_lot)])
def test_a_customers_words_are_shown_and_never_run(client, plan, address, make):
    make(plan, text="<script>alert(1)</script>")
    text = client.get(address).content.decode()
    assert "<script>alert" not in text
    assert "&lt;script&gt;alert" in text


@pytest.mark.parametrize(("address", "make"), [("/router/", make_load), ("/detail/", make_lot)])
def test_a_page_of_fifty_takes_no_more_queries_than_one_of_five(
    client, plan, address, make, django_assert_max_num_queries
):
    for _ in range(5):
        make(plan)
    client.get(address)
    with django_assert_max_num_queries(14) as few:
        client.get(address)
    for _ in range(45):
        make(plan)
    with django_assert_max_num_queries(len(few)):
        client.get(address)
