"""A real browser on a real server, at a desk and on a phone, by day and by night."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator

import pytest
from django.contrib.auth import get_user_model
from django.test import Client
from playwright.sync_api import Browser, Page, sync_playwright

from shop.stations.models import Person
from tests.pages.looking import DESK, PHONE
from tests.shop.makers import make_person

# Playwright's loop runs in the thread of the test; its database calls are still ordinary ones.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"

FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-component-update"]


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=FLAGS)
        yield browser
        browser.close()


def with_user(person: Person) -> Person:
    person.user = get_user_model().objects.create_user(person.name.lower())
    person.save()
    return person


@pytest.fixture
def ines(transactional_db) -> Person:
    """The owner, who can sign in."""
    return with_user(make_person("Ines"))


def session_of(person: Person) -> str:
    client = Client()
    client.force_login(person.user)
    return client.cookies["sessionid"].value


@pytest.fixture
def joss(transactional_db) -> Person:
    """The partner, who can sign in."""
    return with_user(make_person("Joss", role=Person.Role.PARTNER))


@pytest.fixture
def signed_in(browser: Browser, live_server, ines: Person) -> Iterator[Callable[..., Page]]:
    """Opens an address with Ines signed in, or whoever `by` is; a page that breaks in its script fails the test."""
    opened, broken = [], []

    def open_page(
        address: str, *, screen: dict = DESK, scheme: str = "light", by: Person = ines, script: bool = True
    ) -> Page:
        context = browser.new_context(
            viewport=screen, color_scheme=scheme, has_touch=screen == PHONE, java_script_enabled=script
        )
        context.add_cookies([{"name": "sessionid", "value": session_of(by), "url": live_server.url}])
        opened.append(context)
        page = context.new_page()
        page.set_default_timeout(10_000)
        page.on("pageerror", lambda error: broken.append(str(error)))
        page.goto(live_server.url + address)
        return page

    yield open_page
    for context in opened:
        context.close()
    assert broken == []
