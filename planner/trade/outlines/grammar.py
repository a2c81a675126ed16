"""What SVG's grammars let stand in a path, a list of points and a list of moves.

Programs draw a path that breaks the grammar as far as they understand it, each as far as another one. So it is read
here to its end, and refused whole. Source: SVG 1.1 (2011), 8.3.9 (paths), 9.7.1 (points), 7.6 (transform).
"""

from __future__ import annotations

import re

_SPACES = r"[ \t\r\n\f]*+"
_NUMBER = r"[-+]?(?:[0-9]++\.?[0-9]*+|\.[0-9]++)(?:[eE][-+]?[0-9]++)?"
_COMMA = rf"{_SPACES}(?:,{_SPACES})?+"


def _sets(*kinds: str) -> re.Pattern[str]:
    """One set of arguments or more, commas and spaces between."""
    one = _COMMA.join(kinds)
    return re.compile(rf"{_SPACES}{one}(?:{_COMMA}{one})*+{_SPACES}")


_FLAG = "[01]"
_ARGUMENTS = {
    "m": _sets(*[_NUMBER] * 2),
    "l": _sets(*[_NUMBER] * 2),
    "t": _sets(*[_NUMBER] * 2),
    "h": _sets(_NUMBER),
    "v": _sets(_NUMBER),
    "s": _sets(*[_NUMBER] * 4),
    "q": _sets(*[_NUMBER] * 4),
    "c": _sets(*[_NUMBER] * 6),
    "a": _sets(_NUMBER, _NUMBER, _NUMBER, _FLAG, _FLAG, _NUMBER, _NUMBER),
    "z": re.compile(_SPACES),
}
_MOVES = {"matrix": {6}, "translate": {1, 2}, "scale": {1, 2}, "rotate": {1, 3}, "skewX": {1}, "skewY": {1}}

_NUMBERS = re.compile(rf"{_SPACES}{_NUMBER}(?:{_COMMA}{_NUMBER})*+{_SPACES}")
_ONE_NUMBER = re.compile(_NUMBER)
_MOVE = re.compile(rf"{_COMMA}([a-zA-Z]++){_SPACES}\(([^()]*+)\){_SPACES}")


def path_fault(text: str) -> str | None:
    """Where a path stops being one, with some of what stands there; None where it is one to its end.

    >>> path_fault("M0 0 L 1"), path_fault("M0 0 h5v5z")
    ('L 1', None)
    """
    place = first = len(text) - len(text.lstrip(" \t\r\n\f"))
    while place < len(text):
        command = text[place].lower()
        arguments = _ARGUMENTS.get(command)
        read = arguments.match(text, place + 1) if arguments and (place > first or command == "m") else None
        if read is None:
            return text[place : place + 20]
        last, place = place, read.end()
        if place < len(text) and text[place].lower() not in _ARGUMENTS:
            return text[last : last + 20]
    return None


def points_fault(text: str) -> bool:
    """Whether these are no pairs of numbers. No points at all are a shape that isn't drawn."""
    return bool(text.strip()) and (not _NUMBERS.fullmatch(text) or len(_ONE_NUMBER.findall(text)) % 2 == 1)


def moves_fault(text: str) -> str | None:
    """The first move that is none, or has too many or too few numbers; None where each is one.

    >>> moves_fault("translate(1) rotate()"), moves_fault("scale(2, 3)")
    ('rotate()', None)
    """
    place = 0
    text = text.strip()
    while place < len(text):
        move = _MOVE.match(text, place)
        counts = _MOVES.get(move[1], set()) if move else set()
        if not move or (place == 0 and text.startswith(",")):
            return text[place : place + 30].strip()
        numbers = len(_ONE_NUMBER.findall(move[2])) if _NUMBERS.fullmatch(move[2]) else 0
        if numbers not in counts:
            return move[0].strip(" \t\r\n\f,")[:30]
        place = move.end()
    return None
