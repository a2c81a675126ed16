"""Designs on their pages: reckoned from geometry, changed, given an outline; the plan follows."""

from __future__ import annotations

from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.utils.timezone import now

from shop.designs import shapes
from shop.designs.costing import Sold, board_feet
from shop.designs.minutes import reckon
from shop.designs.models import Design, Detail
from shop.figures.models import Figures
from shop.plans.handoff import read_shop
from shop.stations.models import Station
from shop.stock.models import Bit
from tests.shop.makers import (
    INCH,
    make_bit,
    make_design,
    make_finish,
    make_line,
    make_person,
    make_species,
    make_station,
    make_tray,
    make_workplaces,
    minutes_of,
)

pytestmark = pytest.mark.django_db
SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="12in" height="8in" viewBox="0 0 12 8">{}</svg>'
TRAY = '<rect width="12" height="8" rx="1"/><rect x="1" y="1" width="10" height="6" rx="0.5"/>'


def work_form(design: Design, **changes: object) -> dict:
    """The form of a design's passes as its page has it, with some fields changed."""
    rows = list(design.passes.all())
    form = {
        "pass-TOTAL_FORMS": len(rows),
        "pass-INITIAL_FORMS": len(rows),
        "detail-TOTAL_FORMS": 0,
        "detail-INITIAL_FORMS": 0,
    }
    for n, row in enumerate(rows):
        said = {
            "id": row.pk,
            "kind": row.kind,
            "bit": row.bit_id,
            "step_over_percent": row.step_over_percent or "",
            "tabs": row.tabs,
            "minutes": row.minutes,
        }
        form |= {f"pass-{n}-{name}": value for name, value in said.items()}
    return form | changes


def upload(client: Client, design: Design, data: bytes):
    return client.post(f"/designs/{design.pk}/outline/", {"drawing": SimpleUploadedFile("outline.svg", data)})


def test_a_smaller_step_over_takes_longer_and_the_next_plan_knows(owner):
    make_workplaces()
    make_person()
    design = make_tray()
    line = make_line(design=design)
    before = minutes_of(design)
    owner.post(f"/designs/{design.pk}/work/", work_form(design, **{"pass-1-step_over_percent": 5}))
    after = minutes_of(design)
    assert after[1] > before[1] * Decimal("1.7")
    (step,) = [each for each in read_shop(now()).problem.steps if each.about["kind"] == "router"]
    cutting = sum(segment.minutes for segment in step.segments if segment.need == "watch")
    assert cutting >= sum(after)
    assert line.quantity == 1


def test_minutes_by_hand_stay_as_they_are(owner):
    design = make_tray()
    form = work_form(design, **{"pass-0-by_hand": "on", "pass-0-minutes": "9.5"})
    owner.post(f"/designs/{design.pk}/work/", form)
    assert minutes_of(design)[0] == Decimal("9.5")
    reckon(design)
    assert minutes_of(design)[0] == Decimal("9.5")


def test_a_pass_that_can_not_be_cut_is_told_and_nothing_changes(owner):
    design = make_tray()
    before = minutes_of(design)
    large = make_bit(diameter_nm=9 * INCH)
    page = owner.post(f"/designs/{design.pk}/work/", work_form(design, **{"pass-0-bit": large.pk}))
    assert page.status_code == 422
    assert "in, 10.50 × 6.50 in; take a smaller one." in page.content.decode()
    assert minutes_of(design) == before


def test_a_laser_takes_as_long_as_its_engraving(owner):
    design = make_tray()
    form = work_form(design) | {
        "detail-TOTAL_FORMS": 1,
        "detail-0-kind": "laser",
        "detail-0-laser_length_nm": "6",
        "detail-0-laser_width_nm": "4",
        "detail-0-laser_lines_per_inch": "200",
    }
    assert owner.post(f"/designs/{design.pk}/work/", form).status_code == 302
    detail = Detail.objects.get()
    assert detail.minutes >= 6 * 4 * 200 / 12 / 60


def test_the_page_says_minutes_advice_price_and_cautions(owner):
    design = make_tray(finish=make_finish())
    make_species("Walnut")
    page = owner.get(f"/designs/{design.pk}/").content.decode()
    for said in (
        "takes least in all",
        "At $60.00 online it pays",
        "Stay within earshot",
        "Oily rags",
        "fully cured about 30 days",
        "Likely to cup: 0.35 in floor",
    ):
        assert said in page


def test_findings_are_drawn_and_easing_mends_them(owner):
    design = make_design(passes=0, corner_radius_nm=0)
    assert "is tighter than 3/8 in" in owner.get(f"/designs/{design.pk}/").content.decode()
    owner.post(f"/designs/{design.pk}/ease/")
    design.refresh_from_db()
    assert design.shape == Design.Shape.FREE
    assert "Nothing is wrong with it" in owner.get(f"/designs/{design.pk}/").content.decode()


def test_a_drawing_is_shown_before_it_is_kept(owner):
    design = make_tray()
    page = upload(owner, design, SVG.format(TRAY).encode())
    said = page.content.decode()
    assert "12.00 × 8.00 in" in said
    assert Design.objects.get().shape == Design.Shape.RECTANGLE
    sealed = said.split('name="drawing" value="')[1].split('"')[0]
    owner.post(f"/designs/{design.pk}/outline/keep/", {"drawing": sealed, "length": "15", "pocket_depth": "3/8"})
    design.refresh_from_db()
    assert (design.shape, design.length_nm, design.width_nm) == (Design.Shape.FREE, 15 * INCH, 10 * INCH)
    assert len(design.pockets) == 1


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"\x00\x01", "no SVG that can be read"),
        (SVG.format("<script>1</script>").encode(), "carries a script"),
        (b'<!DOCTYPE svg [<!ENTITY a "b">]><svg xmlns="http://www.w3.org/2000/svg">&a;</svg>', "document type"),
        (SVG.format('<path d="M0 0 L4 4 L4 0 L0 4 Z"/>').encode(), "crosses or touches itself"),
        (SVG.format('<path d="M0 0 L4 0 L4 4"/>').encode(), "is not closed"),
        (SVG.format('<rect width="1e400" height="1"/>').encode(), "larger than any workshop"),
        (SVG.format(" " * 10_000_000).encode(), "10.0 MB"),
        (b"", "empty"),
    ],
    ids=["bytes", "script", "entity", "crossing", "open", "giant", "10 MB", "empty"],
)
def test_a_hostile_or_broken_drawing_gives_one_sentence_and_changes_nothing(owner, data, said):
    design = make_tray()
    before = minutes_of(design)
    page = upload(owner, design, data)
    assert page.status_code == 422
    assert said in page.content.decode()
    assert (Design.objects.get().outline, minutes_of(design)) == ([], before)


def test_a_rim_is_grown_outward_from_a_drawn_pocket(owner):
    design = make_tray()
    page = upload(owner, design, SVG.format('<ellipse cx="6" cy="4" rx="5" ry="3"/>').encode()).content.decode()
    form = {"drawing": page.split('name="drawing" value="')[1].split('"')[0], "length": "10", "rim": "3/4"}
    assert "say how deep that is" in owner.post(f"/designs/{design.pk}/outline/keep/", form).content.decode()
    owner.post(f"/designs/{design.pk}/outline/keep/", form | {"pocket_depth": "3/8"})
    design.refresh_from_db()
    assert design.length_nm == pytest.approx(11.5 * INCH, rel=1e-3)
    assert design.width_nm == pytest.approx(7.5 * INCH, rel=1e-3)
    (pocket,) = shapes.pockets(design)
    assert pocket.distance(shapes.outline(design).exterior) == pytest.approx(0.75, abs=0.003)


def test_a_pocket_deeper_than_the_stock_is_told_and_nothing_is_kept(owner):
    design = make_tray()
    sealed = upload(owner, design, SVG.format(TRAY).encode()).content.decode().split('name="drawing" value="')[1]
    form = {"drawing": sealed.split('"')[0], "length": "15", "pocket_depth": "3"}
    page = owner.post(f"/designs/{design.pk}/outline/keep/", form)
    assert page.status_code == 422
    assert "as deep as the stock is thick" in page.content.decode()
    assert Design.objects.get().shape == Design.Shape.RECTANGLE


@pytest.mark.parametrize(("step_over", "said"), [("0", "1 to 100 %"), ("150", "1 to 100 %"), ("x", "whole number")])
def test_a_step_over_that_is_none_is_told(owner, step_over, said):
    design = make_tray()
    page = owner.post(f"/designs/{design.pk}/work/", work_form(design, **{"pass-0-step_over_percent": step_over}))
    assert page.status_code == 422
    assert said in page.content.decode()


def test_half_a_form_keeps_nothing(owner):
    design = make_tray()
    assert owner.post(f"/designs/{design.pk}/work/", {"pass-0-kind": "pocket"}).status_code == 422
    assert len(minutes_of(design)) == 3


def test_a_seal_that_is_not_ours_is_refused(owner):
    design = make_tray()
    owner.post(f"/designs/{design.pk}/outline/keep/", {"drawing": "made:up", "length": "5"})
    assert Design.objects.get().shape == Design.Shape.RECTANGLE


def test_a_new_design_is_written_down(owner):
    form = {
        "name": "Shell dish",
        "shape": "oval",
        "length_nm": "9",
        "width_nm": "6 1/2",
        "stock_thickness_nm": "1",
        "turns": "half",
        "sanding_minutes": "6",
        "price": "44",
        "is_offered": "on",
    }
    assert owner.post("/designs/new/", form).status_code == 302
    assert Design.objects.get(name="Shell dish").width_nm == 165_100_000


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"length_nm": "0"}, "more than 0 and at most 10 feet"),
        ({"length_nm": "banana"}, "is no length"),
        ({"pocket_depth_nm": "2", "rim_nm": "1/2"}, "as deep as the stock is thick"),
        ({"pocket_depth_nm": "1/4"}, "needs the width of the rim"),
        ({"shape": "polygon", "sides": "400"}, "3 to 24 corners"),
        ({"shape": "polygon", "corner_radius_nm": "30"}, "leave nothing of the polygon"),
    ],
)
def test_a_design_that_makes_no_sense_is_told_and_not_kept(owner, change, said):
    form = {"name": "Odd", "shape": "oval", "length_nm": "9", "width_nm": "6", "stock_thickness_nm": "3/4"}
    form |= {"turns": "half", "sanding_minutes": "6", "price": "44"}
    page = owner.post("/designs/new/", form | change)
    assert page.status_code == 422
    assert said in page.content.decode()
    assert not Design.objects.exists()


@pytest.mark.parametrize("query", ["", "?wood=x&batch=-3", "?batch=99999999999999", "?wood=1&batch=20"])
def test_a_design_without_anything_still_has_a_page(owner, query):
    design = make_design(passes=0)
    assert owner.get(f"/designs/{design.pk}/{query}").status_code == 200


@pytest.mark.parametrize("page", ["", "new/", "{}/", "{}/change/", "{}/work/", "{}/outline/"])
def test_designs_are_the_owners(partner, page):
    assert partner.get(f"/designs/{page}".format(make_design().pk)).status_code == 403


def test_the_list_takes_as_many_queries_for_one_as_for_nine(owner, django_assert_max_num_queries):
    for _ in range(9):
        make_tray()
    with django_assert_max_num_queries(9):
        assert owner.get("/designs/").content.decode().count("from above") == 9


def test_the_routers_acceleration_counts(owner):
    make_station()
    slow = make_tray()
    before = sum(minutes_of(slow))

    Station.objects.update(acceleration_in_per_s2=2)
    reckon(slow)
    assert sum(minutes_of(slow)) > before


def test_a_bit_that_is_fed_faster_makes_its_passes_shorter(owner, django_capture_on_commit_callbacks):
    design = make_tray()
    before = minutes_of(design)
    bit = design.passes.first().bit
    form = {field.name: getattr(bit, field.name) for field in Bit._meta.fields if getattr(bit, field.name) is not None}
    form |= {"diameter_nm": "3/4", "depth_per_pass_nm": "1/4", "feed_in_per_minute": "300"}
    owner.person.user.is_superuser = owner.person.user.is_staff = True
    owner.person.user.save()
    with django_capture_on_commit_callbacks(execute=True):
        assert owner.post(f"/admin/stock/bit/{bit.pk}/change/", form).status_code == 302
    assert minutes_of(design)[0] < before[0]


def test_a_bit_that_goes_down_a_slope_takes_its_time():
    design = make_tray()
    before = minutes_of(design)[0]
    Bit.objects.filter(pk=design.passes.first().bit_id).update(ramp_degrees=1)
    reckon(design)
    assert minutes_of(design)[0] > before


def test_faults_of_a_kind_are_in_one_drawing_and_each_is_said(owner):
    teeth = [[0.1 + 0.02 * n, 0.5 + 0.5 * (n % 2)] for n in range(40)]
    comb = make_design(shape="free", outline=[*teeth, [0.9, 0], [0.1, 0]])
    page = owner.get(f"/designs/{comb.pk}/").content.decode()
    assert page.count('class="said"') == 2
    assert "more like this</summary>" in page
    assert page.count("a sanding pad doesn’t follow it") + page.count("a sanding pad doesn&#x27;t follow it") > 30


def test_a_piece_pays_the_fees_of_where_it_is_sold_and_no_others(owner):
    Figures.objects.update_or_create(pk=1, defaults={"fee_percent": 50, "fee_dollars": 0, "fair_dollars_a_piece": 7})
    address = f"/designs/{make_tray(price=Decimal(400)).pk}/"
    make_species("Walnut")
    online, fair = (owner.get(f"{address}?sold={each}").context["about"].price for each in Sold)
    table = {"its share of the fair's table"}
    assert table == {line.name for line in fair.sheet.lines} - {line.name for line in online.sheet.lines}
    assert fair.sheet.dollars == online.sheet.dollars + 7
    assert online.pay.income_dollars * 2 == pytest.approx(fair.pay.income_dollars, abs=Decimal("0.02"))
    assert dict(online.floors) == {Sold.ONLINE: online.floor, Sold.FAIR: fair.floor}


def test_the_floor_is_what_the_deepest_pass_leaves(owner):
    design = make_tray()
    make_species("Walnut")
    assert "0.35 in floor" in owner.get(f"/designs/{design.pk}/").content.decode()
    design.passes.filter(kind="clean-up").update(depth_nm=INCH * 6 // 10)
    assert "0.15 in floor" in owner.get(f"/designs/{design.pk}/").content.decode()


@pytest.mark.parametrize("page", ["change", "work"])
def test_a_form_sent_back_as_it_came_changes_nothing(owner, page):
    design = make_tray(length_nm=240_000_000, width_nm=170_123_456, pocket_depth_nm=INCH * 2 // 5)
    address = f"/designs/{design.pk}/{page}/"
    asked = owner.get(address)
    forms = [asked.context["form"]] if page == "change" else [asked.context["passes"], asked.context["details"]]
    fields = [field for form in forms for field in getattr(form, "forms", [form]) for field in field]
    said = {field.html_name: "" if field.value() is None else field.value() for field in fields}
    for form in forms:
        if hasattr(form, "management_form"):
            said |= {field.html_name: field.value() for field in form.management_form}
    before = Design.objects.filter(pk=design.pk).values().get()
    said = {name: value for name, value in said.items() if value is not False}
    assert owner.post(address, said).status_code == 302
    assert Design.objects.filter(pk=design.pk).values().get() == before


def test_easing_leaves_pockets_and_lines_where_they_are(owner):
    diamond = [[0.5, 0], [1, 0.5], [0.5, 1], [0, 0.5]]
    pocket = [[[0.4, 0.4], [0.6, 0.4], [0.6, 0.6], [0.4, 0.6]]]
    design = make_design(
        shape="free", outline=diamond, pockets=[pocket], pocket_depth_nm=INCH // 4, carving=[[[0.4, 0.5], [0.6, 0.5]]]
    )
    owner.post(f"/designs/{design.pk}/ease/")
    after = Design.objects.get(pk=design.pk)
    assert after.length_nm < design.length_nm
    assert sum(each.area for each in shapes.pockets(after)) == pytest.approx(2.4 * 1.6, rel=1e-3)
    assert shapes.carving(after)[0].length == pytest.approx(2.4, rel=1e-3)


def test_easing_that_would_take_a_handle_off_is_refused(owner):
    outline = [[0, 0], [0.6, 0], [0.6, 0.47], [1, 0.47], [1, 0.53], [0.6, 0.53], [0.6, 1], [0, 1]]
    design = make_design(shape="free", outline=outline)
    page = owner.post(f"/designs/{design.pk}/ease/", follow=True).content.decode()
    assert "would be lost" in page
    assert Design.objects.get(pk=design.pk).outline == outline


@pytest.mark.parametrize(
    ("page", "change", "said"),
    [
        ("change", {"price": "-1"}, "A price is 0 or more."),
        ("change", {"stock_thickness_nm": "0"}, "are more than 0."),
    ],
)
def test_what_no_design_can_be_is_told_in_plain_words(owner, page, change, said):
    design = make_tray()
    form = owner.get(f"/designs/{design.pk}/{page}/").context["form"]
    asked = {field.html_name: "" if field.value() is None else field.value() for field in form}
    asked = {name: value for name, value in asked.items() if value is not False} | change
    page = owner.post(f"/designs/{design.pk}/{page}/", asked)
    assert page.status_code == 422
    assert said in page.content.decode()
    assert "Constraint" not in page.content.decode()


def test_a_form_of_very_many_rows_is_refused_at_once(owner):
    design = make_tray()
    page = owner.post(f"/designs/{design.pk}/work/", work_form(design) | {"pass-TOTAL_FORMS": 99_999})
    assert page.status_code == 422
    assert len(page.content) < 500_000


def test_who_comes_back_to_an_outline_begins_with_the_file(owner):
    design = make_tray()
    assert owner.get(f"/designs/{design.pk}/outline/keep/").url == f"/designs/{design.pk}/outline/"


def test_the_step_over_is_told_with_the_grits_that_follow(owner):
    """P120 has grains of 0.0049 in: a bowl of 3/4 in with corners of 1/4 in leaves no higher cusps up to some step."""
    page = owner.get(f"/designs/{make_tray().pk}/").content.decode()
    assert "Sand with P120, P180, P220. Up to " in page
    assert "no higher than a grain of P120, 0.0049 in" in page


@pytest.mark.parametrize(
    ("thickness_nm", "rough_in"), [(INCH // 2, "1"), (INCH * 3 // 4, "1"), (INCH, "1.25"), (INCH * 4, "4.1875")]
)
def test_wood_is_paid_for_as_thick_as_it_is_bought(thickness_nm, rough_in):
    """16 × 9 in and a margin of 1/4 in around: 16.5 × 9.5 in; 3/16 in are planed off quarters of 4/4 to 16/4."""
    design = make_design(length_nm=16 * INCH, width_nm=9 * INCH, stock_thickness_nm=thickness_nm)
    feet = Decimal("16.5") * Decimal("9.5") * Decimal(rough_in) / 144
    assert board_feet(design, Figures.get()) == pytest.approx(feet, abs=Decimal("0.001"))
