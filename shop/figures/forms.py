"""The figures as a form, a heading for each kind."""

from __future__ import annotations

from collections.abc import Iterator

from django import forms

from shop.figures.models import Figures

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
    "Shapes": ("sanding_radius_nm", "least_wall_nm", "least_floor_nm"),
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
