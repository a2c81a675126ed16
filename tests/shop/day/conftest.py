"""A workshop in which somebody is signed in."""

import pytest
from django.contrib.auth import get_user_model

from shop.plans.models import Plan
from shop.stations.models import Person
from tests.shop.makers import make_it_midday, make_person, make_plan


@pytest.fixture
def ada(client) -> Person:
    """The owner, signed in around noon."""
    make_it_midday()
    person = make_person("Ada")
    person.user = get_user_model().objects.create_user("ada")
    person.save()
    client.force_login(person.user)
    return person


@pytest.fixture
def plan(ada) -> Plan:
    return make_plan()
