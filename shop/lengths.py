"""Lengths in the database: whole nanometres, read and shown as a woodworker writes them."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.db import models
from django.utils.text import capfirst

from planner import PlannerError, parse_length_nm, write_length


class LengthInput(forms.CharField):
    """Reads `15 7/8`, `15.875 in` or `403 mm` into nanometres."""

    def to_python(self, value: Any) -> int | None:
        if value in self.empty_values:
            return None
        if isinstance(value, int):
            return value
        try:
            return parse_length_nm(str(value))
        except PlannerError as error:
            raise ValidationError(str(error)) from error

    def prepare_value(self, value: Any) -> Any:
        """What is not changed in a form must come back to the nanometre."""
        return write_length(value) if isinstance(value, int) else value


class LengthField(models.PositiveBigIntegerField):
    """A length in nanometres: 1/64 in and 0.1 mm are both whole numbers, so nothing ever drifts."""

    def formfield(self, **kwargs: Any) -> forms.Field:
        wanted = {"label", "required", "help_text", "initial"}
        own = {name: value for name, value in kwargs.items() if name in wanted}
        own.setdefault("label", capfirst(self.verbose_name))
        own.setdefault("required", not self.blank)
        return LengthInput(**own)
