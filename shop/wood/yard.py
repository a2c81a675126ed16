"""At the yard: how much of which grade to ask for, and what the boards picked out will be charged as."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from planner import (
    NM_PER_INCH,
    QUARTERS,
    PlannerError,
    board_feet,
    in_grade,
    parse_length_nm,
    rough_in,
    surface_measures,
)
from shop.figures.models import Figures
from shop.stock.models import Species

GRADES = ("FAS", "No. 1 Common", "No. 2 Common")
"""Lower ones give no part as large as ware takes."""
MOST_BOARDS = 200
BY = re.compile(r"\s*(?:[x×*]|by)\s*", re.IGNORECASE)


@dataclass(frozen=True)
class Wish:
    """So many board feet of a wood in a quarter, in each grade, and what that costs at the wood's price."""

    species: str
    quarter: str
    board_feet: int
    grades: tuple[tuple[str, int], ...]
    dollars: Decimal


def wishes(buy: Sequence[Sequence[Any]], figures: Figures) -> list[Wish]:
    """`buy` as the wood plan keeps it: wood, quarter, board feet with waste on top."""
    waste = float(figures.waste_percent) / 100
    prices = dict(Species.objects.values_list("name", "dollars_per_board_foot"))
    return [
        Wish(
            species,
            quarter,
            feet,
            tuple((grade, in_grade(feet, grade, waste_fraction=waste)) for grade in GRADES),
            feet * prices.get(species, Decimal(0)),
        )
        for species, quarter, feet in buy
    ]


@dataclass(frozen=True)
class Tally:
    """Boards as the yard tallies them."""

    feet: tuple[int, ...]
    board_feet: float
    dollars: Decimal


class TallyForm(forms.Form):
    """Boards picked out at the yard, one a line."""

    tally_wood = forms.ModelChoiceField(Species.objects.all(), label="Wood", empty_label=None)
    quarter = forms.ChoiceField(label="Thickness", choices=[(each, each) for each in QUARTERS])
    boards = forms.CharField(
        label="Boards, one a line",
        help_text="width in inches × length in feet, like 6 1/4 × 8",
        widget=forms.Textarea(attrs={"rows": 4}),
        max_length=MOST_BOARDS * 30,
    )

    @classmethod
    def asked(cls, said: Mapping[str, str]) -> TallyForm:
        return cls(said) if "boards" in said else cls()

    def clean_boards(self) -> list[tuple[float, float]]:
        lines = [line for line in self.cleaned_data["boards"].splitlines() if line.strip()]
        if len(lines) > MOST_BOARDS:
            raise ValidationError(f"These are {len(lines)} boards; tally {MOST_BOARDS} at once.")
        return [_read(number, line) for number, line in enumerate(lines, start=1)]

    def tally(self) -> Tally | None:
        """None where nothing was asked, or what was asked can't be read; then the form says why."""
        if not (self.is_bound and self.is_valid()):
            return None
        said = self.cleaned_data
        feet = surface_measures(said["boards"])
        total = sum(board_feet(each, rough_in(said["quarter"])) for each in feet)
        return Tally(feet, total, Decimal(str(total)) * said["tally_wood"].dollars_per_board_foot)


def _read(number: int, line: str) -> tuple[float, float]:
    sides = BY.split(line.strip())
    try:
        width_in, length_ft = (parse_length_nm(side) / NM_PER_INCH for side in sides)
    except (PlannerError, ValueError) as error:
        raise ValidationError(
            f"Line {number}, “{line.strip()}”, is no board: write its width in inches × its length in feet, "
            "like 6 1/4 × 8."
        ) from error
    if min(width_in, length_ft) <= 0:
        raise ValidationError(f"Line {number}, “{line.strip()}”: width and length are more than 0.")
    return width_in, length_ft
