"""A day in the workshop, walked by thumb and at the desk."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

import pytest
from django.utils.timezone import now
from playwright.sync_api import Browser, Page, expect

from shop.floor.models import Step, Tick
from shop.floor.services import tick
from shop.plans.models import Job, Plan
from shop.stations.models import Person, Station
from tests.pages.looking import DESK, PHONE, say_violations
from tests.shop.makers import (
    make_it_midday,
    make_person,
    make_piece,
    make_plan,
    make_planned,
    make_rest,
    make_station,
    make_step,
)

pytestmark = [pytest.mark.pages, pytest.mark.django_db(transaction=True)]
MINUTE, HOUR = timedelta(minutes=1), timedelta(hours=1)
LEAST_TARGET_PX = 48
TOO_SMALL = """least => [...document.querySelectorAll("button, a, input, select, summary")]
    .filter(it => it.checkVisibility() && it.type !== "hidden" && !it.matches(".skip"))
    .map(it => [it.textContent.trim() || it.name, it.getBoundingClientRect()])
    .filter(([, box]) => box.height < least || box.width < least)
    .map(([name, box]) => `${name}: ${box.width} x ${box.height}`)"""


@pytest.fixture
def plan(ines: Person) -> Plan:
    """Work of every kind around this very minute, and something in every state of curing."""
    make_it_midday()
    plan, router, clamps = make_plan(), make_station(name="Router"), make_station(Station.Role.CLAMPS, capacity=9)
    rack, other = make_station(Station.Role.RACK, capacity=20), make_person("Bo")
    load = make_step(
        make_piece(),
        stage="router",
        what="Bed load of 5 gull trays",
        segments=((12, "hands"), (30, "watch"), (6, "hands")),
    )
    make_planned(plan, load, now() + 10 * MINUTE, router, person=ines, changeover_minutes=4)
    glue = make_step(make_piece(), stage="glue", what="Glue up 3 panels", segments=((20, "hands"), (60, "alone")))
    make_planned(plan, glue, now() - 40 * MINUTE, clamps, person=other)
    tick(glue, by=other, at=now() - 10 * MINUTE)
    make_planned(plan, make_step(make_piece(), stage="sand", what="Sand 4 boards"), now() - 5 * MINUTE, person=other)
    for hours in (1, 13, 17):
        piece = make_piece()
        oil, wipe = make_step(piece, stage="oil"), make_step(piece, stage="wipe", what=f"Wipe after {hours} hours")
        make_planned(plan, oil, now() - hours * HOUR, rack)
        make_planned(plan, wipe, now() + HOUR, rack, person=other)
        make_rest(plan, oil, wipe, 720, 960)
        tick(oil, by=other, at=now() - hours * HOUR, minutes=20)
    return plan


def the_load() -> Step:
    return Step.objects.get(kind="router")


def test_somebody_signs_in_and_is_where_they_wanted_to_be(browser: Browser, live_server, ines: Person):
    ines.user.set_password("ferry-ebony-gull-4599")
    ines.user.save()
    page = browser.new_context(viewport=PHONE).new_page()
    page.goto(f"{live_server.url}/curing/")
    page.get_by_label("Name").fill("ines")
    page.get_by_label("Password").fill("wrong")
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("alert")).to_contain_text("don't belong together")
    expect(page.get_by_label("Name")).to_have_value("ines")
    page.get_by_label("Password").fill("ferry-ebony-gull-4599")
    page.get_by_role("button", name="Sign in").click()
    expect(page).to_have_url(f"{live_server.url}/curing/")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Curing")


def test_on_the_phone_the_next_step_is_begun_ticked_and_taken_back_with_one_tap_each(signed_in, plan):
    page = signed_in("/", screen=PHONE)
    following = page.locator(".next")
    expect(following).to_contain_text("Bed load of 5 gull trays")
    following.get_by_role("button", name="Start").tap()
    expect(following).to_contain_text("You are at it")
    assert the_load().state == "going"
    following.get_by_label("took").fill("44")
    following.get_by_role("button", name="Done").tap()
    expect(page.get_by_role("status")).to_contain_text("Done: Bed load of 5 gull trays, 44 min.")
    assert Tick.objects.get(step=the_load()).minutes == 44
    page.locator(".hours").get_by_role("button", name="Undo Bed load").tap()
    expect(following).to_contain_text("You are at it")
    assert the_load().state == "going"


def test_without_a_script_a_step_is_begun_and_ticked_as_well(signed_in, plan):
    page = signed_in("/", screen=PHONE, script=False)
    page.locator(".next").get_by_role("button", name="Start").click()
    expect(page.locator(".next")).to_contain_text("You are at it")
    page.locator(".next").get_by_role("button", name="Done").click()
    expect(page.get_by_role("status")).to_contain_text("Done: Bed load of 5 gull trays")


def test_the_focus_stays_with_the_step_after_a_key_begins_it(signed_in, plan):
    page = signed_in("/")
    page.locator(".next").get_by_role("button", name="Start").press("Enter")
    done = page.locator(".next").get_by_role("button", name="Done")
    expect(done).to_be_focused()


def test_a_tap_that_does_not_arrive_says_so(signed_in, plan):
    page = signed_in("/", screen=PHONE)
    page.context.set_offline(True)
    page.locator(".next").get_by_role("button", name="Start").tap()
    expect(page.get_by_role("status")).to_contain_text("nothing was written down")
    assert the_load().state == "waiting"


def test_a_window_that_was_missed_stands_on_top_of_the_day_and_leads_to_its_gauge(signed_in, plan):
    page = signed_in("/")
    expect(page.locator("#slipping")).to_contain_text("Too late to wipe")
    page.locator("#slipping").get_by_role("link", name="Show it").first.click()
    expect(page.locator(".wait.missed")).to_contain_text("too late")
    expect(page.locator(".wait.open")).to_contain_text("touch it now")


def test_from_the_gauge_it_is_begun_and_leaves_the_page_when_it_is_done(signed_in, plan):
    page = signed_in("/curing/", screen=PHONE)
    ready = page.locator(".wait", has_text="Wipe after 13 hours")
    ready.get_by_role("button", name="Start").tap()
    expect(ready).to_contain_text("In hand since")
    ready.get_by_role("button", name="Done").tap()
    expect(ready).to_have_count(0)


def test_a_planning_run_shows_itself_and_can_be_stopped(signed_in, plan):
    Plan.objects.update(stale_since=now(), stale_because="a new order")
    page = signed_in("/")
    page.get_by_role("button", name="Plan again").click()
    expect(page.locator("#plan-strip")).to_contain_text("starts in a moment")
    Job.objects.update(state=Job.State.RUNNING, progress={"elapsed": 3, "cost": 184.0, "bound": 150.0})
    expect(page.locator("#plan-strip")).to_contain_text("no plan can cost less than 150")
    page.get_by_role("button", name="Stop planning").click()
    expect(page.locator("#plan-strip")).to_contain_text("Planning was stopped")


def test_on_the_phone_every_place_is_at_the_thumb(signed_in, plan):
    page = signed_in("/", screen=PHONE)
    page.get_by_role("link", name="More").tap()
    page.get_by_role("link", name="Orders").tap()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Orders")


def test_on_the_phone_a_column_is_chosen(signed_in, plan):
    page = signed_in("/", screen=PHONE)
    expect(page.locator("td.shown", has_text="Sand 4 boards")).to_have_count(0)
    page.get_by_role("link", name="Bo").tap()
    expect(page.locator("td.shown", has_text="Sand 4 boards")).to_be_visible()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("screen", [DESK, PHONE], ids=["desk", "phone"])
@pytest.mark.parametrize("address", ["/", "/curing/", "/day/2026-06-01/", "/nowhere/"])
def test_axe_finds_nothing(signed_in: Callable[..., Page], plan, address, screen, scheme):
    page = signed_in(address, screen=screen, scheme=scheme)
    page.wait_for_load_state("networkidle")
    assert say_violations(page) == ""


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_on_the_sign_in(browser: Browser, live_server, scheme):
    page = browser.new_context(color_scheme=scheme).new_page()
    page.goto(f"{live_server.url}/sign-in/")
    assert say_violations(page) == ""


@pytest.mark.parametrize("address", ["/", "/curing/"])
def test_everything_to_touch_is_large_enough_and_nothing_runs_off_a_phone(signed_in, plan, address):
    page = signed_in(address, screen={"width": 360, "height": 740})
    page.wait_for_load_state("networkidle")
    small = page.evaluate(TOO_SMALL, LEAST_TARGET_PX)
    assert small == []
    assert page.evaluate("document.documentElement.scrollWidth") <= 360


def test_the_next_act_is_as_tall_as_a_thumb(signed_in, plan):
    page = signed_in("/", screen=PHONE)
    assert page.locator(".next .main-act").bounding_box()["height"] >= 76
