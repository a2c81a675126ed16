"""Finishes: how much goes on, how the label's clock runs in another warmth, when the next coat may go on, the cautions.

The label on the tin and local codes win over everything here.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from math import inf, isfinite

from planner.errors import PlannerError
from planner.trade.amounts import a_number, a_share, above_zero, not_below_zero

IN2_PER_M2 = 1550.0031
FT2_MIL_PER_GALLON = 1604.0
"""One US gallon, 231 cubic inches, covers so many square feet a thousandth of an inch thick."""
COLDEST_C, HOTTEST_C = -50.0, 100.0
"""Nobody finishes wood beyond; a slip of the finger."""

RAGS = (
    "Oily rags can heat up and catch fire by themselves within hours. Never pile them: spread each flat, one layer, "
    "outdoors on bare ground until it is stiff, or drop it into a metal can with water and a tight lid, the same day. "
    "The label on the tin and local rules come first."
)
"""Source: OSHA 29 CFR 1926.252(e) and 1910.106(h); fire-service advice on drying oils."""


def surface_in2(
    outline_in2: float,
    perimeter_in: float,
    thickness_in: float,
    *,
    pocket_perimeter_in: float = 0.0,
    pocket_depth_in: float = 0.0,
) -> float:
    """What is oiled on a piece, in square inches: both faces, the edge, and the walls of its pockets.

    A pocket's floor stands for the face it was cut from. Raises PlannerError for a size below 0.
    """
    for name, value in (
        ("area of a piece", outline_in2),
        ("way round a piece", perimeter_in),
        ("thickness of a piece", thickness_in),
        ("way round its pockets", pocket_perimeter_in),
        ("depth of its pockets", pocket_depth_in),
    ):
        not_below_zero(name, value)
    return 2 * outline_in2 + perimeter_in * thickness_in + pocket_perimeter_in * pocket_depth_in


def amount_ml(area_in2: float, coats: int, cover_m2_per_litre: float) -> float:
    """Millilitres for so many coats. Raises PlannerError for a cover that is not more than 0, and for an area or
    coats below 0."""
    not_below_zero("area that is coated", area_in2)
    not_below_zero("number of coats", coats)
    if not (isfinite(cover_m2_per_litre) and cover_m2_per_litre > 0):
        raise PlannerError(f"A litre covers more than 0 square metres, not {cover_m2_per_litre:g}.")
    return coats * area_in2 / IN2_PER_M2 / cover_m2_per_litre * 1000


def coverage_m2_per_litre(solids_fraction: float, film_um: float) -> float:
    """Square metres a litre covers with a dry film of so many micrometres: 1000·solids / film. Source: geometry.

    >>> coverage_m2_per_litre(0.65, 125)
    5.2
    """
    _check_film(solids_fraction, film_um)
    return 1000 * solids_fraction / film_um


def coverage_ft2_per_gallon(solids_fraction: float, film_mil: float, transfer_fraction: float = 1.0) -> float:
    """Square feet a US gallon covers with a dry film of so many thousandths of an inch: 1604·solids·transfer / film."""
    _check_film(solids_fraction, film_mil)
    a_share("part that stays on the piece", transfer_fraction)
    return FT2_MIL_PER_GALLON * solids_fraction * transfer_fraction / film_mil


def minutes_at(label_minutes: float, label_celsius: float, now_celsius: float, least_celsius: float = 0.0) -> float:
    """A label's minutes in another warmth: twice as long for every 10 °C less (Q10 = 2), a rule of thumb.

    Raises PlannerError below the least warmth that the label allows, and for degrees that no shop has. Source: common
    rule for coatings; labels win.

    >>> round(minutes_at(8 * 60, 20, 15) / 60, 1)
    11.3
    """
    not_below_zero("time on the label in minutes", label_minutes)
    a_number("least warmth in °C", least_celsius)
    for name, celsius in (("label's warmth", label_celsius), ("warmth now", now_celsius)):
        if not COLDEST_C <= celsius <= HOTTEST_C:
            raise PlannerError(f"The {name} lies between {COLDEST_C:g} and {HOTTEST_C:g} °C, not at {celsius:g}.")
    if now_celsius < least_celsius:
        raise PlannerError(
            f"At {now_celsius:g} °C this finish doesn't dry as it should: "
            f"its label asks for {least_celsius:g} °C or more."
        )
    return float(label_minutes * 2 ** ((label_celsius - now_celsius) / 10))


@dataclass(frozen=True)
class RecoatWindow:
    """When the next coat may go on: minutes after the last, as intervals that don't meet; the last may be open."""

    intervals: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        edges = [edge for interval in self.intervals for edge in interval]
        if edges != sorted(edges) or not all(edge >= 0 for edge in edges):
            raise PlannerError("The windows for the next coat follow each other, each from its start to its end.")

    def allows(self, minutes: float) -> bool:
        not_below_zero("time since the last coat in minutes", minutes)
        return any(opens <= minutes <= closes for opens, closes in self.intervals)

    def next_allowed(self, minutes: float) -> float:
        """The first minute from then on in which it may go on. Raises PlannerError where there is none."""
        not_below_zero("time since the last coat in minutes", minutes)
        for opens, closes in self.intervals:
            if minutes <= closes:
                return max(minutes, opens)
        raise PlannerError("The window for the next coat has shut; sand and start anew, as the label says.")


def recoat_within_or_after(within_minutes: float, after_minutes: float) -> RecoatWindow:
    """At once or much later, as spray enamels ask: wet on wet, or once it is hard."""
    return RecoatWindow(((0.0, within_minutes), (after_minutes, inf)))


def cured_on(last_coat: date, cure_days: int) -> date:
    """The day from which a piece may meet food, if the label says so many days."""
    not_below_zero("number of days to cure", cure_days)
    return last_coat + timedelta(days=cure_days)


def food_note(finish: str, cure_days: int, *, has_nut_oil: bool) -> str:
    """What to tell a customer. It promises nothing that a law or a label has not."""
    said = (
        f"{finish} is fully cured about {cure_days} days after its last coat, or as long as its label says; "
        "keep food off until then."
    )
    if has_nut_oil:
        said += " It is made with nut oil: tell customers, for some are allergic."
    return said


def _check_film(solids_fraction: float, film: float) -> None:
    if not 0 < solids_fraction <= 1:
        raise PlannerError(f"Solids are a share above 0 and up to 1, not {solids_fraction:g}.")
    above_zero("thickness of a film", film)
