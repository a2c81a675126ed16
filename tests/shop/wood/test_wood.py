"""The wood page: what to rip for the plan, how pieces lie, what is said of moisture and finish."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils.timezone import now

from planner import PlannerError
from shop.figures.models import Figures
from shop.plans.models import Plan
from shop.stations.models import Workshop
from shop.stock.models import Board
from shop.wood.models import WoodPlan
from shop.wood.services import work_out
from shop.wood.wanted import wanted_until
from tests.shop.makers import (
    INCH,
    make_board,
    make_design,
    make_finish,
    make_line,
    make_piece,
    make_plan,
    make_planned,
    make_species,
    make_station,
    make_step,
    make_workplaces,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def planned():
    """Three trays in walnut whose strips are ripped tomorrow."""
    make_workplaces()
    make_station()
    walnut = make_species("Walnut")
    line = make_line(design=make_design(is_glued=True), species=walnut, quantity=3)
    pieces = [make_piece(line, number) for number in (1, 2, 3)]
    make_planned(make_plan(), make_step(*pieces, stage="rip"), now() + timedelta(days=1))
    return walnut


def wanted():
    return wanted_until(Plan.objects.in_force(), now() + timedelta(days=7))


def test_what_the_plan_begins_is_ripped_from_boards_in_stock(owner, planned):
    make_board(planned)
    assert owner.post("/wood/reckon/", {"days": "7"}).status_code == 302
    rip = WoodPlan.latest().document["rip"]
    assert len(rip["panels"]) == 3
    assert rip["is_proved"]
    assert rip["buy"] == []
    page = owner.get("/wood/").content.decode()
    for said in ("Boards to open", "ripped to", "bark up", "of the panels becomes pieces", "Corner screws"):
        assert said in page


def test_glue_and_clamps_say_how_many_panels_go_at_once(owner, planned):
    Workshop.get()
    Workshop.objects.update(close_minutes=4)
    make_board(planned)
    owner.post("/wood/reckon/", {"days": "7"})
    page = owner.get("/wood/").content.decode()
    assert "2 panels at 4 minutes each close within its 10 open minutes" in page
    assert "two hours of an evening are enough for" in page


def test_what_stock_is_short_of_is_to_be_bought_in_quarters(owner, planned):
    owner.post("/wood/reckon/", {"days": "7"})
    assert "board feet of 4/4 Walnut" in owner.get("/wood/").content.decode()


def test_wood_worked_out_for_other_pieces_says_so(owner, planned):
    make_board(planned)
    work_out(wanted(), now() + timedelta(days=7))
    line = make_line(design=make_design(), species=planned)
    make_planned(Plan.objects.in_force(), make_step(make_piece(line), stage="cut"), now() + timedelta(days=1))
    assert "for other pieces, boards or figures than now" in owner.get("/wood/").content.decode()


@pytest.mark.parametrize(
    "change", [lambda: Board.objects.all().delete(), lambda: Figures.objects.update(kerf_nm=INCH // 4)]
)
def test_wood_worked_out_from_other_boards_or_figures_says_so(owner, planned, change):
    make_board(planned)
    Figures.get()
    work_out(wanted(), now() + timedelta(days=7))
    assert "or figures than now" not in owner.get("/wood/").content.decode()
    change()
    assert "or figures than now" in owner.get("/wood/").content.decode()


def test_what_can_not_be_worked_out_leaves_what_was(planned):
    make_board(planned)
    before = work_out(wanted(), now() + timedelta(days=7))
    Figures.get()
    Figures.objects.update(ripped_above_nm=INCH)  # narrower than the narrowest strip
    with pytest.raises(PlannerError, match="narrowest strip"):
        work_out(wanted(), now() + timedelta(days=7))
    assert WoodPlan.latest() == before


def test_a_board_that_must_rest_says_so_where_it_is_sawn(owner, planned):
    make_board(planned, moisture_percent="12.5")
    owner.post("/wood/reckon/", {"days": "7"})
    assert "is at 12.5 %" in owner.get("/wood/").content.decode().split('id="rip"')[1].split("Gluing up")[0]


def test_boards_far_from_the_shops_moisture_are_told(owner):
    make_board(make_species("Oak"), moisture_percent="12.5")
    assert "is at 12.5 %" in owner.get("/wood/").content.decode()


@pytest.mark.parametrize(
    ("query", "said"),
    [
        ("width=10&from_f=70&from_humidity=50&to_f=70&to_humidity=20", "narrower"),
        ("width=ten&from_f=70&from_humidity=50&to_f=70&to_humidity=20", "is no length"),
        ("width=10&from_f=500&from_humidity=50&to_f=70&to_humidity=20", "less than or equal to 130"),
        ("width=0&from_f=70&from_humidity=50&to_f=70&to_humidity=20", "more than 0"),
        ("days=banana", "next 7 days"),
    ],
)
def test_movement_is_reckoned_or_the_mistake_is_told(owner, query, said):
    wood = make_species("Cherry")
    assert said in owner.get(f"/wood/?wood={wood.pk}&{query}").content.decode()


def test_finish_for_open_orders_is_summed_and_what_is_short_told(owner):
    finish = make_finish(in_stock_ml=5, name="Linseed oil")
    make_line(design=make_design(finish=finish), quantity=4)
    page = owner.get("/wood/").content.decode()
    assert "Linseed oil" in page
    assert "ml short" in page


def test_an_empty_workshop_has_a_page(owner):
    assert owner.get("/wood/").status_code == 200
    assert owner.post("/wood/reckon/", {}).status_code == 302


def test_wood_is_the_owners(partner):
    assert partner.get("/wood/").status_code == 403
    assert partner.post("/wood/reckon/").status_code == 403
