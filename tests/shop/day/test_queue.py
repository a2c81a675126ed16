"""The router's queue of a day, as it is read."""

from datetime import timedelta

import pytest
from django.utils import timezone

from shop.day.queue import read_next_router_day, read_router_day
from shop.floor import services
from shop.plans.models import Plan
from shop.stock.models import Bit, Blank
from tests.shop.makers import (
    INCH,
    MONDAY,
    make_bit,
    make_line,
    make_piece,
    make_plan,
    make_planned,
    make_rest,
    make_species,
    make_station,
    make_step,
)

pytestmark = pytest.mark.django_db
BOWL, DOWN_CUT = "3/4 bowl", "1/4 down-cut"
TODAY = timezone.localdate(MONDAY)


def make_load(plan: Plan, *, at=MONDAY, pieces: int = 2, bits=(BOWL, DOWN_CUT), changeover: int = 0, **about):
    """A bed load of so many pieces of one line, side by side."""
    line = make_line(quantity=pieces)
    made = [make_piece(line, number) for number in range(1, pieces + 1)]
    layout = [{"piece": f"p{each.pk}", "x_in": 13 * n, "y_in": 1, "turned": False} for n, each in enumerate(made)]
    facts = {"bits": list(bits), "bit_minutes": [[bit, 8] for bit in bits], "thickness_in": 0.75, "layout": layout}
    step = make_step(*made, stage="router", segments=((10, "hands"), (22, "watch"), (3, "hands")), about=facts | about)
    router = plan.router = getattr(plan, "router", None) or make_station()
    return make_planned(plan, step, at, router, changeover_minutes=changeover)


@pytest.fixture
def plan(db) -> Plan:
    make_bit(BOWL)
    make_bit(DOWN_CUT, Bit.Shape.DOWN_CUT, INCH // 4)
    return make_plan()


def test_loads_stand_in_the_order_of_the_clock(plan):
    later = make_load(plan, at=MONDAY + timedelta(hours=2))
    first = make_load(plan)
    assert [load.step for load in read_router_day(plan, TODAY).loads] == [first.step, later.step]


def test_a_bit_that_is_in_the_spindle_needs_no_change(plan):
    make_load(plan)
    assert [turn.is_changed for turn in read_router_day(plan, TODAY).loads[0].turns] == [False, True]


def test_a_changeover_before_the_load_is_a_change_of_its_first_bit(plan):
    make_load(plan, changeover=4)
    queue = read_router_day(plan, TODAY)
    assert queue.changes == 2
    assert queue.loads[0].change_at == MONDAY - timedelta(minutes=4)


def test_minutes_of_hands_and_of_cutting_are_told_apart(plan):
    make_load(plan)
    load = read_router_day(plan, TODAY).loads[0]
    assert (load.hands_minutes, load.cutting_minutes) == (13, 22)


def test_each_bit_says_its_own_minutes_and_silhouette(plan):
    make_load(plan)
    turns = read_router_day(plan, TODAY).loads[0].turns
    assert [(turn.key.shape, turn.minutes) for turn in turns] == [("bowl", 8), ("down-cut", 8)]


def test_list_and_drawing_number_the_pieces_alike(plan):
    make_load(plan, pieces=3)
    load = read_router_day(plan, TODAY).loads[0]
    assert {(each.number, each.piece.pk) for each in load.pieces} == {
        (each.number, each.piece) for each in load.bed.pieces
    }


def test_pieces_of_one_line_are_told_together_by_their_numbers(plan):
    make_load(plan, pieces=3)
    assert [group.numbers for group in read_router_day(plan, TODAY).loads[0].groups] == ["1–3"]


def test_a_load_says_which_blanks_it_takes_from_stock(plan):
    blank = Blank.objects.create(
        species=make_species("Maple"), length_nm=16 * INCH, width_nm=10 * INCH, thickness_nm=INCH * 3 // 4
    )
    make_load(plan, blanks={"p1": str(blank.pk), "p2": str(blank.pk)})
    assert read_router_day(plan, TODAY).loads[0].blanks == ((blank, 2),)


def test_a_load_says_since_when_its_panels_are_flat(plan):
    load = make_load(plan)
    flatten = make_step(*load.step.pieces.all(), stage="flatten")
    make_planned(plan, flatten, MONDAY - timedelta(hours=3))
    services.tick(flatten, by=None, at=MONDAY - timedelta(hours=2))
    before = read_router_day(plan, TODAY).loads[0].befores[0]
    assert before.is_done
    assert before.opens_at == MONDAY - timedelta(hours=2)


def test_what_must_rest_before_the_load_is_ready_only_when_it_has_rested(plan):
    load = make_load(plan)
    unclamp = make_step(*load.step.pieces.all(), stage="unclamp")
    make_planned(plan, unclamp, MONDAY - timedelta(hours=20))
    make_rest(plan, unclamp, load.step, 18 * 60)
    before = read_router_day(plan, TODAY).loads[0].befores[0]
    assert not before.is_done
    assert before.opens_at == MONDAY - timedelta(hours=2) + timedelta(minutes=20)


def test_without_a_day_the_next_one_with_loads_is_meant(plan):
    make_load(plan)
    make_load(plan, at=MONDAY + timedelta(days=4))
    queue = read_next_router_day(plan, TODAY)
    assert queue.day == TODAY + timedelta(days=4)
    assert queue.days == (TODAY, TODAY + timedelta(days=4))


def test_where_nothing_is_planned_the_queue_is_empty_and_not_an_error():
    assert read_next_router_day(None, TODAY).loads == ()


def test_fifty_loads_take_no_more_queries_than_five(plan, django_assert_num_queries):
    for _ in range(5):
        make_load(plan)
    with django_assert_num_queries(8):
        read_router_day(plan, TODAY)
    for _ in range(45):
        make_load(plan)
    with django_assert_num_queries(8):
        assert len(read_router_day(plan, TODAY).loads) == 50
