"""The trade's sums in a real browser: designs, wood, numbers and figures."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.utils.timezone import now

from shop.designs.models import Design
from shop.orders.models import FairSale
from shop.plans.models import Plan
from shop.wood.services import work_out
from shop.wood.wanted import wanted_until
from tests.pages.looking import DESK, PHONE, say_violations
from tests.shop.designs.test_pages import SVG, TRAY
from tests.shop.makers import (
    INCH,
    make_board,
    make_fair,
    make_finish,
    make_line,
    make_order,
    make_piece,
    make_plan,
    make_planned,
    make_species,
    make_step,
    make_tray,
    make_workplaces,
    minutes_of,
)

pytestmark = [pytest.mark.pages, pytest.mark.django_db(transaction=True)]

PAGES = [
    "/designs/",
    "/designs/new/",
    "/designs/{tray}/",
    "/designs/{tray}/change/",
    "/designs/{tray}/work/",
    "/designs/{tray}/outline/",
    "/wood/",
    "/numbers/",
    "/numbers/fairs/{fair}/",
    "/numbers/fairs/{past}/sold/",
    "/workshop/figures/",
]


@pytest.fixture
def shop() -> dict[str, int]:
    """A tray with faults to find, wood worked out for two of it, a fair ahead and one behind."""
    make_workplaces()
    walnut = make_species("Walnut")
    make_board(walnut, moisture_percent="12.5")
    tray = make_tray(
        name="Harbor tray", is_glued=True, corner_radius_nm=INCH // 8, finish=make_finish(rags_self_heat=True)
    )
    fair = make_fair("Lantern Fair", opens_at=now() + timedelta(days=14))
    past = make_fair("Old Fair", opens_at=now() - timedelta(days=30))
    FairSale.objects.create(fair=past, design=tray, brought=8, sold=6)
    line = make_line(design=tray, species=walnut, quantity=2, order=make_order(due_at=now() + timedelta(days=9)))
    make_planned(make_plan(), make_step(*(make_piece(line, n) for n in (1, 2)), stage="rip"), now() + timedelta(days=1))
    until = now() + timedelta(days=7)
    work_out(wanted_until(Plan.objects.in_force(), until), until)
    return {"tray": tray.pk, "fair": fair.pk, "past": past.pk}


@pytest.mark.parametrize("screen", [PHONE, DESK], ids=["phone", "desk"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_page_can_be_read_by_everybody(signed_in, shop, screen, scheme):
    for address in PAGES:
        page = signed_in(address.format(**shop), screen=screen, scheme=scheme)
        assert page.locator("h1").count() == 1
        assert not say_violations(page), address
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), address


@pytest.mark.parametrize("address", ["/designs/{tray}/work/", "/designs/{tray}/change/", "/wood/", "/numbers/"])
def test_what_a_thumb_must_hit_is_big_enough(signed_in, shop, address):
    page = signed_in(address.format(**shop), screen=PHONE)
    targets = page.locator("main :is(button, select, a.act, input:not([type=hidden], [type=radio], [type=checkbox]))")
    assert targets.count()
    small = [(box["height"], target.inner_text()) for target in targets.all() if (box := target.bounding_box())]
    assert [what for what in small if what[0] < 48] == []


def test_an_outline_is_looked_at_before_it_is_kept(signed_in, shop, tmp_path):
    file = tmp_path / "tray.svg"
    file.write_text(SVG.format(TRAY))
    page = signed_in(f"/designs/{shop['tray']}/outline/", screen=DESK)
    page.set_input_files("[type=file]", file)
    page.get_by_role("button", name="Look at it").click()
    page.get_by_role("button", name="Keep").wait_for()
    assert not say_violations(page)
    assert not Design.objects.get(pk=shop["tray"]).outline


def test_a_smaller_step_over_makes_the_pass_longer(signed_in, shop):
    tray = Design.objects.get(pk=shop["tray"])
    before = minutes_of(tray)[1]
    page = signed_in(f"/designs/{tray.pk}/work/", screen=PHONE)
    page.locator("[name=pass-1-step_over_percent]").fill("5")
    page.get_by_role("button", name="Keep").first.tap()
    page.wait_for_url(f"**/designs/{tray.pk}/")
    assert minutes_of(tray)[1] > before * 18 / 10


def test_a_kind_of_work_shows_what_it_uses(signed_in, shop):
    page = signed_in(f"/designs/{shop['tray']}/work/", screen=DESK)
    shown = {name: page.locator(f"[name=pass-0-{name}]") for name in ("step_over_percent", "tabs", "minutes")}
    assert [each.is_visible() for each in shown.values()] == [True, False, False]
    page.locator("[name=pass-0-kind]").select_option("profile")
    page.locator("[name=pass-0-by_hand]").check()
    assert [each.is_visible() for each in shown.values()] == [False, True, True]
