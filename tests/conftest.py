"""What holds for every test."""

from django.conf import settings as django_settings
from hypothesis import settings

settings.register_profile("house", deadline=None, max_examples=60, print_blob=True)  # shared machines have no fixed pace
settings.load_profile("house")


def pytest_configure() -> None:
    """Plain static files, so that tests need no collectstatic, and a password hash that does not cost a second."""
    django_settings.STORAGES["staticfiles"]["BACKEND"] = "django.contrib.staticfiles.storage.StaticFilesStorage"
    django_settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
