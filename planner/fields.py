"""Typed fields out of a JSON document; what is missing or of the wrong kind is refused with its place named."""

from __future__ import annotations

import json
import math
import sys
from collections.abc import Callable, Iterator
from typing import Any

from planner.errors import PlannerError
from planner.saying import one_line

FARTHEST = 50 * 525_960  # minutes: calendars are held by the minute, and nobody plans further ahead
MOST_UNITS = 1_000_000_000  # of room at a station; no sum of them leaves 64 bits
LATEST = 1_000_000_000_000_000  # minutes: what the longest steps and waits of a problem may add up to
DEAREST = 1e15  # a weight or a price; more cannot be told apart by a cent
LONGEST = 500  # letters of an id or another text
MOST = 20_000  # entries of a list with no limit of its own
SHOWN = 60  # letters of a value in an error
FIFTY_YEARS = f"50 years ({FARTHEST:,} minutes)"
MINUTES = f"a whole number of minutes, {FIFTY_YEARS} at most"
UNITS = f"a whole number from 1 to {MOST_UNITS:,}"
NUMBER = f"a number from 0 up, below {DEAREST:.0e}"
TEXT = f"a text of 1 to {LONGEST} letters"
SENTENCE = 20_000  # letters of a reason: it may name what it waits for
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
        place = self._place(name)
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
        return self._get(name, is_text, TEXT, REQUIRED)  # type: ignore[no-any-return]

    def sentence(self, name: str) -> str:
        wanted = f"a text of 1 to {SENTENCE:,} letters"
        return self._get(name, lambda v: is_text(v, SENTENCE), wanted, REQUIRED)  # type: ignore[no-any-return]

    def text_or_null(self, name: str, default: object = None) -> str | None:
        return self._get(name, lambda v: v is None or is_text(v), f"{TEXT}, or null", default)  # type: ignore[no-any-return]

    def minutes(self, name: str, default: object = REQUIRED, *, least: int = -FARTHEST) -> int:
        wanted = MINUTES if least < 0 else f"{MINUTES} and {least} at least"
        return self._get(name, lambda v: is_whole(v) and v >= least, wanted, default)  # type: ignore[no-any-return]

    def moment(self, name: str, *, least: int = -LATEST) -> int:
        """A minute of a plan, or so many, which may be more than any of its problem."""
        wanted = f"a whole number, {LATEST:,} at most" + (f" and {least} at least" if least >= 0 else "")
        return self._get(name, lambda v: is_whole(v, LATEST) and v >= least, wanted, REQUIRED)  # type: ignore[no-any-return]

    def units(self, name: str) -> int:
        """So much room at a station."""
        return self._get(name, lambda v: is_whole(v, MOST_UNITS) and v >= 1, UNITS, REQUIRED)  # type: ignore[no-any-return]

    def minutes_or_null(self, name: str, default: object = None) -> int | None:
        return self._get(name, lambda v: v is None or is_whole(v), f"{MINUTES}, or null", default)  # type: ignore[no-any-return]

    def number(self, name: str, default: object = REQUIRED) -> float:
        return float(self._get(name, is_number, NUMBER, default))

    def sum(self, name: str) -> float:
        """What many weights and prices add up to: any number that there is."""
        return float(self._get(name, is_sum, "a number", REQUIRED))

    def sum_or_null(self, name: str) -> float | None:
        value = self._get(name, lambda v: v is None or is_sum(v), "a number or null", REQUIRED)
        return None if value is None else float(value)

    def yes_no(self, name: str, default: object = REQUIRED) -> bool:
        return self._get(name, lambda v: isinstance(v, bool), "true or false", default)  # type: ignore[no-any-return]

    def items(self, name: str, default: object = REQUIRED, *, most: int = MOST) -> list[Any]:
        found: list[Any] = self._get(name, lambda v: isinstance(v, list), "a list", default)
        if len(found) > most:
            raise self.refuse(f"{self._place(name)} has {len(found):,} entries, more than the {most:,} that are read")
        return found

    def texts(self, name: str, *, most: int = MOST) -> tuple[str, ...]:
        values = self.items(name, most=most)
        if not all(is_text(value) for value in values):
            raise self.wrong(name, f"a list of texts, each of 1 to {LONGEST} letters")
        return tuple(values)

    def inner(self, name: str, default: object = REQUIRED) -> Fields:
        value = self._get(name, lambda v: isinstance(v, dict), "an object", default)
        return Fields(value, self._place(name), self.refuse)

    def rows(self, name: str, default: object = REQUIRED, *, most: int = MOST) -> Iterator[Fields]:
        """The objects of a list, each named by its id, its ends or its place in the list."""
        for place, value in enumerate(self.items(name, default, most=most)):
            yield Fields(value, self._place(row_name(name, value, place)), self.refuse)

    def _place(self, name: str) -> str:
        return f"{self.where}: {name}" if self.where else name


def row_name(name: str, value: object, place: int) -> str:
    """What an entry of a list is called: by its id or its ends where it has some, else by its place."""
    if isinstance(value, dict):
        for key in ("id", "step"):
            if is_text(value.get(key)):
                return f"{name} {value[key]}"
        if is_text(value.get("from")) and is_text(value.get("to")):
            return f"{name} {value['from']} -> {value['to']}"
    return f"{name}[{place}]"


def is_text(value: object, longest: int = LONGEST) -> bool:
    return isinstance(value, str) and 1 <= len(value) <= longest


def is_whole(value: object, most: int | None = FARTHEST) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and (most is None or abs(value) <= most)


def is_number(value: object) -> bool:
    return is_sum(value) and 0 <= value < DEAREST  # type: ignore[operator]


def is_sum(value: object) -> bool:
    if not isinstance(value, int | float) or isinstance(value, bool):
        return False
    return abs(value) <= sys.float_info.max and math.isfinite(value)


def shown(value: object) -> str:
    """A value as it stood in the document, short enough for one line."""
    if isinstance(value, list) and len(value) > SHOWN:
        return f"a list of {len(value):,}"
    try:
        text = json.dumps(value[:SHOWN] if isinstance(value, str) else value, ensure_ascii=False)
    except RecursionError:
        return "something nested too deep to be shown"
    return one_line(text if len(text) <= SHOWN else f"{text[: SHOWN - 3]}...")
