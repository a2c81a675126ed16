"""Sign-ins for the demo: passwords drawn when it is loaded, kept beside the database so that they can be told again."""

from __future__ import annotations

import json
import secrets
from pathlib import Path

from django.conf import settings
from django.contrib.auth import get_user_model

from shop.stations.models import Person

WORDS = (
    "anvil beech cedar dovetail ebony ferry gull harbor inlay jetty kelp lantern mallet oar plane quay rasp sail tide"
)


def give_sign_ins() -> None:
    """Everybody in the workshop gets a user; the owner may see to everything, the back office too."""
    passwords = {}
    for person in Person.objects.all():
        username, password = person.name.lower(), _draw()
        rights = {"is_staff": person.is_owner, "is_superuser": person.is_owner}
        person.user = get_user_model().objects.create_user(username, password=password, **rights)
        person.save(update_fields=["user"])
        passwords[username] = password
    _keep(passwords)


def told() -> list[str]:
    """Who may sign in, a line each, with the passwords that still hold."""
    people = Person.objects.filter(user__isnull=False, works_here=True).select_related("user")
    passwords = _kept()
    return [f"  {person.role:<8} {_sign_in(person, passwords)}" for person in people]


def _sign_in(person: Person, passwords: dict[str, str]) -> str:
    password = passwords.get(person.user.username, "")
    known = password and person.user.check_password(password)
    return f"{person.user.username}, password {password if known else 'as last set'}"


def _draw() -> str:
    return "-".join([*(secrets.choice(WORDS.split()) for _ in range(3)), str(secrets.randbelow(9000) + 1000)])


def _file() -> Path:
    return settings.DATA / "demo-sign-ins.json"


def _keep(passwords: dict[str, str]) -> None:
    settings.DATA.mkdir(parents=True, exist_ok=True)
    file = _file()
    file.touch(mode=0o600)
    file.write_text(json.dumps(passwords))


def _kept() -> dict[str, str]:
    return json.loads(_file().read_text()) if _file().exists() else {}
