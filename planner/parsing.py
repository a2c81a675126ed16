"""JSON as its standard has it: a number is a number, no name stands twice, and what is wrong is said with its place."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

from planner.errors import PlannerError
from planner.fields import row_name

MOST_DIGITS = 400  # of a whole number; more are no double either


class NoNumber:
    """Something that stands where a number should and is none, as it was written."""

    def __init__(self, written: str) -> None:
        self.written = written


class Doubled(dict[str, Any]):
    """An object in which a name stands twice."""

    def __init__(self, pairs: list[tuple[str, Any]]) -> None:
        super().__init__(pairs)
        seen: set[str] = set()
        self.name = next(name for name, _ in pairs if name in seen or seen.add(name))  # type: ignore[func-returns-value]


def parsed(data: bytes, what: str, refuse: type[PlannerError]) -> object:
    """The value of a JSON text (RFC 8259) in UTF-8, in which every number is one and no name stands twice."""
    try:
        value, doubtful = _loads(data.decode("utf-8-sig"))
    except UnicodeDecodeError as error:
        raise refuse(f"{what}: not UTF-8 at byte {error.start}") from None
    except json.JSONDecodeError as error:
        raise refuse(f"{what}: not JSON: {error if data.strip() else 'the document is empty'}") from None
    except RecursionError:
        raise refuse(f"{what}: nested too deep to be read") from None
    if doubtful:
        raise refuse(f"{what}: not JSON: {_flaw(value)}")
    return value


def _loads(text: str) -> tuple[object, bool]:
    """The value, and whether there is a flaw somewhere in it."""
    reader = _Reader()
    try:
        return reader.loads(text), reader.doubtful
    except json.JSONDecodeError:
        raise
    except ValueError:  # a number of thousands of digits: once more, slowly, to know where it stands
        reader = _Reader()
        return reader.loads(text, parse_int=reader.whole), reader.doubtful


class _Reader:
    """Marks the first thing that JSON does not have, for `_flaw` to find; a parser's hook does not know its place."""

    def __init__(self) -> None:
        self.doubtful = False

    def loads(self, text: str, **more: Any) -> object:
        return json.loads(text, object_pairs_hook=self.pairs, parse_constant=self.constant, **more)

    def pairs(self, pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        made = dict(pairs)
        if len(made) == len(pairs) or self.doubtful:
            return made
        self.doubtful = True
        return Doubled(pairs)

    def constant(self, name: str) -> NoNumber | None:
        return self._no_number(f"{name}, which is no number")

    def whole(self, digits: str) -> int | NoNumber | None:
        if len(digits) <= MOST_DIGITS:
            return int(digits)
        return self._no_number(f"a number of {len(digits):,} digits")

    def _no_number(self, written: str) -> NoNumber | None:
        if self.doubtful:
            return None
        self.doubtful = True
        return NoNumber(written)


def _flaw(value: object) -> str:
    """The flaw that was marked in a value, with its place."""
    way = _way_to_flaw(value)
    if way is None:  # swallowed, with what stood under the first of two equal names
        return "a name stands twice in one object"
    words: list[str] = []
    for place, key in enumerate(way):
        value = value[key]  # type: ignore[index]
        if isinstance(key, str):
            words.append(key)
        elif place and isinstance(way[place - 1], str):
            words[-1] = row_name(words[-1], value, key)
        else:
            words[-1:] = [f"{''.join(words[-1:])}[{key}]"]
    if isinstance(value, Doubled):
        return ": ".join([*words, f"{value.name} stands there twice"])
    return f"{': '.join(words) or 'the value'} is {value.written}"  # type: ignore[attr-defined]


def _way_to_flaw(value: object) -> list[Any] | None:
    """The names and places that lead to the marked flaw; without recursion, as it may be deep."""
    if isinstance(value, NoNumber | Doubled):
        return []
    way: list[Any] = []
    waiting = [_inside(value)]
    while waiting:
        for key, each in waiting[-1]:
            if isinstance(each, NoNumber | Doubled):
                return [*way, key]
            if isinstance(each, list | dict):
                way.append(key)
                waiting.append(_inside(each))
                break
        else:
            waiting.pop()
            del way[-1:]
    return None


def _inside(value: object) -> Iterator[tuple[Any, object]]:
    """The names or places of a value's parts, with the parts."""
    if isinstance(value, dict):
        return iter(value.items())
    return enumerate(value) if isinstance(value, list) else iter(())
