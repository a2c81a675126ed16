"""What SVG lets a length, a list of points, a path and a move be, each written anew in one plain form.

Readers of SVG stop at a broken end, or pass it over, and say nothing; here it is refused in a sentence. What comes out
is in px at 96 an inch with blanks between its parts, so that there is one way to read it.
Source: SVG 1.1 (2011), 4.2, 7.6, 8.3.9 and 9.7.1; CSS Values and Units 3, 6.2.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from planner.errors import OutlineError

LARGEST = 1_000_000
MOST_NUMBERS = 30_000
"""In one list. The gate counts those of all shapes together."""
PX_IN = {
    "in": 96.0,
    "mm": 96 / 25.4,
    "cm": 96 / 2.54,
    "pt": 96 / 72,
    "pc": 96 / 6,
    "q": 96 / 101.6,
    "px": 1.0,
    "": 1.0,
}
"""px in one unit. 96 px are an inch, a Q a quarter of a millimetre."""
SHARE = "%"
"""The unit of a length that is a share of the drawing's."""

_NUMBER = r"[-+]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][-+]?[0-9]+)?"
_BLANK = r"[ \t\r\n\f]*"
_A_NUMBER = re.compile(f"({_NUMBER}){_BLANK},?{_BLANK}")
_A_FLAG = re.compile(f"([01]){_BLANK},?{_BLANK}")
_LENGTH = re.compile(f"{_BLANK}({_NUMBER})([a-zA-Z]*|%){_BLANK}")
_COMMAND = re.compile(r"([MmZzLlHhVvCcSsQqTtAa])([^MmZzLlHhVvCcSsQqTtAa]*)")
_MOVE = re.compile(rf"([a-zA-Z]+){_BLANK}\(([^()]*)\){_BLANK},?{_BLANK}")

_ARGUMENTS = {
    "A": (_A_NUMBER, _A_NUMBER, _A_NUMBER, _A_FLAG, _A_FLAG, _A_NUMBER, _A_NUMBER),
    "C": (_A_NUMBER,) * 6,
    "S": (_A_NUMBER,) * 4,
    "Q": (_A_NUMBER,) * 4,
    **dict.fromkeys("MLT", (_A_NUMBER,) * 2),
    **dict.fromkeys("HV", (_A_NUMBER,)),
    "Z": (),
}
_MOVED_BY = {"matrix": {6}, "translate": {1, 2}, "scale": {1, 2}, "rotate": {1, 3}, "skewX": {1}, "skewY": {1}}


class Length(NamedTuple):
    """A length in px at 96 an inch, or in hundredths where its unit is a share; and the unit it was given in."""

    value: float
    unit: str


def length_of(text: str) -> Length | None:
    """None where it is no length, or one in a unit of type or window that is no length by itself."""
    match = _LENGTH.fullmatch(text)
    unit = match[2].lower() if match else ""
    if not match or unit not in PX_IN | {SHARE: 1.0}:
        return None
    return Length(_number(match[1]) * PX_IN.get(unit, 1.0), unit)


def numbers_in(text: str) -> list[float] | None:
    """A list of numbers with blanks or single commas between them; None where it is anything else."""
    found = _values(text, (_A_NUMBER,))
    return None if found is None else [float(number) for number in found]


def points_of(text: str, name: str) -> str:
    """The points of a polyline or polygon. Raises OutlineError where they are not pairs of numbers."""
    found = _values(text, (_A_NUMBER, _A_NUMBER))
    if found is None:
        raise OutlineError(f"The {name}'s points are not pairs of numbers (“{_said(text)}”); draw it anew.")
    return " ".join(found)


def path_of(text: str) -> str:
    """A path's data. Raises OutlineError where a command is none or has more or fewer numbers than it takes."""
    whole = text.strip(" \t\r\n\f")
    if whole and whole[0] not in "Mm":
        raise OutlineError(f"The drawing has a path that can't be read (“{_said(whole)}”); draw it anew.")
    parts: list[str] = []
    for match in _COMMAND.finditer(whole):
        command, rest = match.groups()
        kinds = _ARGUMENTS[command.upper()]
        values = _values(rest, kinds)
        if values is None or bool(values) != bool(kinds):
            raise OutlineError(f"The drawing has a path that can't be read at “{_said(command + rest)}”; draw it anew.")
        parts += [command, *values]
        check_amount(len(parts) // 2)
    return " ".join(parts)


def moves_of(text: str, name: str) -> str:
    """A transform. Raises OutlineError where a move is none, or has more or fewer numbers than it takes."""
    moves: list[str] = []
    rest = text.strip(" \t\r\n\f")
    at = 0
    while at < len(rest):
        match = _MOVE.match(rest, at)
        values = _values(match[2], (_A_NUMBER,)) if match else None
        if not match or values is None or len(values) not in _MOVED_BY.get(match[1], ()):
            raise OutlineError(
                f"The {name} is moved by “{_said(rest[at:])}”, which SVG doesn't know; draw it in place."
            )
        moves.append(f"{match[1]}({' '.join(values)})")
        at = match.end()
    if rest.endswith(","):
        raise OutlineError(f"The {name}'s moves end with a comma; draw it in place.")
    return " ".join(moves)


def check_amount(numbers: int) -> None:
    """Raises OutlineError where a drawing has so many numbers that it takes long to follow it."""
    if numbers > MOST_NUMBERS:
        raise OutlineError(f"The drawing has more than {MOST_NUMBERS // 2} points; simplify its outline.")


def _values(text: str, kinds: Sequence[re.Pattern[str]]) -> list[str] | None:
    """The numbers of a list, each of its kind in turn; None where one is missing or something else is between."""
    whole = text.strip(" \t\r\n\f")
    values: list[str] = []
    at = 0
    while at < len(whole):
        kind = kinds[len(values) % len(kinds)] if kinds else None
        match = kind.match(whole, at) if kind else None
        if not match:
            return None
        values.append(match[1] if kind is _A_FLAG else f"{_number(match[1])!r}")
        check_amount(len(values))
        at = match.end()
    is_whole = not whole.endswith(",") and (not kinds or len(values) % len(kinds) == 0)
    return values if is_whole else None


def _number(text: str) -> float:
    value = float(text)
    if not abs(value) <= LARGEST:
        raise OutlineError(f"The drawing has the number {text[:20]} in it, larger than any workshop.")
    return value


def _said(text: str) -> str:
    """So much of it as a sentence holds, on one line."""
    return " ".join(text[:60].split())[:20]
