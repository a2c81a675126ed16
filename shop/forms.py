"""What is wrong with forms, for the summary on top of a page."""

from __future__ import annotations

from collections.abc import Iterator

from django.forms import BaseForm


def problems_of(*forms: BaseForm) -> Iterator[tuple[str, str]]:
    """Each error with the id of its field, in the order of the page; templates/_problems.html shows them."""
    for form in forms:
        for name, errors in form.errors.items():
            yield from ((form[name].auto_id if name in form.fields else "", error) for error in errors)
