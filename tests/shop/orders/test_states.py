from datetime import timedelta

import pytest
from django.utils.timezone import now

from shop.orders.fair_stock import fair_stocks
from shop.orders.models import Fair, Order
from shop.orders.pieces import pieces_of
from shop.plans.models import Expectation
from tests.shop.makers import make_fair, make_line, make_order, make_piece, make_plan, make_planned, make_step, packed

pytestmark = pytest.mark.django_db
SOON, LATER = timedelta(days=5), timedelta(days=9)


def due_in(time: timedelta, **fields) -> Order:
    order = make_order(due_at=now() + time, **fields)
    make_line(order=order)
    return order


def expect(order: Order, plan, in_time: timedelta | None) -> Order:
    Expectation.objects.create(plan=plan, order=order, ready_at=in_time and now() + in_time)
    return order


def states() -> list[str]:
    return [order.state.label for order in Order.objects.with_state().worst_first()]


def test_trouble_comes_first():
    plan = make_plan()
    expect(due_in(LATER), plan, SOON)
    expect(due_in(SOON), plan, LATER)
    expect(due_in(SOON), plan, None)
    due_in(SOON)
    packed(make_piece(make_line(order=make_order(due_at=now() + SOON))))
    due_in(SOON, cancelled_at=now())
    due_in(SOON, handed_over_at=now())
    expected = ["can't be planned", "late", "not planned yet", "in time", "ready", "handed over", "cancelled"]
    assert states() == expected


def test_what_is_past_its_due_time_is_late_without_any_plan():
    due_in(-SOON)
    assert states() == ["late"]


def test_an_old_plan_says_nothing():
    old = make_plan(is_in_force=False)
    expect(due_in(SOON), old, LATER)
    assert states() == ["not planned yet"]


def test_late_is_said_in_minutes():
    expect(due_in(SOON), make_plan(), LATER)
    assert Order.objects.with_state().get().late_minutes == pytest.approx(4 * 24 * 60, abs=1)


def test_a_spoilt_piece_is_not_ready_though_it_was_packed():
    line = make_line()
    piece = packed(make_piece(line))
    piece.spoilt_at = now()
    piece.save()
    order = Order.objects.with_progress().get()
    assert (order.pieces_ordered, order.pieces_ready, order.pieces_left) == (1, 0, 1)


def test_each_piece_says_its_next_step():
    line = make_line(quantity=4)
    plan = make_plan()
    waiting, going, ready, _ = (make_piece(line, n) for n in range(1, 5))
    late, early = make_step(waiting, what="oil it"), make_step(waiting, what="sand it")
    for step, hours in ((late, 9), (early, 3)):
        make_planned(plan, step, now() + timedelta(hours=hours))
    make_step(going, what="paint it", begun_at=now())
    packed(ready)
    says = [piece.says for piece in pieces_of(line.order)[line.pk]]
    assert says[0].startswith("next, ")
    assert says[0].endswith(": sand it")
    assert says[1:] == ["under way: paint it", "packed", "waits for the next plan"]


def test_a_dropped_step_is_not_the_next_one():
    line = make_line()
    make_step(make_piece(line), dropped_at=now())
    assert [piece.says for piece in pieces_of(line.order)[line.pk]] == ["waits for the next plan"]


def test_a_fair_counts_what_is_ready_on_the_way_and_late():
    opens = now() + SOON
    fair, plan = make_fair(opens_at=opens), make_plan()
    facts = {"channel": "fair", "fair": fair, "due_at": opens}
    on_the_way, late = (make_order(**facts) for _ in range(2))
    packed(make_piece(make_line(order=on_the_way, quantity=3)))
    make_line(order=late, quantity=4)
    expect(on_the_way, plan, SOON - timedelta(hours=2))
    expect(late, plan, LATER)
    total = fair_stocks([fair])[0].total
    assert (total.ready, total.on_the_way, total.late, total.ordered) == (1, 2, 4, 7)


def test_fairs_are_read_in_as_many_queries_for_one_as_for_many(django_assert_num_queries):
    for _ in range(6):
        fair = make_fair(opens_at=now() + SOON)
        make_line(order=make_order(channel="fair", fair=fair, due_at=fair.opens_at))
    with django_assert_num_queries(3):
        fair_stocks(list(Fair.objects.all()[:1]))
    with django_assert_num_queries(3):
        fair_stocks(list(Fair.objects.all()))


def test_what_the_plan_expected_to_be_ready_by_now_is_not_called_in_time():
    expect(due_in(SOON), make_plan(), -timedelta(minutes=5))
    assert states() == ["behind the plan"]
