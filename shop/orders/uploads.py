"""Files of orders between their dry run and their import: text in the database, for a day, for whoever brought it."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from datetime import timedelta

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.db.models import QuerySet
from django.utils.timezone import now

from shop.orders.importing import guess, read_sheet
from shop.orders.models import Upload

KEPT = timedelta(days=1)
NAME_LENGTH = 120


def fresh() -> QuerySet[Upload]:
    return Upload.objects.filter(made_at__gt=now() - KEPT)


@transaction.atomic
def keep(text: str, *, name: str, owner: AbstractBaseUser) -> Upload:
    """Keep a file for its dry run, its columns guessed; the same file of the same person is kept once."""
    Upload.objects.filter(made_at__lte=now() - KEPT).delete()
    sha256 = hashlib.sha256(text.encode()).hexdigest()
    there = fresh().filter(owner=owner, sha256=sha256).first()
    return there or Upload.objects.create(
        owner=owner, name=name[:NAME_LENGTH], sha256=sha256, text=text, matching=guess(read_sheet(text).header)
    )


def match(upload: Upload, matching: Mapping[str, str]) -> None:
    """Say which header is which of our columns."""
    Upload.objects.filter(pk=upload.pk).update(matching=dict(matching))
