"""What holds for the whole order on the pad: for whom, sold where, due when."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django import forms
from django.utils import timezone

from shop.orders.dates import end_of
from shop.orders.models import Fair, Order
from shop.words import day_name

AT_THE_FAIR, ANOTHER_DAY = "fair", "day"
WEEKS = (1, 2, 3)


class FairField(forms.ModelChoiceField):
    def label_from_instance(self, fair: Fair) -> str:
        return f"{fair.name}, {day_name(fair.opens_at)}"


class OrderForm(forms.Form):
    form_key = forms.UUIDField(widget=forms.HiddenInput)
    channel = forms.ChoiceField(
        label="Ordered", choices=Order.Channel.choices, widget=forms.RadioSelect,
        error_messages={"required": "Say how it was ordered"},
    )  # fmt: skip
    fair = FairField(Fair.objects.none(), required=False, label="Which fair", empty_label="no fair")
    due = forms.ChoiceField(label="Due", widget=forms.RadioSelect, error_messages={"required": "Say when it is due"})
    due_day = forms.DateField(
        label="The day it is due", required=False, widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"),
        error_messages={"invalid": "Write the day like 2026-12-05"},
    )  # fmt: skip
    customer = forms.CharField(
        label="For whom", required=False, max_length=80, error_messages={"max_length": "The name is too long"}
    )
    note = forms.CharField(label="Note", required=False, max_length=2000, widget=forms.Textarea({"rows": 2}))

    def __init__(self, *args: Any, zone: ZoneInfo, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.zone = zone
        self.fields["fair"].queryset = Fair.objects.filter(opens_at__gt=timezone.now() - timedelta(days=3))
        self.fields["due"].choices = _due_choices()
        self.fields["customer"].widget.attrs["autocomplete"] = "off"

    def clean(self) -> dict[str, Any]:
        said = super().clean()
        if said.get("channel") == Order.Channel.FAIR and not said.get("fair") and "fair" not in self.errors:
            self.add_error("fair", "Choose the fair it is for")
        if not self.errors:
            said["due_at"] = self._due_at(said)
            self._check_due(said)
        return said

    def _due_at(self, said: dict[str, Any]) -> datetime | None:
        if said["due"] == AT_THE_FAIR:
            return said["fair"].opens_at if said["fair"] else None
        if said["due"] == ANOTHER_DAY:
            return end_of(said["due_day"], self.zone) if said["due_day"] else None
        return end_of(timezone.localdate() + timedelta(weeks=int(said["due"])), self.zone)

    def _check_due(self, said: dict[str, Any]) -> None:
        due_at, fair = said["due_at"], said["fair"]
        if due_at is None and said["due"] == AT_THE_FAIR:
            self.add_error("fair", "Choose the fair at which it is due")
        elif due_at is None:
            self.add_error("due_day", "Say which day it is due")
        elif due_at < timezone.now():
            self.add_error("due_day" if said["due"] == ANOTHER_DAY else "fair", "That is in the past")
        elif said["channel"] == Order.Channel.FAIR and due_at > fair.opens_at:
            self.add_error("due", f"{fair.name} opens {day_name(fair.opens_at)}: it must be ready by then")

    def order(self) -> Order:
        said = self.cleaned_data
        return Order(
            form_key=said["form_key"],
            channel=said["channel"],
            fair=said["fair"],
            due_at=said["due_at"],
            is_hard=said["channel"] == Order.Channel.FAIR,
            note=said["note"],
        )


def _due_choices() -> list[tuple[str, str]]:
    today = timezone.localdate()
    weeks = [(str(n), day_name(today + timedelta(weeks=n))) for n in WEEKS]
    return [(AT_THE_FAIR, "fair opens"), *weeks, (ANOTHER_DAY, "another day")]
