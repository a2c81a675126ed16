from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
from django.utils.timezone import now

from shop.orders import services
from shop.orders.models import Customer, Line, Order
from shop.orders.services import Draft
from shop.signals import work_changed
from tests.shop.makers import MONDAY, make_design, make_line, make_piece, make_species, make_step, packed

pytestmark = pytest.mark.django_db


def draft(customer: str = "", **fields) -> Draft:
    order = Order(channel="in person", due_at=now() + timedelta(days=9), placed_at=MONDAY, **fields)
    design = make_design()
    return Draft(order, [Line(design=design, species=make_species(), quantity=2, price=design.price)], customer)


@pytest.fixture
def news(django_capture_on_commit_callbacks):
    """What the rooms above heard while the test did something."""
    heard = []

    def hear(because: str, **_):
        heard.append(because)

    work_changed.connect(hear)

    def after(verb, *args, **kwargs):
        with django_capture_on_commit_callbacks(execute=True):
            verb(*args, **kwargs)
        return heard

    yield after
    work_changed.disconnect(hear)


def test_an_order_is_written_down_with_its_lines_and_its_customer():
    order = services.take_order(draft("Ada Fennimore"))
    assert (order.customer.name, [line.quantity for line in order.lines.all()]) == ("Ada Fennimore", [2])


def test_references_are_the_day_and_a_number():
    assert [services.take_order(draft()).reference for _ in range(3)] == ["1jun-1", "1jun-2", "1jun-3"]


def test_numbers_go_on_when_the_day_comes_round_again():
    services.take_order(draft())
    later = draft()
    later.order.placed_at = MONDAY.replace(year=2027)
    assert services.take_order(later).reference == "1jun-2"


def test_a_number_that_was_brought_in_from_outside_is_passed_over():
    services.take_order(draft(reference="1jun-7"))
    assert services.take_order(draft()).reference == "1jun-8"


def test_a_customer_is_known_again_whatever_the_capitals():
    for name in ("Ada Fennimore", "ada fennimore"):
        services.take_order(draft(name))
    assert Customer.objects.count() == 1


def test_a_form_sent_twice_is_one_order():
    key = uuid4()
    first, second = (services.take_order(draft(form_key=key)) for _ in range(2))
    assert first == second
    assert Order.objects.count() == 1


def test_everybody_above_hears_of_an_order_once_it_is_committed(news):
    assert news(services.take_order, draft()) == ["order 1jun-1 is new"]


def test_a_cancelled_order_is_closed_and_said_so(news):
    order = make_line().order
    assert news(services.cancel, order, at=now()) == [f"order {order} is closed"]
    assert not Order.objects.open().exists()


def test_of_cancel_and_hand_over_at_once_the_first_stands():
    order = make_line().order
    assert services.hand_over(order, at=now())
    assert not services.cancel(order, at=now())


def test_handing_over_what_is_packed_changes_no_plan(news):
    line = make_line()
    packed(make_piece(line))
    assert news(services.hand_over, line.order, at=now()) == []


def test_handing_over_what_is_still_to_be_made_changes_the_plan(news):
    line = make_line()
    make_step(make_piece(line))
    assert news(services.hand_over, line.order, at=now()) == [f"order {line.order} is closed"]


def test_a_closed_order_opens_again(news):
    order = make_line().order
    services.cancel(order, at=now())
    assert news(services.reopen, order)[-1] == f"order {order} is open again"
    assert Order.objects.open().get() == order
    assert not services.reopen(order)


def test_artwork_goes_from_wanted_to_approved():
    line = make_line(artwork="wanted")
    services.set_artwork(line, "approved")
    line.refresh_from_db()
    assert line.get_artwork_display() == "artwork approved"


def test_an_order_adds_up():
    order = make_line(quantity=3, price=Decimal("12.50")).order
    make_line(order=order, price=Decimal("7.25"))
    assert order.total == Decimal("44.75")
