"""The pages at the bench: the router's queue and the paint queue, as somebody with dust on the hands uses them."""

from datetime import timedelta

import pytest
from django.utils.timezone import now

from shop.floor.models import Piece, Step, Tick
from shop.orders.models import Line
from shop.plans.models import Plan
from shop.stations.models import Station, Workshop
from shop.stock.models import Bit
from tests.pages.looking import DESK, PHONE, say_violations
from tests.shop.makers import (
    INCH,
    make_bit,
    make_line,
    make_piece,
    make_plan,
    make_planned,
    make_rest,
    make_station,
    make_step,
)

pytestmark = [pytest.mark.pages, pytest.mark.django_db(transaction=True)]
SCHEMES_AND_SCREENS = [(scheme, screen) for scheme in ("light", "dark") for screen in (DESK, PHONE)]


@pytest.fixture
def plan(ines) -> Plan:
    workshop = Workshop.get()
    workshop.time_zone = "UTC"
    workshop.save()
    return make_plan()


@pytest.fixture
def paint(plan, ines) -> Step:
    """A lot of two pieces with a name on them, ready for paint, to be peeled 20 to 120 minutes after."""
    line = make_line(quantity=2, text="Ada & Finn", artwork=Line.Artwork.WANTED)
    pieces = [make_piece(line, 1), make_piece(line, 2)]
    paint = make_step(*pieces, stage="paint", what="Paint two gull trays", about={"colour": "deep blue"})
    peel = make_step(*pieces, stage="peel", what="Peel two gull trays")
    make_planned(plan, paint, now() + timedelta(minutes=5), person=ines)
    make_planned(plan, peel, now() + timedelta(hours=1), person=ines)
    make_rest(plan, paint, peel, 20, 120)
    return paint


@pytest.fixture
def load(plan, ines) -> Step:
    """Tomorrow's one load: two pieces of one line, two bits."""
    make_bit("3/4 in bowl")
    make_bit("1/4 in down-cut", Bit.Shape.DOWN_CUT, INCH // 4)
    line = make_line(quantity=2)
    pieces = [make_piece(line, 1), make_piece(line, 2)]
    layout = [{"piece": f"p{each.pk}", "x_in": 1 + 13 * n, "y_in": 1, "turned": n > 0} for n, each in enumerate(pieces)]
    about = {
        "bits": ["3/4 in bowl", "1/4 in down-cut"],
        "bit_minutes": [["3/4 in bowl", 12], ["1/4 in down-cut", 9]],
        "thickness_in": 0.75,
        "layout": layout,
    }
    step = make_step(
        *pieces, stage="router", what="Rout two trays", segments=((10, "hands"), (21, "watch")), about=about
    )
    noon = now().replace(hour=12, minute=0) + timedelta(days=1)
    make_planned(plan, step, noon, make_station(Station.Role.ROUTER, name="Big router"), person=ines)
    return step


def test_a_lot_is_painted_with_one_thumb(signed_in, paint, ines):
    page = signed_in("/detail/", screen=PHONE)
    lot = page.locator(f"#lot-{paint.pk}")
    assert lot.locator(".colour").inner_text() == "deep blue"
    assert "Ada & Finn" in lot.inner_text()
    assert "Artwork is only wanted" in lot.inner_text()
    assert "Then peel" in lot.inner_text()
    assert "Air the room" in lot.inner_text()
    assert page.locator(".later").first.inner_text().count("Peel two gull trays") == 1

    lot.get_by_role("button", name="Start").tap()
    page.locator(f"#lot-{paint.pk}.going").wait_for()
    assert Step.objects.get(pk=paint.pk).begun_by == ines

    page.get_by_role("button", name="Done").tap()
    page.get_by_text("Just done").wait_for()
    assert Tick.objects.get().step == paint

    page.get_by_role("button", name="Undo").tap()
    page.locator(f"#lot-{paint.pk}.going").wait_for()
    assert not Tick.objects.exists()


def test_the_main_button_is_as_wide_as_a_thumb_needs_at_the_least(signed_in, paint):
    box = signed_in("/detail/", screen=PHONE).get_by_role("button", name="Start").bounding_box()
    assert box["height"] >= 76
    assert box["width"] >= 300


def test_the_paint_queue_works_with_no_script(browser, live_server, client, paint, ines):
    client.force_login(ines.user)
    context = browser.new_context(java_script_enabled=False, viewport=PHONE)
    context.add_cookies([{"name": "sessionid", "value": client.cookies["sessionid"].value, "url": live_server.url}])
    page = context.new_page()
    page.goto(live_server.url + "/detail/")
    page.get_by_role("button", name="Start").click()
    page.locator(f"#lot-{paint.pk}.going").wait_for()
    assert page.url.endswith("/detail/")
    context.close()


def test_tomorrows_load_is_read_begun_and_a_spoilt_piece_written_off(signed_in, load):
    page = signed_in("/router/", screen=PHONE)
    card = page.locator(f"#load-{load.pk}")
    assert page.get_by_role("heading", level=1).inner_text() == "Router, tomorrow"
    assert "3/4 in" in card.locator(".thickness").inner_text()
    assert card.locator(".key").all_inner_texts()[1].split() == ["change", "1/4", "in", "down-cut", "9", "min"]
    assert card.locator(".bed polygon").count() == 2

    card.get_by_role("button", name="Start").tap()
    page.locator(f"#load-{load.pk}.going").wait_for()

    card.get_by_text("Spoilt?").first.tap()
    assert say_violations(page) == ""
    card.get_by_label("What happened to piece 1?").fill("tear-out at the rim")
    card.get_by_role("button", name="Write piece 1 off").tap()
    page.locator(".pieces .spoilt").wait_for()
    spoilt = Piece.objects.get(spoilt_at__isnull=False)
    assert spoilt.spoilt_why == "tear-out at the rim"
    assert Piece.objects.filter(made_again_for=spoilt).exists()


def test_the_run_sheet_is_one_tap_away(signed_in, load):
    page = signed_in("/router/")
    address = page.get_by_role("link", name="Run sheet on paper").get_attribute("href")
    response = page.request.get(page.url.split("/router")[0] + address)
    assert response.headers["content-type"] == "application/pdf"


@pytest.mark.parametrize(("scheme", "screen"), SCHEMES_AND_SCREENS)
def test_nobody_is_shut_out_of_the_bench(signed_in, paint, load, scheme, screen):
    for address in ("/detail/", "/router/"):
        page = signed_in(address, screen=screen, scheme=scheme)
        assert say_violations(page) == ""
        assert page.evaluate("document.documentElement.scrollWidth") <= screen["width"]
