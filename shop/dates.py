"""Days in addresses: router/2026-12-03/."""

from datetime import date

from django.urls import register_converter


class DayConverter:
    """A day as ISO 8601 writes it, in this millennium; anything else is no such page."""

    regex = r"2\d{3}-\d{2}-\d{2}"

    def to_python(self, value: str) -> date:
        return date.fromisoformat(value)

    def to_url(self, value: date) -> str:
        return value.isoformat()


register_converter(DayConverter, "day")
