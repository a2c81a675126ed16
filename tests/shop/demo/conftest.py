"""The demo loaded at some moment, once for all tests of a file: they only read it."""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from django.conf import settings
from django.db import transaction

from shop.demo.loading import load_demo

CHICAGO = ZoneInfo("America/Chicago")
WEDNESDAY = datetime(2026, 6, 3, 10, 15, tzinfo=CHICAGO)


@pytest.fixture(scope="module")
def demo(request, django_db_setup, django_db_blocker, tmp_path_factory):
    """Returns the moment of loading, given as parameter."""
    with pytest.MonkeyPatch.context() as patch, django_db_blocker.unblock(), transaction.atomic():
        patch.setattr(settings, "DATA", tmp_path_factory.mktemp("data"))
        load_demo(request.param)
        yield request.param
        transaction.set_rollback(True)
