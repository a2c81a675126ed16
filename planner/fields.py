"""Typed fields out of a JSON document; what is missing or of the wrong kind is refused with its place named."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterator
from typing import Any

from planner.errors import PlannerError

FARTHEST = 1_000_000_000  # minutes: 1,900 years, and no sum of them leaves 64 bits
REQUIRED = object()


class Fields:
    """One JSON object with the words for where it stands; `refuse` is the error to raise."""

    def __init__(self, value: object, where: str, refuse: type[PlannerError]) -> None:
        if not isinstance(value, dict):
            raise refuse(f"{where}: an object is needed, not {shown(value)}")
        self.value = value
        self.where = where
        self.refuse = refuse

    def wrong(self, name: str, wanted: str) -> PlannerError:
        """The error for a field that is not what is wanted."""
        place = f"{self.where}: {name}" if self.where else name
        if name not in self.value:
            return self.refuse(f"{place} is missing")
        return self.refuse(f"{place} must be {wanted}, not {shown(self.value[name])}")

    def _get(self, name: str, fits: Callable[[Any], bool], wanted: str, default: object) -> Any:
        if name not in self.value and default is not REQUIRED:
            return default
        if name not in self.value or not fits(self.value[name]):
            raise self.wrong(name, wanted)
        return self.value[name]

    def text(self, name: str) -> str:
        return self._get(name, is_text, "a text", REQUIRED)  # type: ignore[no-any-return]

    def text_or_null(self, name: str, default: object = None) -> str | None:
        return self._get(name, lambda v: v is None or is_text(v), "a text or null", default)  # type: ignore[no-any-return]

    def minutes(self, name: str, default: object = REQUIRED) -> int:
        return self._get(name, is_whole, "a whole number", default)  # type: ignore[no-any-return]

    def minutes_or_null(self, name: str, default: object = None) -> int | None:
        return self._get(name, lambda v: v is None or is_whole(v), "a whole number or null", default)  # type: ignore[no-any-return]

    def number(self, name: str, default: object = REQUIRED) -> float:
        return float(self._get(name, is_number, "a number", default))

    def number_or_null(self, name: str) -> float | None:
        value = self._get(name, lambda v: v is None or is_number(v), "a number or null", REQUIRED)
        return None if value is None else float(value)

    def yes_no(self, name: str, default: object = REQUIRED) -> bool:
        return self._get(name, lambda v: isinstance(v, bool), "true or false", default)  # type: ignore[no-any-return]

    def items(self, name: str, default: object = REQUIRED) -> list[Any]:
        return self._get(name, lambda v: isinstance(v, list), "a list", default)  # type: ignore[no-any-return]

    def texts(self, name: str) -> tuple[str, ...]:
        values = self.items(name)
        if not all(is_text(value) for value in values):
            raise self.wrong(name, "a list of texts")
        return tuple(values)

    def inner(self, name: str, default: object = REQUIRED) -> Fields:
        value = self._get(name, lambda v: isinstance(v, dict), "an object", default)
        return Fields(value, f"{self.where}: {name}", self.refuse)

    def rows(self, name: str, default: object = REQUIRED) -> Iterator[Fields]:
        """The objects of a list, each named by its id, its ends or its place in the list."""
        for place, value in enumerate(self.items(name, default)):
            yield Fields(
                value,
                f"{self.where}: {_row_name(name, value, place)}" if self.where else _row_name(name, value, place),
                self.refuse,
            )


def _row_name(name: str, value: object, place: int) -> str:
    if isinstance(value, dict):
        for key in ("id", "step"):
            if is_text(value.get(key)):
                return f"{name} {value[key]}"
        if is_text(value.get("from")) and is_text(value.get("to")):
            return f"{name} {value['from']} -> {value['to']}"
    return f"{name}[{place}]"


def is_text(value: object) -> bool:
    return isinstance(value, str) and value != ""


def is_whole(value: object) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and abs(value) <= FARTHEST


def is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 1e15 and math.isfinite(value)


def shown(value: object) -> str:
    """A value as it stood in the document, short enough for one line."""
    text = json.dumps(value, ensure_ascii=False)
    return text if len(text) <= 60 else f"{text[:57]}..."


def document(text: str | bytes, what: str, refuse: type[PlannerError]) -> Fields:
    """The object a JSON text holds, or one line saying why it holds none."""
    try:
        return Fields(json.loads(text, parse_constant=_no_constant), what, refuse)
    except RecursionError:
        raise refuse(f"{what}: nested too deep to be read") from None
    except ValueError as error:
        raise refuse(f"{what}: not JSON: {error}") from None


def _no_constant(name: str) -> None:
    raise ValueError(f"{name} is not a number")
