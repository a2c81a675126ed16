"""What is wrong with forms, for the summary on top of a page."""

from __future__ import annotations

from collections.abc import Iterator

from django.core.exceptions import ValidationError
from django.forms import BaseForm, BoundField, Field

NAMELESS = {
    "invalid",
    "invalid_choice",
    "invalid_date",
    "invalid_time",
    "max_decimal_places",
    "max_digits",
    "max_length",
    "max_value",
    "max_whole_digits",
    "min_value",
}
"""Codes of Django's own sentences, which don't say which field they are about."""


def problems_of(*forms: BaseForm) -> Iterator[tuple[str, str]]:
    """Each error with the id of its field, in the order of the page; templates/_problems.html shows them."""
    for form in forms:
        for name, errors in form.errors.as_data().items():
            field = form[name] if name in form.fields else None
            for error in errors:
                for said in error.messages:
                    yield (field.auto_id, _named(field, error, said)) if field else ("", said)


def _named(field: BoundField, error: ValidationError, said: str) -> str:
    """The sentence with its field's name before it, unless the form has words of its own for it."""
    if said == Field.default_error_messages["required"]:
        return f"{field.label}: fill this in."
    usual = {code: words for each in type(field.field).__mro__ for code, words in _words_of(each).items()}
    own = field.field.error_messages.get(error.code)
    return said if error.code not in NAMELESS or (own and own != usual.get(error.code)) else f"{field.label}: {said}"


def _words_of(kind: type) -> dict[str, str]:
    words: dict[str, str] = getattr(kind, "default_error_messages", {})
    return words
