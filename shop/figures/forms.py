"""The figures as a form, a heading for each kind."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from django import forms

from planner import PlannerError, machine_dollars_an_hour
from shop.figures.models import Figures

CENT = Decimal("0.01")
PARTS = {
    "At the saw": (
        "kerf_nm",
        "jointing_nm",
        "planing_nm",
        "panel_trim_nm",
        "ripped_above_nm",
        "edge_margin_nm",
        "screw_margin_nm",
        "web_nm",
        "offcut_nm",
        "waste_percent",
    ),
    "Shapes and sanding": ("sanding_radius_nm", "grits", "least_wall_nm", "least_floor_nm"),
    "The air": ("shop_fahrenheit", "shop_humidity_percent", "home_fahrenheit", "home_humidity_percent"),
    "Money": (
        "hands_dollars_per_hour",
        "wanted_dollars_per_hour",
        "router_dollars_per_minute",
        "laser_dollars_per_minute",
        "consumables_dollars",
        "packing_dollars",
        "fee_percent",
        "fee_dollars",
        "fair_dollars_a_piece",
        "seconds_percent",
        "seconds_off_percent",
        "artwork_minutes",
        "usual_batch",
    ),
}


class FiguresForm(forms.ModelForm):
    class Meta:
        model = Figures
        fields = [name for names in PARTS.values() for name in names]

    def parts(self) -> Iterator[tuple[str, list[forms.BoundField]]]:
        """Each heading with its fields."""
        for heading, names in PARTS.items():
            yield heading, [self[name] for name in names]


class MachineForm(forms.Form):
    """What a machine was bought for and how long it serves, for what an hour of it costs."""

    price_dollars = forms.DecimalField(label="Bought for, dollars", min_value=1, max_value=1_000_000, decimal_places=2)
    salvage_dollars = forms.DecimalField(label="Sold again for, dollars", min_value=0, max_value=1_000_000, initial=0)
    years = forms.IntegerField(label="Used for, years", min_value=1, max_value=50)
    hours_a_year = forms.IntegerField(label="Runs, hours a year", min_value=1, max_value=8_760)
    interest_percent = forms.DecimalField(
        label="Interest on the money, % a year", min_value=0, max_value=100, initial=6
    )

    def says(self) -> str:
        """What an hour and a minute cost; why not, where it can't be said. Only for a form that is valid."""
        said = dict(self.cleaned_data)
        interest = said.pop("interest_percent") / 100
        try:
            rate = machine_dollars_an_hour(**said, interest_fraction=interest)
        except PlannerError as error:
            return str(error)
        minute = (rate.an_hour / 60).quantize(CENT)
        return (
            f"An hour of it costs ${rate.an_hour} in wearing out and interest, a minute about ${minute}. Current, "
            "repairs and its share of the rent come on top; bits are counted by themselves."
        )
