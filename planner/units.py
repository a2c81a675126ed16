"""Lengths: read as a woodworker writes them, kept as whole nanometres, said in 64ths of an inch.

1/64 in is exactly 396,875 nm and 0.1 mm is 100,000 nm, so neither drifts.
"""

from __future__ import annotations

import re
from fractions import Fraction

from planner.errors import PlannerError

NM_PER_INCH = 25_400_000
NM_PER_MM = 1_000_000
NM_PER_64TH = NM_PER_INCH // 64

_UNITS = {"": NM_PER_INCH, "in": NM_PER_INCH, '"': NM_PER_INCH, "″": NM_PER_INCH, "”": NM_PER_INCH}
_UNITS |= {"inch": NM_PER_INCH, "inches": NM_PER_INCH, "mm": NM_PER_MM, "cm": 10 * NM_PER_MM}

_LENGTH = re.compile(
    r"""\s* (?: (?P<whole>\d+) (?:\s+|\s*-\s*) (?=\d+\s*/) )?  # the 15 of 15 7/8
            (?: (?P<over>\d+) \s*[/⁄]\s* (?P<under>\d+) | (?P<decimal>\d+(?:\.\d+)?|\.\d+) )
        \s* (?P<unit>[a-z]*|["″”]) \.? \s*""",
    re.VERBOSE | re.IGNORECASE | re.ASCII,
)
_LONGEST_TEXT = 40


def parse_length_nm(text: str) -> int:
    """The length that `text` says, in nanometres; inches where it names no unit.

    Reads `15 7/8`, `15-7/8"`, `3/4`, `15.875 in`, `403 mm`, `40.3 cm`. What is no whole number of nanometres is rounded
    to the nearest one. Raises PlannerError, in one sentence, for anything else.
    """
    match = _LENGTH.fullmatch(text) if len(text) <= _LONGEST_TEXT else None
    unit = match and _UNITS.get(match["unit"].lower())
    if match is None or unit is None or (match["under"] and int(match["under"]) == 0):
        raise PlannerError(f"“{text[:_LONGEST_TEXT]}” is no length; write it like 15 7/8, 15.875 in or 403 mm.")
    return round(_number(match) * unit)


def say_inches(nm: int) -> str:
    """`15 7/8`: the nearest 64th of an inch in lowest terms, with ≈ before it when the length is not exactly that."""
    sixty_fourths = round(Fraction(nm, NM_PER_64TH))
    inexact = "≈" if sixty_fourths * NM_PER_64TH != nm else ""
    whole, rest = divmod(abs(sixty_fourths), 64)
    sign = "-" if sixty_fourths < 0 else ""
    parts = [str(whole)] if whole or not rest else []
    return inexact + sign + " ".join(parts + ([str(Fraction(rest, 64))] if rest else []))


def write_length(nm: int) -> str:
    """The length as `parse_length_nm` reads it back to the nanometre: `15 7/8`, else `0.4`, else `240 mm`."""
    if nm % NM_PER_64TH == 0:
        return say_inches(nm)
    ten_thousandths, rest = divmod(nm * 10_000, NM_PER_INCH)
    if not rest:
        return f"{ten_thousandths / 10_000:g}"
    return f"{nm // NM_PER_MM}.{nm % NM_PER_MM:06d}".rstrip("0").rstrip(".") + " mm"


def _number(match: re.Match[str]) -> Fraction:
    if match["decimal"]:
        return Fraction(match["decimal"])
    return int(match["whole"] or 0) + Fraction(int(match["over"]), int(match["under"]))
