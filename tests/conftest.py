"""What holds for every test."""

import pytest
from django.conf import settings as django_settings
from hypothesis import settings

settings.register_profile("house", deadline=None, max_examples=60, print_blob=True)  # no fixed pace
settings.load_profile("house")


def pytest_configure() -> None:
    """Plain static files, so that tests need no collectstatic, and a password hash that does not cost a second."""
    django_settings.STORAGES["staticfiles"]["BACKEND"] = "django.contrib.staticfiles.storage.StaticFilesStorage"
    django_settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


@pytest.fixture(scope="session")
def django_db_modify_db_settings(tmp_path_factory: pytest.TempPathFactory) -> None:
    """A database in a file, as people have it: one in memory is one connection for all threads of a test's server."""
    django_settings.DATABASES["default"]["TEST"]["NAME"] = str(tmp_path_factory.mktemp("database") / "test.sqlite3")
