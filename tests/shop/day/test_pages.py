"""Today, any other day and curing as a browser gets them, and what is done on them."""

import re
from datetime import timedelta

import pytest
from django.utils.timezone import now

from shop.floor.models import Piece, Step, Tick
from shop.floor.services import begin, tick
from shop.plans.models import Plan
from shop.stations.models import Person
from tests.shop.makers import (
    make_line,
    make_person,
    make_piece,
    make_plan,
    make_planned,
    make_rest,
    make_station,
    make_step,
)

pytestmark = pytest.mark.django_db
HTMX = {"HX-Request": "true"}
MINUTE, HOUR = timedelta(minutes=1), timedelta(hours=1)
PAGES = {"/": "day", "/curing/": "curing"}


@pytest.fixture
def step(plan, ada) -> Step:
    """Something of Ada's, planned for now."""
    sand = make_step(make_piece(), stage="sand", what="sand 4 gull trays")
    make_planned(plan, sand, now() - MINUTE, make_station("sanding"), person=ada)
    return sand


def text(response) -> str:
    return response.content.decode()


def after(step: Step) -> Step:
    return Step.objects.get(pk=step.pk)


@pytest.mark.parametrize("address", ["/", "/day/2026-06-01/", "/day/?day=2026-06-01", "/curing/", "/curing/slipping/"])
def test_nothing_is_read_without_signing_in(client, address):
    response = client.get(address)
    assert (response.status_code, response["Location"].split("?")[0]) == (302, "/sign-in/")


def test_a_session_that_ran_out_under_htmx_opens_the_sign_in_as_a_page(client):
    response = client.get("/", headers=HTMX | {"HX-Current-URL": "http://testserver/curing/"})
    assert response["HX-Redirect"] == "/sign-in/?next=%2Fcuring%2F"
    assert text(response) == ""


@pytest.mark.parametrize("address", ["/day/2026-02-30/", "/day/9999-12-31/", "/day/1066-10-14/", "/day/tomorrow/"])
def test_a_day_that_no_workshop_has_is_no_such_page(client, plan, address):
    assert client.get(address).status_code == 404


@pytest.mark.parametrize(
    ("picked", "shown"), [("2026-06-01", "/day/2026-06-01/"), ("2026-02-30", "/"), ("", "/"), ("soon", "/")]
)
def test_a_day_is_found_from_the_calendar(client, plan, picked, shown):
    assert client.get("/day/", {"day": picked})["Location"] == shown


def test_without_a_plan_the_page_says_what_to_do(client, ada):
    page = text(client.get("/"))
    assert page.count("There is no plan yet") == 1
    assert "Make a plan" in page


def test_before_the_first_plan_the_owner_is_led_to_where_the_shop_is_set_up(client, ada):
    assert '<a href="/workshop/">Set up' in text(client.get("/"))
    make_plan()
    assert '<a href="/workshop/">Set up' not in text(client.get("/"))


def test_what_is_the_owners_to_set_up_is_not_shown_to_the_partner(client, ada):
    Person.objects.update(role=Person.Role.PARTNER)
    assert '<a href="/workshop/">Set up' not in text(client.get("/"))


@pytest.mark.parametrize(("address", "piece"), PAGES.items())
def test_htmx_gets_its_piece_and_nothing_around_it(client, step, address, piece):
    page = text(client.get(address, headers=HTMX))
    assert page.strip().startswith(f'<div id="{piece}"')
    assert "<html" not in page


def test_what_is_next_for_me_stands_on_top(client, step):
    page = text(client.get("/"))
    assert "Yours, not begun yet" in page
    assert page.index("sand 4 gull trays") < page.index("<table")


def test_on_another_day_nothing_is_next(client, step):
    assert 'class="next"' not in text(client.get("/day/2026-06-01/"))


def test_an_administrator_who_is_nobody_in_the_workshop_sees_the_day(client, step, admin_user):
    client.force_login(admin_user)
    page = client.get("/")
    assert page.status_code == 200
    assert 'class="next"' not in text(page)


def test_a_tap_begins_a_step(client, step, ada):
    response = client.post(f"/steps/{step.pk}/begin/", {"next": "/curing/"})
    assert response["Location"] == "/curing/"
    assert (after(step).state, after(step).begun_by) == ("going", ada)
    assert [station.role for station in after(step).begun_at_stations.all()] == ["sanding"]


def test_under_htmx_a_tap_answers_with_words_and_an_event(client, step):
    response = client.post(f"/steps/{step.pk}/begin/", headers=HTMX)
    assert response["HX-Trigger"] == "floor-changed"
    assert "Begun: sand 4 gull trays." in text(response)
    assert 'hx-swap-oob="true"' in text(response)


@pytest.mark.parametrize(("given", "minutes"), [("", 24), ("31", 31)])
def test_done_keeps_the_minutes_said_or_those_of_the_clock(client, step, ada, given, minutes):
    begin(step, by=ada, at=now() - 24 * MINUTE)
    client.post(f"/steps/{step.pk}/done/", {"minutes": given})
    assert Tick.objects.get(step=step).minutes == minutes


@pytest.mark.parametrize("wrong", ["0", "-5", "2000", "soon", "1.5"])
def test_minutes_that_are_none_tick_nothing_and_say_so(client, step, wrong):
    response = client.post(f"/steps/{step.pk}/done/", {"minutes": wrong}, headers=HTMX)
    assert "a whole number of minutes" in text(response)
    assert not Tick.objects.exists()


def test_of_two_ticks_the_second_hears_of_the_first(client, step):
    bo = make_person("Bo")
    tick(step, by=bo, at=now(), minutes=20)
    response = client.post(f"/steps/{step.pk}/done/", headers=HTMX)
    assert "Bo ticked it at" in text(response)
    assert Tick.objects.get().by == bo


def test_of_two_who_begin_the_second_hears_of_the_first(client, step):
    begin(step, by=make_person("Bo"), at=now())
    assert "Bo began" in text(client.post(f"/steps/{step.pk}/begin/", headers=HTMX))


def test_undo_takes_back_the_tick_then_the_beginning(client, step, ada):
    begin(step, by=ada, at=now())
    tick(after(step), by=ada, at=now())
    assert "under way again" in text(client.post(f"/steps/{step.pk}/undo/", headers=HTMX))
    assert after(step).state == "going"
    assert "waiting again" in text(client.post(f"/steps/{step.pk}/undo/", headers=HTMX))
    assert after(step).state == "waiting"


def test_a_step_is_not_undone_under_the_work_that_went_on(client, step, ada):
    tick(step, by=ada, at=now() - HOUR, minutes=5)
    begin(make_step(*step.pieces.all(), stage="oil"), by=ada, at=now())
    assert "undo the later step first" in text(client.post(f"/steps/{step.pk}/undo/", headers=HTMX))
    assert after(step).state == "done"


def test_a_spoilt_piece_is_written_off_with_its_reason_and_made_again(client, ada):
    piece = make_piece(make_line())
    client.post(f"/pieces/{piece.pk}/spoil/", {"why": "the bit caught"})
    piece.refresh_from_db()
    assert piece.spoilt_why == "the bit caught"
    assert Piece.objects.get(made_again_for=piece).number == piece.number


def test_from_the_day_a_spoilt_piece_is_one_tap_to_where_it_is_written_off(client, plan, ada):
    load = make_step(make_piece(make_line()), stage="router")
    make_planned(plan, load, now(), make_station(), person=ada)
    assert "A piece is spoilt" not in text(client.get("/"))
    begin(load, by=ada, at=now())
    [address] = re.findall(r'href="([^"]+)">A piece is spoilt', text(client.get("/")))
    assert f'id="{address.split("#")[1]}"' in text(client.get(address))
    assert "/spoil/" in text(client.get(address))


def test_a_piece_is_not_written_off_without_a_reason(client, ada):
    piece = make_piece(make_line())
    assert "what happened" in text(client.post(f"/pieces/{piece.pk}/spoil/", headers=HTMX))
    assert Piece.objects.get() == piece


@pytest.mark.parametrize("verb", ["begin", "done", "undo"])
def test_a_step_that_is_not_there_is_no_such_page(client, ada, verb):
    assert client.post(f"/steps/999/{verb}/").status_code == 404


@pytest.mark.parametrize("verb", ["begin", "done", "undo"])
def test_looking_changes_nothing(client, step, verb):
    assert client.get(f"/steps/{step.pk}/{verb}/").status_code == 405


@pytest.mark.parametrize("elsewhere", ["https://example.org/", "//example.org", "javascript:alert(1)"])
def test_a_form_cannot_send_anybody_to_another_site(client, step, elsewhere):
    assert client.post(f"/steps/{step.pk}/begin/", {"next": elsewhere})["Location"] == "/"


def test_words_of_customers_are_shown_and_never_run(client, plan, ada):
    step = make_step(make_piece(), stage="sand", what="<script>alert(1)</script>")
    make_planned(plan, step, now(), person=ada)
    assert "<script>alert" not in text(client.get("/"))


def soaking(plan: Plan, *, hours_ago: float) -> None:
    piece = make_piece()
    oil, wipe = make_step(piece, stage="oil"), make_step(piece, stage="wipe")
    make_planned(plan, oil, now() - hours_ago * HOUR)
    make_planned(plan, wipe, now() + HOUR)
    make_rest(plan, oil, wipe, 720, 960)
    tick(oil, by=None, at=now() - hours_ago * HOUR, minutes=20)


@pytest.mark.parametrize(
    ("hours_ago", "said"), [(13, ""), (15.5, "the window shuts in"), (17, "Too late to wipe"), (1, "")]
)
def test_a_window_that_slips_says_so_on_top_of_the_day(client, plan, hours_ago, said):
    soaking(plan, hours_ago=hours_ago)
    strip = text(client.get("/curing/slipping/", headers=HTMX))
    assert said in strip if said else "<p" not in strip


def test_curing_says_the_act_and_both_edges(client, plan):
    soaking(plan, hours_ago=13)
    page = text(client.get("/curing/"))
    assert "touch it now" in page
    assert "wipe <b>" in page


def many(plan: Plan, count: int) -> None:
    """Steps of today at a station, panels in clamps, lots that soak: as many of each."""
    bench, clamps, person = make_station("sanding"), make_station("clamps", capacity=9), make_person()
    for number in range(count):
        make_planned(plan, make_step(make_piece(), stage="sand"), now() + number * MINUTE, bench, person=person)
        glue = make_step(make_piece(), stage="glue", segments=((1, "hands"), (600, "alone")))
        begin(glue, by=person, at=now() - 2 * MINUTE, stations=[clamps])
        tick(glue, by=person, at=now() - MINUTE)
        soaking(plan, hours_ago=13)


@pytest.mark.parametrize("address", PAGES)
def test_a_page_of_fifty_takes_no_more_queries_than_one_of_five(client, plan, address, django_assert_max_num_queries):
    many(plan, 5)
    with django_assert_max_num_queries(9) as few:
        client.get(address)
    many(plan, 45)
    with django_assert_max_num_queries(len(few)):
        client.get(address)


def test_what_is_left_from_before_can_be_ticked_on_today(client, plan, ada):
    for number in range(7):
        make_planned(plan, make_step(make_piece(), stage="sand", what=f"sand lot {number}"), now() - 3 * 24 * HOUR)
    page = text(client.get("/"))
    assert "7 steps left from before" in page
    assert all(f"sand lot {number}</b>" in page for number in range(7))
    assert f"/steps/{Step.objects.last().pk}/done/" in page


@pytest.mark.parametrize("verb", ["begin", "done"])
def test_who_goes_on_early_hears_what_is_taken_as_done(client, plan, step, verb):
    oil = make_step(*step.pieces.all(), stage="oil")
    make_planned(plan, oil, now() + HOUR)
    said = text(client.post(f"/steps/{oil.pk}/{verb}/", headers=HTMX))
    assert "1 earlier step is taken as done: sand 4 gull trays." in said
    assert after(step).state == "done"
