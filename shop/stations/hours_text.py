"""Hours of a day as people write them: "8-12, 13:00-17:30" to stretches, and back."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import time
from itertools import pairwise

STRETCH = re.compile(r"(\d{1,2})(?:[:.](\d{2}))?\s*(?:-|–|to)\s*(\d{1,2})(?:[:.](\d{2}))?", re.ASCII)

Stretch = tuple[time, time]


class HoursError(ValueError):
    """Why these can't be somebody's hours."""


def read_hours(text: str) -> list[Stretch]:
    """Empty text is a day without work."""
    stretches = sorted(_stretch(part.strip()) for part in re.split(r"[,;]", text) if part.strip())
    for (_, closes), (opens, _) in pairwise(stretches):
        if opens < closes:
            raise HoursError("two stretches overlap")
    return stretches


def say_hours(stretches: Iterable[Stretch]) -> str:
    return ", ".join(f"{_clock(opens)}-{_clock(closes)}" for opens, closes in stretches)


def _stretch(text: str) -> Stretch:
    found = STRETCH.fullmatch(text)
    if not found:
        raise HoursError(f"“{text}” is no stretch of hours; write it like 8:00-12:00")
    a, b, c, d = found.groups(default="0")
    try:
        opens, closes = time(int(a), int(b)), time(int(c), int(d))
    except ValueError:
        raise HoursError(f"“{text}” is not on the clock; hours go from 0:00 to 23:59") from None
    if opens >= closes:
        raise HoursError(f"“{text}” ends before it begins")
    return opens, closes


def _clock(at: time) -> str:
    return f"{at.hour}:{at.minute:02}"
