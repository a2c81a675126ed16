"""Boards as the yard measures and sells them: surface measure, board feet, quarters, grades, what to buy."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor, isfinite

from planner.errors import PlannerError
from planner.units import NM_PER_INCH, say_inches

WASTE_FRACTION = 0.20
"""Bought on top of what is needed. Square-edged hardwood 15 to 20 %: a trade course on cutting lists."""

CUBIC_IN_A_BOARD_FOOT = 144
HALF = Fraction(1, 2)
HAIR_IN = 1e-6

QUARTERS = ("4/4", "5/4", "6/4", "8/4", "12/4", "16/4")
"""The rough thicknesses that a yard sells, in quarters of an inch, thinnest first."""

PLANING_IN = 0.1875
"""Off a rough board's thickness until both faces are flat: a wood dealer's guide, 3/16 in, 1/4 in off thick stock."""

_GRADES = {
    "FAS": Fraction(10, 12),
    "No. 1 Common": Fraction(8, 12),
    "No. 2 Common": Fraction(6, 12),
    "No. 3A Common": Fraction(4, 12),
    "No. 3B Common": Fraction(3, 12),
}


def surface_measure(width_in: float, length_ft: float, *, half_goes_up: bool = True) -> int:
    """The surface measure of one board in square feet: width × length / 12 to the nearest whole.

    The length counts down to the whole foot. An exact half goes up or down as `half_goes_up` says; `surface_measures`
    alternates for a pile. Raises PlannerError for a width or length that is not above 0. Source: NHLA Rules for the
    Measurement and Inspection of Hardwood and Cypress, surface measure.

    >>> surface_measure(6.25, 8)
    4
    """
    square_feet = _square_feet(width_in, length_ft)
    if square_feet % 1 == HALF:
        return floor(square_feet) + half_goes_up
    return floor(square_feet + HALF)


def surface_measures(boards: Iterable[tuple[float, float]]) -> tuple[int, ...]:
    """The surface measures of a pile of boards (width in inches, length in feet), in order.

    Of exact halves the first goes up, the next down, and so on. Source: Wengert on rounding numbers when figuring
    lumber, after the NHLA rules.

    >>> surface_measures([(9, 6), (9, 6)])
    (5, 4)
    """
    goes_up, found = True, []
    for width_in, length_ft in boards:
        found.append(surface_measure(width_in, length_ft, half_goes_up=goes_up))
        if _square_feet(width_in, length_ft) % 1 == HALF:
            goes_up = not goes_up
    return tuple(found)


def board_feet(surface_measure_ft2: int, thickness_in: float) -> float:
    """What the yard charges for: surface measure, rounded first, times thickness; under 1 in counts as 1 in.

    Raises PlannerError for a thickness that is not above 0. Source: NHLA rules, board measure; thickness under 1 in:
    from memory.

    >>> board_feet(surface_measure(6.25, 8), 2)
    8.0
    """
    _check("thickness", thickness_in)
    return surface_measure_ft2 * max(1.0, float(thickness_in))


def true_board_feet(length_in: float, width_in: float, thickness_in: float) -> float:
    """The wood of a board in board feet (144 in³), nothing rounded; thickness under 1 in counts as 1 in.

    All sizes in inches. Raises PlannerError for one that is not above 0.

    >>> true_board_feet(96, 6, 1)
    4.0
    """
    for name, value in (("length", length_in), ("width", width_in), ("thickness", thickness_in)):
        _check(name, value)
    return length_in * width_in * max(1.0, thickness_in) / CUBIC_IN_A_BOARD_FOOT


def rough_in(quarter: str) -> float:
    """The rough thickness of a quarter in inches: 4/4 is 1 in. Raises PlannerError for one that is not sold."""
    if quarter not in QUARTERS:
        raise PlannerError(f"“{quarter}” is no quarter that is sold; it is one of {', '.join(QUARTERS)}.")
    return int(quarter.removesuffix("/4")) / 4


def quarter_for(finished_thickness_in: float, *, planing_in: float = PLANING_IN) -> str:
    """The thinnest quarter that is still as thick once `planing_in` is planed off it, both faces together.

    Raises PlannerError where none is.

    >>> quarter_for(0.75), quarter_for(1), quarter_for(0.75, planing_in=0.375)
    ('4/4', '5/4', '5/4')
    """
    _check("finished thickness", finished_thickness_in)
    if not (isfinite(planing_in) and planing_in >= 0):
        raise PlannerError(f"What is planed off a board is 0 in or more, not {planing_in:g}.")
    for quarter in QUARTERS:
        if finished_thickness_in + planing_in <= rough_in(quarter) + HAIR_IN:
            return quarter
    thickest = QUARTERS[-1]
    raise PlannerError(
        f"No yard's board is thick enough for {_inches(finished_thickness_in)} in: once planed, {thickest} leaves "
        f"{_inches(rough_in(thickest) - planing_in)} in; glue it up from thinner boards, face to face."
    )


def is_sold_so_thick(finished_thickness_in: float, *, planing_in: float = PLANING_IN) -> bool:
    """Whether any quarter gives a finished thickness. Raises PlannerError for one that is not above 0."""
    _check("finished thickness", finished_thickness_in)
    return finished_thickness_in + planing_in <= rough_in(QUARTERS[-1]) + HAIR_IN


def clear_fraction(grade: str) -> float:
    """The least share of a board's surface that its grade promises in clear cuttings.

    It is the grader's promise, not the shop's yield in parts. Raises PlannerError for an unknown grade. Source: NHLA
    rules, standard grades.
    """
    if grade not in _GRADES:
        raise PlannerError(f"“{grade}” is no grade; it is one of {', '.join(_GRADES)}.")
    return float(_GRADES[grade])


def in_grade(board_feet_with_waste: int, grade: str, *, waste_fraction: float = WASTE_FRACTION) -> int:
    """Whole board feet of a grade that promise the clear wood wanted, given what is bought with waste on top.

    Never less than with the waste: knots are what a grade tells of, ends and kerf come with any. Raises PlannerError
    for an unknown grade and for a waste that is no share of 0 or more.

    >>> in_grade(12, "FAS"), in_grade(12, "No. 1 Common")
    (12, 15)
    """
    _check_waste(waste_fraction)
    needed = board_feet_with_waste / (1 + waste_fraction)
    return ceil(max(board_feet_with_waste, needed / clear_fraction(grade)) - HAIR_IN)


@dataclass(frozen=True, slots=True)
class FinishedPart:
    """What is to be made: so many parts of a finished size in inches."""

    length_in: float
    width_in: float
    thickness_in: float
    quantity: int = 1

    def __post_init__(self) -> None:
        for name in ("length_in", "width_in", "thickness_in"):
            _check(name.removesuffix("_in"), getattr(self, name))
        if not self.quantity >= 0:
            raise PlannerError(f"The quantity of a part is 0 or more, not {self.quantity}.")


def to_buy(
    parts: Iterable[FinishedPart], *, planing_in: float = PLANING_IN, waste_fraction: float = WASTE_FRACTION
) -> dict[str, int]:
    """Whole board feet to buy for parts, by quarter, thinnest first, with the waste on top.

    A part counts in the rough thickness of its quarter, which allows for `planing_in`. `waste_fraction` is a share of
    what is needed: 0.2 buys 1.2 times as much. Raises PlannerError for a part that no quarter gives and for a waste
    that is no share of 0 or more.

    >>> to_buy([FinishedPart(16, 9, 0.75, 10)])
    {'4/4': 12}
    """
    _check_waste(waste_fraction)
    needed: dict[str, float] = defaultdict(float)
    for part in parts:
        if part.quantity:
            quarter = quarter_for(part.thickness_in, planing_in=planing_in)
            needed[quarter] += part.quantity * true_board_feet(part.length_in, part.width_in, rough_in(quarter))
    return {each: ceil(needed[each] * (1 + waste_fraction) - HAIR_IN) for each in QUARTERS if each in needed}


def _square_feet(width_in: float, length_ft: float) -> Fraction:
    """Width times whole feet, exactly as a fraction, so that a half is seen to be one."""
    _check("width", width_in)
    _check("length", length_ft)
    return Fraction(width_in) * floor(length_ft) / 12


def _inches(value_in: float) -> str:
    return say_inches(round(value_in * NM_PER_INCH))


def _check_waste(waste_fraction: float) -> None:
    if not (isfinite(waste_fraction) and waste_fraction >= 0):
        raise PlannerError(f"Waste is a share of 0 or more (0.2 for 20 %), not {waste_fraction:g}.")


def _check(name: str, value: float) -> None:
    if not (isfinite(value) and value > 0):
        raise PlannerError(f"The {name} of a board or part is above 0, not {value:g}; give it as a number.")
