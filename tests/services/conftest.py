"""PostgreSQL once a session, Redis once a test, and the site with a database of its own in every test."""

import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from django.db import connections
from pytest_django import DjangoDbBlocker

from shop.settings import _database
from tests.services.servers import Postgres, Redis, Site


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker("services")


@pytest.fixture(scope="session")
def postgres() -> Iterator[Postgres]:
    """A server with two databases to copy: one migrated, one with the demo shop in it."""
    with tempfile.TemporaryDirectory(prefix="postgres-") as name:
        folder = Path(name)
        server = Postgres(folder)
        server.start()
        try:
            Site(folder, DATABASE_URL=server.create("bare")).manage("migrate")
            Site(folder, DATABASE_URL=server.create("demo", like="bare")).manage("load_demo")
            yield server
        finally:
            server.stop()


@pytest.fixture
def redis(tmp_path: Path) -> Iterator[Redis]:
    server = Redis(tmp_path)
    server.start()
    yield server
    server.stop()


@contextmanager
def looking_at(url: str, blocker: DjangoDbBlocker) -> Iterator[None]:
    """Django's own connection, for as long as the test lasts, is to this database."""
    with pytest.MonkeyPatch.context() as patch, blocker.unblock():
        patch.setenv("DATABASE_URL", url)
        usual = connections["default"]
        patch.setitem(connections.settings, "default", {**usual.settings_dict, "OPTIONS": {}, **_database()})
        del connections["default"]
        try:
            yield
        finally:
            connections["default"].close()
            connections["default"] = usual


@pytest.fixture
def site(
    request: pytest.FixtureRequest, postgres: Postgres, tmp_path: Path, django_db_blocker: DjangoDbBlocker
) -> Iterator[Site]:
    """The site on PostgreSQL, with an empty shop or, by `@with_demo`, the demo shop; a test that asks for Redis has it.

    Django's own connection in the test is to the same database.
    """
    url = postgres.create(f"test_{time.monotonic_ns()}", like=getattr(request, "param", "bare"))
    redis_url = request.getfixturevalue("redis").url if "redis" in request.fixturenames else ""
    site = Site(tmp_path, DATABASE_URL=url, REDIS_URL=redis_url)
    with looking_at(url, django_db_blocker):
        yield site
    site.end()
