"""The wood page: what to rip for the plan, how pieces lie, what is said of moisture and finish."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils.timezone import now

from planner import PlannerError, WaterClass
from shop.designs.models import Design, Pass
from shop.figures.models import Figures
from shop.floor.models import Step, Tick
from shop.plans.models import Plan
from shop.stations.models import Workshop
from shop.stock.models import Blank, Board, Glue
from shop.wood.models import WoodPlan
from shop.wood.naming import board_names, runs
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
    make_rest,
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
    assert [row["panels"] for row in rip["panels"]] == ["A1 to A3"]
    assert rip["is_proved"]
    assert rip["buy"] == []
    page = owner.get("/wood/").content.decode()
    for said in ("Open 1 board", "ripped to", "bark up", "of the panels becomes pieces", "Corner screws"):
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
    page = owner.get("/wood/").content.decode()
    assert "board feet of 4/4 Walnut" in page
    assert "No. 1 Common" in page


def test_what_no_board_is_thick_enough_for_says_so_and_the_rest_is_worked_out(owner, planned):
    make_board(planned)
    block = make_line(design=make_design("Doorstop", stock_thickness_nm=4 * INCH), species=planned)
    make_planned(Plan.objects.in_force(), make_step(make_piece(block), stage="cut"), now() + timedelta(days=1))
    owner.post("/wood/reckon/", {"days": "7"})
    page = owner.get("/wood/").content.decode()
    assert "1 × Doorstop in Walnut" in page
    assert "thick enough for 4 in" in page
    assert len(WoodPlan.latest().document["rip"]["panels"][0]["numbers"]) == 3


def test_a_design_that_can_not_be_drawn_is_named_and_the_others_lie_on_panels(owner, planned):
    make_board(planned)
    bow = make_design("Bow", shape="free", outline=[[0, 0], [1, 1], [1, 0], [0, 1]])
    line = make_line(design=bow, species=planned)
    make_planned(Plan.objects.in_force(), make_step(make_piece(line), stage="cut"), now() + timedelta(days=1))
    owner.post("/wood/reckon/", {"days": "7"})
    (group,) = WoodPlan.latest().document["nests"]["groups"]
    assert group["pieces"] == 3
    assert "Bow" in group["unplaced"][0]


def test_no_piece_of_a_large_quantity_is_left_out_in_silence(planned):
    make_board(planned, quantity=400)
    line = make_line(design=make_design(), species=planned, quantity=240)
    pieces = [make_piece(line, number) for number in range(1, 241)]
    make_planned(Plan.objects.in_force(), make_step(*pieces, stage="cut"), now() + timedelta(days=1))
    rip = work_out(wanted(), now() + timedelta(days=7)).document["rip"]
    made = len(rip["whole_tags"])
    short = sum(count for name, count, _ in rip["short"] if "Design" in name)
    assert made + short == 240 + 3 - sum(len(row["numbers"]) for row in rip["panels"])


def test_panels_of_one_board_are_not_among_those_to_glue(owner, planned):
    make_board(planned, width_nm=12 * INCH)
    plank = make_line(design=make_design("Plank"), species=planned)
    make_planned(Plan.objects.in_force(), make_step(make_piece(plank), stage="cut"), now() + timedelta(days=1))
    owner.post("/wood/reckon/", {"days": "7"})
    rip = WoodPlan.latest().document["rip"]
    assert [name for _, name in rip["whole"]] == ["Plank in Walnut"]
    assert all("Plank" not in row["name"] for row in rip["panels"])
    assert "Of one board, no glue:" in owner.get("/wood/").content.decode()


def test_the_next_evenings_boards_and_goes_come_first(owner, planned):
    make_board(planned)
    owner.post("/wood/reckon/", {"days": "7"})
    evening = owner.get("/wood/").context["evening"]
    design = wanted()[0].design
    assert [[each.name for each in go] for go in evening.goes] == [[f"A1 {design}", f"A2 {design}", f"A3 {design}"]]
    assert [board["name"] for board in evening.boards] == ["Walnut 96 × 8 × 1, 1 of 4"]
    assert evening.without_wood == []


def test_the_next_evening_says_for_what_no_wood_is_there(owner, planned):
    owner.post("/wood/reckon/", {"days": "7"})
    assert len(owner.get("/wood/").context["evening"].without_wood) == 3


def test_an_evening_goes_by_no_wood_plan_that_no_longer_holds(owner, planned):
    make_board(planned)
    owner.post("/wood/reckon/", {"days": "7"})
    Board.objects.all().delete()
    assert owner.get("/wood/").context["evening"].boards == []


def test_a_wood_plan_holds_for_the_days_it_was_made_for_whatever_days_are_looked_at(owner, planned):
    make_board(planned)
    owner.post("/wood/reckon/", {"days": "7"})
    line = make_line(design=make_design(), species=planned)
    make_planned(Plan.objects.in_force(), make_step(make_piece(line), stage="cut"), now() + timedelta(days=10))
    assert "or figures than now" not in owner.get("/wood/?days=28").content.decode()


def test_tabs_are_drawn_as_many_as_the_design_says(planned):
    make_board(planned)
    design = wanted()[0].design
    Pass.objects.filter(design=design).update(kind=Pass.Kind.PROFILE, tabs=2)
    (group,) = work_out(wanted(), now() + timedelta(days=7)).document["nests"]["groups"]
    assert all(piece["tabs"].count("M") == 2 for panel in group["panels"] for piece in panel["placed"])
    assert group["legend"][0]["tabs"] == "2 tabs"
    assert "rock" in group["legend"][0]["warning"]


def test_a_section_too_short_to_be_ripped_alone_says_so_at_its_board(owner, planned):
    Design.objects.update(length_nm=6 * INCH)
    make_board(planned)
    owner.post("/wood/reckon/", {"days": "7"})
    assert "A section here is under 12 in long" in owner.get("/wood/").content.decode()


@pytest.mark.parametrize(("water_class", "said"), [(None, "isn’t written down"), (2, "is D2"), (3, None), (4, None)])
def test_glue_that_is_not_known_to_stand_washing_is_told_at_the_glue_up(owner, planned, water_class, said):
    Glue.objects.update(water_class=water_class)
    make_board(planned)
    owner.post("/wood/reckon/", {"days": "7"})
    page = owner.get("/wood/").content.decode()
    assert ("wants D3 or better" in page) == (said is not None)
    assert said is None or said in page


def test_the_pressure_of_a_wood_is_told_by_its_hardness(owner, planned):
    make_board(planned)
    owner.post("/wood/reckon/", {"days": "7"})
    assert "Walnut (medium): 150 to 200 psi" in owner.get("/wood/").content.decode()


def test_the_classes_of_glue_are_those_of_the_planner():
    assert [(each.name, each.value) for each in Glue.Water] == [(each.name, each.value) for each in WaterClass]


def test_boards_are_named_by_wood_and_size_and_lots_as_large_by_what_the_meter_says(planned):
    other = make_board(planned, width_nm=6 * INCH)
    dry, wet = make_board(planned, moisture_percent="7.0"), make_board(planned, moisture_percent="9.5")
    again = make_board(planned, moisture_percent="9.5")
    names = board_names(Board.objects.select_related("species"))
    assert names[other.pk] == "Walnut 96 × 6 × 1"
    assert names[dry.pk] == "Walnut 96 × 8 × 1 at 7.0 %"
    assert [names[wet.pk], names[again.pk]] == [f"Walnut 96 × 8 × 1 at 9.5 %, lot {n}" for n in (1, 2)]


@pytest.mark.parametrize(
    ("numbers", "said"), [([1], "A1"), ([1, 2], "A1, A2"), ([3, 1, 2], "A1 to A3"), ([1, 2, 3, 7], "A1 to A3, A7")]
)
def test_panels_in_a_row_are_said_in_few_words(numbers, said):
    assert runs("A", numbers) == said


def test_boards_picked_out_are_tallied_as_the_yard_does(owner):
    """NHLA rules: 6 1/4 × 8 is 4 square feet; Wengert: of two exact halves one goes up and one down."""
    wood = make_species("Cherry")
    said = {"tally_wood": wood.pk, "quarter": "8/4", "boards": "6 1/4 × 8\n9 x 10\n\n9 by 10"}
    page = owner.get("/wood/", said).content.decode()
    assert "38 board feet, about $304.00" in page
    assert "4, 8, 7" in page


@pytest.mark.parametrize("line", ["9", "9 × ten", "0 × 8", "6 × 8 × 1"])
def test_a_board_that_can_not_be_read_is_told_with_its_line(owner, line):
    wood = make_species("Cherry")
    said = {"tally_wood": wood.pk, "quarter": "4/4", "boards": f"6 × 8\n{line}"}
    assert f"Line 2, “{line}”" in owner.get("/wood/", said).content.decode()


def test_blanks_far_from_the_shops_moisture_rest_too(owner):
    size = {"length_nm": 16 * INCH, "width_nm": 10 * INCH, "thickness_nm": INCH}
    Blank.objects.create(species=make_species("Oak"), moisture_percent="12.5", **size)
    assert "The blank of Oak 16 × 10 is at 12.5 %" in owner.get("/wood/").content.decode()


def test_panels_just_glued_are_said_to_rest(owner, planned):
    plan, piece = Plan.objects.in_force(), make_piece(make_line(species=planned))
    glue = make_step(piece, stage="glue", what="Glue up 1 tray", begun_at=now() - timedelta(hours=2))
    Tick.objects.create(step=glue, at=now() - timedelta(hours=1), minutes=60)
    make_rest(plan, glue, make_step(piece, stage="flatten"), 18 * 60)
    assert "Glue up 1 tray: glued, rests until" in owner.get("/wood/").content.decode()
    Tick.objects.update(at=now() - timedelta(hours=19))
    Step.objects.filter(pk=glue.pk).update(begun_at=now() - timedelta(hours=20))
    assert "Glue up 1 tray: glued" not in owner.get("/wood/").content.decode()


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
    assert "is at 12.5 %" in owner.get("/wood/").content.decode().split('id="saw"')[1].split("Gluing up")[0]


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
