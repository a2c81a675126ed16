"""Who is signed in, read together with the person they are in the workshop."""

from __future__ import annotations

from django.contrib.auth.backends import ModelBackend
from django.contrib.auth.models import User


class WithPerson(ModelBackend):
    """Names and passwords as ever; the person comes along in the same query, because every page asks for both."""

    def get_user(self, user_id: int) -> User | None:
        user = User.objects.select_related("person").filter(pk=user_id).first()
        return user if user and self.user_can_authenticate(user) else None
