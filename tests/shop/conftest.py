"""Who is signed in."""

from __future__ import annotations

import pytest
from django.contrib.auth import get_user_model
from django.test import Client

from shop.stations.models import Person
from tests.shop.makers import make_person


def signed_in(role: str) -> Client:
    person = make_person(role=role)
    person.user = get_user_model().objects.create_user(f"user {person.pk}")
    person.save()
    client = Client()
    client.force_login(person.user)
    client.person = person
    return client


@pytest.fixture
def owner(db) -> Client:
    return signed_in(Person.Role.OWNER)


@pytest.fixture
def partner(db) -> Client:
    return signed_in(Person.Role.PARTNER)
