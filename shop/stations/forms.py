"""What people fill in about the workshop."""

from __future__ import annotations

from collections import defaultdict
from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone

from shop.stations.hours_text import HoursError, Stretch, read_hours, say_hours
from shop.stations.models import DayOff, Hours, Person, Station, Workshop

YEARS_AHEAD = 5
DAYS = [(number, str(word)) for number, word in Hours.Weekday.choices]


class HoursField(forms.CharField):
    """The stretches of one day in one line."""

    def to_python(self, value: Any) -> list[Stretch]:
        try:
            return read_hours(str(value or ""))
        except HoursError as error:
            raise ValidationError(f"{self.label}: {error}.") from error


class WeekForm(forms.Form):
    """A person's week, a line a day."""

    def __init__(self, *args: Any, person: Person, **kwargs: Any) -> None:
        kwargs["initial"] = _week_words(person)
        super().__init__(*args, **kwargs)
        for _, day in DAYS:
            self.fields[day] = HoursField(label=day, required=False, max_length=80)

    def week(self) -> list[tuple[int, Any, Any]]:
        return [(number, *stretch) for number, day in DAYS for stretch in self.cleaned_data[day]]


def check_near(day: date) -> None:
    """Beyond some years it is a slip of the finger, and clocks can't count it."""
    this_year = timezone.localdate().year
    if not this_year - 1 <= day.year <= this_year + YEARS_AHEAD:
        known = f"{this_year - 1} to {this_year + YEARS_AHEAD}"
        raise ValidationError(f"The year {day.year} can't be meant: say one from {known}")


class DayOffForm(forms.ModelForm):
    """Days off of one person, or of everybody where `for_all` lets one say so."""

    everybody = forms.BooleanField(label="for everybody", required=False)

    class Meta:
        model = DayOff
        fields = ["first_day", "last_day", "why"]
        labels = {"first_day": "From", "last_day": "To, the last day off", "why": "Why, if you like"}
        widgets = {name: forms.DateInput({"type": "date"}, format="%Y-%m-%d") for name in ("first_day", "last_day")}
        error_messages = {"first_day": {"required": "Say which day is off", "invalid": "Write days like 2026-12-05"}}

    def __init__(self, *args: Any, for_all: bool, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["last_day"].required = False
        for name in ("first_day", "last_day"):
            self.fields[name].validators.append(check_near)
        if not for_all:
            del self.fields["everybody"]

    def clean(self) -> dict[str, Any]:
        said = super().clean()
        first = said.get("first_day")
        said["last_day"] = said.get("last_day") or first
        if first and said["last_day"] < first:
            self.add_error("last_day", "The last day off is before the first")
        return said


class DownForm(forms.ModelForm):
    class Meta:
        model = Station
        fields = ["down_until"]
        labels = {"down_until": "Out of order until"}
        widgets = {"down_until": forms.DateTimeInput({"type": "datetime-local"}, format="%Y-%m-%dT%H:%M")}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["down_until"].validators.append(check_near)


class MinutesForm(forms.ModelForm):
    """The minutes that don't depend on a design."""

    class Meta:
        model = Workshop
        fields = [
            "rip_minutes",
            "glue_minutes",
            "close_minutes",
            "unclamp_minutes",
            "flatten_minutes",
            "cut_blank_minutes",
            "load_minutes",
            "load_minutes_per_piece",
            "unload_minutes_per_piece",
            "bit_change_minutes",
            "pack_minutes",
            "pack_minutes_per_piece",
            "window_margin_minutes",
        ]


def _week_words(person: Person) -> dict[str, str]:
    stretches: dict[int, list[Stretch]] = defaultdict(list)
    for hours in person.hours.all():
        stretches[hours.weekday].append((hours.opens, hours.closes))
    return {day: say_hours(stretches[number]) for number, day in DAYS}
