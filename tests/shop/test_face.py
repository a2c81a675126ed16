"""The frame of every page: places by role, errors in words, nothing from elsewhere, nothing inline."""

import hashlib
import json
import re
from html import unescape
from pathlib import Path

import pytest
from django.contrib.auth import get_user_model
from django.template.loader import render_to_string
from django.test import Client

from shop.stations.models import Person
from tests.shop.makers import make_person

ROOT = Path(__file__).parent.parent.parent
TEMPLATES = sorted((ROOT / "templates").rglob("*.html"))
FONTS = ROOT / "static" / "fonts"


def named(path: Path) -> str:
    return str(path.relative_to(ROOT))


@pytest.fixture
def as_role(client):
    def sign_in(role: str) -> Client:
        person = make_person(role=role)
        person.user = get_user_model().objects.create_user(person.name)
        person.save()
        client.force_login(person.user)
        return client

    return sign_in


def places(client: Client) -> list[str]:
    page = client.get("/").content.decode()
    nav = page[page.index("<nav") : page.index("</nav>")]
    return [word for word in re.findall(r">([^<>]+)</a>", nav) if word not in {"More", "Less"}]


@pytest.mark.django_db
def test_the_owner_may_go_everywhere_and_the_partner_where_the_work_is(as_role):
    floor = ["Today", "Router", "Curing", "Detail", "New order"]
    assert places(as_role(Person.Role.OWNER)) == [*floor, "Orders", "Fairs", "Designs", "Wood", "Numbers", "Workshop"]
    assert places(as_role(Person.Role.PARTNER)) == [*floor, "Workshop"]


@pytest.mark.django_db
@pytest.mark.parametrize(("address", "word"), [("/", "Today"), ("/day/2026-06-01/", "Today"), ("/curing/", "Curing")])
def test_the_place_one_is_at_is_marked(as_role, address, word):
    page = as_role(Person.Role.OWNER).get(address).content.decode()
    assert re.findall(r'aria-current="page">([^<]+)<', page) == [word]


@pytest.mark.django_db
def test_a_page_for_the_owner_tells_the_partner_so_in_a_sentence(as_role):
    response = as_role(Person.Role.PARTNER).get("/orders/")
    assert response.status_code == 403
    assert "This page is the owner's." in unescape(response.content.decode())


@pytest.mark.django_db
def test_an_address_that_is_not_there_says_so(as_role):
    response = as_role(Person.Role.OWNER).get("/nowhere/")
    assert (response.status_code, "Nothing at this address" in response.content.decode()) == (404, True)


@pytest.mark.django_db
def test_a_form_without_its_token_is_refused_in_words():
    response = Client(enforce_csrf_checks=True).post("/sign-in/", {"username": "ada", "password": "x"})
    assert (response.status_code, "too old to be trusted" in response.content.decode()) == (403, True)


def test_when_something_breaks_the_page_needs_neither_a_request_nor_the_database():
    assert "Something broke here" in render_to_string("500.html")


def test_htmx_is_told_to_run_nothing_and_not_to_wait_for_ever():
    page = render_to_string("500.html")
    config = json.loads(re.search(r"name=\"htmx-config\" content='([^']+)'", page)[1])
    assert (config["allowEval"], config["allowScriptTags"], config["historyCacheSize"]) == (False, False, 0)
    assert config["timeout"] == 10_000
    assert {"code": "422", "swap": True} in config["responseHandling"]


@pytest.mark.parametrize("template", TEMPLATES, ids=named)
def test_nothing_in_a_template_stands_in_the_way_of_a_strict_policy(template):
    text = template.read_text()
    if "sheets" in template.parts:  # paper has no browser, and its page rules stand in the sheet
        text = re.sub(r"<style.*?</style>", "", text, flags=re.DOTALL)
    assert not re.search(r"\sstyle=|<style|\son[a-z]+=|hx-on|javascript:|\bjs:|\|safe|<script(?![^>]*\ssrc=)", text)


@pytest.mark.parametrize("template", TEMPLATES, ids=named)
def test_no_page_asks_another_site_for_anything(template):
    assert not re.search(r"(src|href|action)=[\"']?(https?:)?//", template.read_text())


def test_what_came_from_elsewhere_is_what_it_was():
    rows = re.findall(r"^\| (\S+\.woff2) .* (\w{64}) \|$", (FONTS / "VENDORED.md").read_text(), re.MULTILINE)
    assert {name for name, _ in rows} == {file.name for file in FONTS.glob("*.woff2")}
    for name, sha256 in rows:
        assert hashlib.sha256((FONTS / name).read_bytes()).hexdigest() == sha256
