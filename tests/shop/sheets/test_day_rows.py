"""The day sheet, as it is read."""

from datetime import timedelta

import pytest
from django.utils import timezone

from shop.floor import services
from shop.plans.models import Plan
from shop.sheets.day_rows import read_day_sheet
from tests.shop.makers import MONDAY, make_person, make_piece, make_plan, make_planned, make_rest, make_step

pytestmark = pytest.mark.django_db
TODAY = timezone.localdate(MONDAY)
HOUR = timedelta(hours=1)


@pytest.fixture
def plan(db) -> Plan:
    return make_plan()


def test_each_person_has_a_table_in_the_order_of_the_clock(plan):
    ines, tom = make_person("Ines"), make_person("Tom")
    late, early, other = (make_step(make_piece()) for _ in range(3))
    make_planned(plan, late, MONDAY + 2 * HOUR, person=ines)
    make_planned(plan, early, MONDAY, person=ines)
    make_planned(plan, other, MONDAY, person=tom)
    tables = read_day_sheet(plan, TODAY).tables
    assert [(table.person.name, [row.step for row in table.rows]) for table in tables] == [
        ("Ines", [early, late]),
        ("Tom", [other]),
    ]


def test_a_step_of_another_day_is_not_on_the_sheet(plan):
    make_planned(plan, make_step(make_piece()), MONDAY + timedelta(days=1), person=make_person())
    assert read_day_sheet(plan, TODAY).is_empty


def test_a_bar_covers_the_whole_step_in_the_order_of_its_stretches(plan):
    step = make_step(make_piece(), segments=((10, "hands"), (30, "watch")))
    make_planned(plan, step, MONDAY, person=make_person())
    shares = read_day_sheet(plan, TODAY).tables[0].rows[0].shares
    assert [(each.need, each.left, each.width) for each in shares] == [("hands", 0, 25), ("watch", 25, 75)]


@pytest.fixture
def oiled(plan) -> Plan:
    """Oil on Monday, to be wiped 12 to 16 hours later, planned after 14."""
    piece = make_piece()
    oil, wipe = make_step(piece, stage="oil"), make_step(piece, stage="wipe")
    make_planned(plan, oil, MONDAY)
    make_planned(plan, wipe, MONDAY + 14 * HOUR)
    make_rest(plan, oil, wipe, 12 * 60, 16 * 60)
    return plan


def test_what_cures_overnight_is_on_the_sheet_of_the_evening(oiled):
    touch = read_day_sheet(oiled, TODAY).resting[0].touch
    assert touch.kind == "wipe"
    assert touch.closes_at - touch.opens_at == 4 * HOUR


def test_its_window_is_beside_the_step_on_the_sheet_of_the_morning(oiled):
    morning = read_day_sheet(oiled, TODAY + timedelta(days=1))
    window = morning.tables[0].rows[0].window
    assert window.closes_at - window.opens_at == 4 * HOUR
    assert morning.resting == ()


def test_what_was_touched_rests_no_more(plan):
    piece = make_piece()
    oil, wipe = make_step(piece, stage="oil"), make_step(piece, stage="wipe")
    make_planned(plan, oil, MONDAY)
    make_planned(plan, wipe, MONDAY + 13 * HOUR)
    make_rest(plan, oil, wipe, 12 * 60, 16 * 60)
    services.begin(wipe, by=None, at=MONDAY + 13 * HOUR)
    assert read_day_sheet(plan, TODAY).resting == ()


def test_a_glue_up_says_when_the_router_wants_its_panel(plan):
    piece = make_piece()
    glue = make_step(piece, stage="glue")
    make_planned(plan, glue, MONDAY)
    make_planned(plan, make_step(piece, stage="router"), MONDAY + 26 * HOUR)
    glue_up = read_day_sheet(plan, TODAY).glue_ups[0]
    assert (glue_up.row.step, glue_up.wanted_at) == (glue, MONDAY + 26 * HOUR)


def test_without_a_plan_the_sheet_is_empty():
    assert read_day_sheet(None, TODAY).is_empty


def test_fifty_steps_take_no_more_queries_than_five(plan, django_assert_num_queries):
    person = make_person()

    def work(count: int) -> None:
        for _ in range(count):
            piece = make_piece()
            oil, wipe = make_step(piece, stage="glue"), make_step(piece, stage="wipe")
            make_planned(plan, oil, MONDAY, person=person)
            make_planned(plan, wipe, MONDAY + 3 * HOUR, person=person)
            make_rest(plan, oil, wipe, 60)

    work(5)
    with django_assert_num_queries(7):
        read_day_sheet(plan, TODAY)
    work(45)
    with django_assert_num_queries(7):
        assert len(read_day_sheet(plan, TODAY).tables[0].rows) == 100
