"""The planning run as a page shows it."""

import re
from datetime import timedelta

import pytest
from django.contrib.auth import get_user_model
from django.utils.timezone import now

from shop.plans.models import Job, Plan
from shop.stations.models import Person
from tests.shop.makers import make_person, make_plan

pytestmark = pytest.mark.django_db
HTMX = {"HX-Request": "true"}
State = Job.State


def sign_in(client, role: str) -> None:
    person = make_person(role=role)
    person.user = get_user_model().objects.create_user(person.name)
    person.save()
    client.force_login(person.user)


@pytest.fixture
def owner(client):
    sign_in(client, Person.Role.OWNER)
    return client


@pytest.fixture
def partner(client):
    sign_in(client, Person.Role.PARTNER)
    return client


def page(client, address: str = "/curing/") -> str:
    return client.get(address).content.decode()


def test_a_fresh_plan_says_nothing(owner):
    make_plan()
    assert 'class="strip"' not in page(owner)


def test_a_stale_plan_says_why_and_offers_the_one_thing_to_do(owner):
    make_plan(stale_since=now(), stale_because="Gull tray spoilt")
    assert "Gull tray spoilt" in page(owner)
    assert "Plan again" in page(owner)


def test_the_partner_reads_of_it_and_starts_nothing(partner):
    make_plan(stale_since=now(), stale_because="Gull tray spoilt")
    assert "Gull tray spoilt" in page(partner)
    assert "Plan again" not in page(partner)
    assert partner.post("/plan/run/").status_code == 403
    assert partner.post(f"/plan/run/{Job.objects.create().pk}/cancel/").status_code == 403


def test_a_run_is_asked_for_and_the_page_is_there_again(owner):
    assert owner.post("/plan/run/", {"next": "/curing/"})["Location"] == "/curing/"
    assert Job.objects.get().state == State.QUEUED
    assert "starts in a moment" in page(owner)


def test_a_run_tells_its_seconds_its_cost_and_its_bound(owner):
    progress = {"elapsed": 7, "cost": 184.2, "bound": 150.4}
    job = Job.objects.create(state=State.RUNNING, seconds=20, progress=progress)
    said = owner.get(f"/plan/run/{job.pk}/", headers=HTMX).content.decode()
    assert "7 of 20 seconds" in said
    assert "costs 184; no plan can cost less than 150" in said
    assert 'hx-trigger="every 1s"' in said


def test_a_cancelled_run_stops_asking(owner):
    job = Job.objects.create(state=State.RUNNING)
    said = owner.post(f"/plan/run/{job.pk}/cancel/", headers=HTMX).content.decode()
    job.refresh_from_db()
    assert job.state == State.CANCELLED
    assert "Planning was stopped" in said
    assert "every 1s" not in said


def test_a_run_that_ended_tells_the_pieces_that_show_the_plan(owner):
    job = Job.objects.create(state=State.DONE, plan=make_plan(), finished_at=now())
    response = owner.get(f"/plan/run/{job.pk}/", headers=HTMX)
    assert response["HX-Trigger"] == "plan-changed"
    assert "every 1s" not in response.content.decode()


def test_a_failed_run_says_why_until_a_plan_is_made(owner):
    Job.objects.create(state=State.FAILED, message="The clamps hold nothing.", finished_at=now())
    make_plan(made_at=now() - timedelta(hours=1))
    assert "The clamps hold nothing." in page(owner)
    Plan.objects.update(made_at=now())
    assert "The clamps hold nothing." not in page(owner)


def test_a_run_that_is_not_there_is_no_such_page(owner):
    assert owner.get("/plan/run/999/").status_code == 404


def test_the_strip_reads_no_plan_document(owner, django_assert_max_num_queries):
    make_plan(document={"placed": ["x" * 1000]})
    page(owner)  # makes the workshop, which is made once
    with django_assert_max_num_queries(8) as queries:
        page(owner)
    assert not any('"document"' in query["sql"] for query in queries)


def test_the_strip_reads_itself_again_when_the_floor_changed(owner):
    make_plan()
    assert 'hx-get="/plan/" hx-trigger="minute from:body, floor-changed from:body"' in page(owner)
    Job.objects.create(because="Gull tray spoilt")
    said = owner.get("/plan/", headers=HTMX).content.decode()
    assert "Because: Gull tray spoilt." in said
    assert "every 1s" in said


@pytest.mark.parametrize("address", ["/router/", "/detail/"])
def test_the_pages_of_the_floor_show_a_new_plan_when_it_comes(owner, address):
    make_plan()
    [listener] = re.findall(r'id="(?:queue|lots)" .*', page(owner, address))
    assert "plan-changed from:body" in listener
