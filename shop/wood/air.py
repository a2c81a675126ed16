"""Moisture: what the shop's air keeps wood at, which boards rest first, how a piece moves at a customer's."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from django import forms

from planner import NM_PER_INCH, Air, Movement, PlannerError, moisture_findings, shop_to_home
from shop.figures.models import Figures
from shop.lengths import LengthInput
from shop.stock.models import Blank, Board, Species
from shop.wood.naming import board_names
from shop.words import inches


class MovementForm(forms.Form):
    """How a piece of some width moves from one air to another."""

    wood = forms.ModelChoiceField(Species.objects.all(), label="Wood", empty_label=None)
    width = LengthInput(label="Width across the grain")
    from_f = forms.IntegerField(label="Here, °F", min_value=30, max_value=130)
    from_humidity = forms.DecimalField(label="Here, humidity %", min_value=0, max_value=99)
    to_f = forms.IntegerField(label="There, °F", min_value=30, max_value=130)
    to_humidity = forms.DecimalField(label="There, humidity %", min_value=0, max_value=99)

    @classmethod
    def asked(cls, said: Mapping[str, str], figures: Figures) -> MovementForm:
        """With what was asked, else with the workshop's air and a customer's."""
        if "width" in said:
            return cls(said)
        return cls(
            initial={
                "width": 254_000_000,
                "from_f": figures.shop_fahrenheit,
                "from_humidity": figures.shop_humidity_percent,
                "to_f": figures.home_fahrenheit,
                "to_humidity": figures.home_humidity_percent,
            }
        )

    def movement(self) -> Movement | None:
        """None where nothing was asked, or what was asked can't be reckoned; then the form says why."""
        if not (self.is_bound and self.is_valid()):
            return None
        try:
            return self._movement()
        except PlannerError as error:
            self.add_error(None, str(error))
            return None

    def _movement(self) -> Movement:
        said = self.cleaned_data
        here = Air(said["from_f"], float(said["from_humidity"]) / 100)
        there = Air(said["to_f"], float(said["to_humidity"]) / 100)
        return shop_to_home(said["width"] / NM_PER_INCH, said["wood"].wood, here, there)


@dataclass(frozen=True)
class Moisture:
    """What the shop's air keeps wood at, and what to say of boards and blanks before they are worked."""

    shop_percent: float
    findings: tuple[str, ...]


def moisture(figures: Figures) -> Moisture:
    shop = figures.shop_air.moisture_percent
    metered = Board.objects.filter(quantity__gt=0, moisture_percent__isnull=False).select_related("species")
    names = board_names(metered)
    by_wood: dict[str, list[tuple[str, float]]] = {}
    for board in metered:
        by_wood.setdefault(board.species.name, []).append((names[board.pk], float(board.moisture_percent)))
    said = [finding for strips in by_wood.values() for finding in moisture_findings(strips, shop)]
    blanks = Blank.objects.filter(quantity__gt=0, moisture_percent__isnull=False).select_related("species")
    for blank in blanks:
        # One by one: blanks lie beside each other on the bed, but nothing is glued of two.
        said += moisture_findings([(_blank_name(blank), float(blank.moisture_percent))], shop)
    return Moisture(shop, tuple(said))


def _blank_name(blank: Blank) -> str:
    return f"The blank of {blank.species} {inches(blank.length_nm)} × {inches(blank.width_nm)}"
