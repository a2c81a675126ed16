"""Numbers: what designs earn, the mix for a fair, the factor learned."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest
from django.utils.timezone import now

from shop.designs.models import Design, Pass
from shop.figures.models import Figures
from shop.floor.models import Tick
from shop.numbers.learning import learned
from shop.orders.models import FairSale, Order
from shop.plans.search import search
from shop.plans.services import replan
from tests.shop.makers import (
    make_bit,
    make_design,
    make_fair,
    make_finish,
    make_line,
    make_order,
    make_person,
    make_piece,
    make_species,
    make_step,
    make_tray,
    make_workplaces,
    minutes_of,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def fair():
    """A fair two weeks ahead, a workshop with a plan, two designs with sales."""
    make_workplaces()
    make_person()
    make_species("Walnut")
    fair = make_fair("Lantern Fair", opens_at=now() + timedelta(days=14))
    past = make_fair("Old Fair", opens_at=now() - timedelta(days=30))
    for design in (make_tray(name="Harbor tray", price=90), make_tray(name="Cheap tray", price=12)):
        FairSale.objects.create(fair=past, design=design, brought=8, sold=6)
    make_line(design=make_design("Other", passes=0), order=make_order(due_at=now() + timedelta(days=9)))
    replan(seconds=0, search=search)
    return fair


def test_designs_are_ranked_and_what_does_not_pay_is_said_plainly(owner, fair):
    page = owner.get("/numbers/").content.decode()
    assert "is what there is least of" in page
    assert "Not worth making to be sold online at their price:" in page
    assert page.index("Harbor tray") < page.index("Cheap tray")


def test_without_a_plan_or_any_design_there_is_still_a_page(owner):
    assert owner.get("/numbers/").status_code == 200
    make_tray()
    assert "Without a plan nobody knows what is scarce" in owner.get("/numbers/").content.decode()


def test_a_tap_turns_the_mix_into_an_order_for_the_shelf_once(owner, fair):
    page = owner.get(f"/numbers/fairs/{fair.pk}/").content.decode()
    assert "hours to spare of" in page
    shown = shown_on(page)
    for _ in range(2):
        assert owner.post(f"/numbers/fairs/{fair.pk}/", {"shown": shown}).url.startswith("/orders/")
    order = Order.objects.get(channel=Order.Channel.STOCK)
    assert (order.fair, order.due_at) == (fair, fair.opens_at)
    assert [line.design.name for line in order.lines.all()] == ["Harbor tray"]
    assert "Harbor tray" in owner.get("/orders/fairs/").content.decode()


def shown_on(page):
    return page.split('name="shown" value="')[1].split('"')[0]


def test_what_was_shown_is_ordered_whatever_has_changed_since(owner, fair):
    page = owner.get(f"/numbers/fairs/{fair.pk}/")
    FairSale.objects.update(brought=40, sold=40)
    owner.post(f"/numbers/fairs/{fair.pk}/", {"shown": shown_on(page.content.decode())})
    assert Order.objects.get(channel=Order.Channel.STOCK).lines.get().quantity == page.context["mix"].pieces


def test_a_mix_that_was_not_shown_orders_nothing(owner, fair):
    for shown in ("", "made:up:by-somebody"):
        page = owner.post(f"/numbers/fairs/{fair.pk}/", {"shown": shown}, follow=True)
        assert "look at the mix once more" in page.content.decode()
    assert not Order.objects.filter(channel=Order.Channel.STOCK).exists()


def test_hours_of_what_was_ordered_since_the_plan_are_not_offered_again(owner, fair):
    before = owner.get(f"/numbers/fairs/{fair.pk}/").context["mix"].left_minutes
    tray = FairSale.objects.get(design__name="Harbor tray").design
    make_line(design=tray, order=make_order(due_at=fair.opens_at, placed_at=now()), quantity=3)
    after = owner.get(f"/numbers/fairs/{fair.pk}/").context["mix"].left_minutes
    cutting = 3 * float(sum(minutes_of(tray)))
    assert (
        before["router"] - cutting - 30 < after["router"] <= before["router"] - cutting
    )  # loading and bits come on top


def test_hours_that_come_too_late_for_oil_to_dry_are_not_counted(owner, fair):
    before = owner.get(f"/numbers/fairs/{fair.pk}/").context["mix"].left_minutes
    slow = make_finish(coats=3, soak_least_minutes=24 * 60, soak_most_minutes=30 * 60, dry_minutes=72 * 60)
    Design.objects.filter(name="Harbor tray").update(finish=slow)
    after = owner.get(f"/numbers/fairs/{fair.pk}/").context["mix"].left_minutes
    assert after["router"] < 0.4 * before["router"]
    assert after["hands"] == pytest.approx(before["hands"], abs=1)


def test_what_is_on_the_way_is_not_made_twice(owner, fair):
    before = owner.get(f"/numbers/fairs/{fair.pk}/").context["mix"].pieces
    order = make_order(channel=Order.Channel.FAIR, fair=fair, due_at=fair.opens_at)
    tray = FairSale.objects.get(design__name="Harbor tray").design
    make_line(design=tray, order=order, quantity=before)
    assert owner.get(f"/numbers/fairs/{fair.pk}/").context["mix"].pieces < before


def test_what_a_fair_sold_is_written_down(owner, fair):
    past = make_fair("Older Fair", opens_at=now() - timedelta(days=60))
    tray = FairSale.objects.first().design
    address = f"/numbers/fairs/{past.pk}/sold/"
    assert owner.post(address, {f"brought-{tray.pk}": "9", f"sold-{tray.pk}": "9"}).status_code == 302
    assert past.sales.get().sold == 9
    page = owner.post(address, {f"brought-{tray.pk}": "2", f"sold-{tray.pk}": "5"})
    assert page.status_code == 422
    assert "can’t have been sold" in page.content.decode()
    assert past.sales.get().sold == 9


def tick_loads(count: int, planned: int, actual: int, *, hands: int = 0, design: Design | None = None) -> None:
    """So many bed loads of one tray, with so many minutes of loading before `planned` minutes of cutting."""
    design = design or make_tray()
    for _ in range(count):
        segments = ((hands, "hands"), (planned, "watch")) if hands else ((planned, "watch"),)
        piece = make_piece(make_line(design=design))
        step = make_step(piece, stage="router", segments=segments, begun_at=now())
        Tick.objects.create(step=step, at=now(), minutes=actual)


def test_loading_and_bit_changes_say_nothing_of_the_factor():
    tick_loads(6, 20, 10 + 30, hands=10)  # cutting took 1.5 times as long, the whole load 1.33
    assert learned(Figures.get()).factor == pytest.approx(1.5)


def test_passes_by_hand_say_nothing_of_the_factor():
    tray = make_tray()
    Pass.objects.create(design=tray, position=9, name="by hand", bit=make_bit(), minutes=6)
    tick_loads(6, 6 + 20, 10 + 6 + 30, hands=10, design=tray)
    assert learned(Figures.get()).factor == pytest.approx(1.5)


def test_loads_of_nearly_no_cutting_are_left_out():
    tick_loads(6, 4, 30, hands=20)
    assert learned(Figures.get()).count == 0
    tick_loads(6, 9, 9, design=make_design(passes=3))  # three passes of 4 minutes by hand
    assert learned(Figures.get()).count == 0


def test_a_tick_shorter_than_its_loading_counts_but_moves_nothing():
    tick_loads(6, 20, 10 + 30, hands=10)
    tick_loads(1, 20, 2, hands=10)
    correction = learned(Figures.get())
    assert correction.count == 7
    assert correction.factor == pytest.approx(1.5)


@pytest.mark.parametrize("loads", [3, 30])
def test_the_ticks_of_many_loads_take_as_many_queries_as_of_few(loads, django_assert_max_num_queries):
    tick_loads(loads, 20, 26)
    figures = Figures.get()
    with django_assert_max_num_queries(5):
        assert learned(figures).count == loads


def test_what_ticks_say_is_taken_only_at_the_owners_word_and_can_be_taken_back(owner):
    design = make_tray()
    before = minutes_of(design)
    tick_loads(12, 20, 26)
    assert "longer than geometry says" in owner.get("/numbers/").content.decode()
    assert minutes_of(design) == before
    owner.post("/numbers/factor/")
    factor = Figures.get().router_factor
    assert factor > Decimal("1.1")
    assert sum(minutes_of(design)) == pytest.approx(sum(before) * factor, rel=Decimal("0.05"))
    assert learned(Figures.get()).count == 0  # what was ticked before says nothing of the new factor
    owner.post("/numbers/factor/", {"plain": "1"})
    assert minutes_of(design) == before


@pytest.mark.parametrize("address", ["/numbers/", "/numbers/fairs/{}/", "/numbers/fairs/{}/sold/"])
def test_numbers_are_the_owners(partner, address):
    assert partner.get(address.format(make_fair(opens_at=now() + timedelta(days=3)).pk)).status_code == 403


def test_the_page_takes_as_many_queries_for_one_design_as_for_nine(owner, django_assert_max_num_queries):
    for _ in range(9):
        make_tray()
    with django_assert_max_num_queries(27):
        owner.get("/numbers/")
