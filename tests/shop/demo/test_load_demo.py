"""The demo workshop as it is found by whoever starts it for the first time."""

from io import StringIO
from pathlib import Path

import pytest
from django.contrib.auth import get_user_model
from django.core.management import CommandError, call_command

from shop.orders.models import Order
from tests.shop.makers import make_species


@pytest.fixture(autouse=True)
def _own_data_folder(settings, tmp_path: Path):
    settings.DATA = tmp_path


def load() -> str:
    said = StringIO()
    call_command("load_demo", stdout=said)
    return said.getvalue()


@pytest.mark.django_db
def test_loading_twice_loads_once_and_says_the_sign_ins_again():
    first = load()
    orders = Order.objects.count()
    second = load()
    assert "there already" in second
    assert second.splitlines()[-2:] == first.splitlines()[-2:]
    assert Order.objects.count() == orders


@pytest.mark.django_db
def test_whoever_is_told_a_password_can_sign_in_with_it(client):
    signins = [line.split() for line in load().splitlines()[-2:]]
    assert [role for role, *_ in signins] == ["owner", "partner"]
    for _, username, _, password in signins:
        assert client.login(username=username.rstrip(","), password=password)


@pytest.mark.django_db
def test_a_password_that_was_changed_is_not_told():
    load()
    joss = get_user_model().objects.get(username="joss")
    joss.set_password("a better one 4711")
    joss.save()
    assert load().splitlines()[-1].endswith("password as last set")


@pytest.mark.django_db
def test_the_demo_keeps_out_of_a_real_workshop():
    make_species()
    with pytest.raises(CommandError, match="has species in it"):
        load()
    assert Order.objects.count() == 0
