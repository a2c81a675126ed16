"""One cell to one value: generous in what it accepts, one clear reason where it can't."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, datetime, time
from decimal import Decimal
from difflib import get_close_matches
from typing import TypeVar
from unicodedata import category
from zoneinfo import ZoneInfo

from shop.orders.dates import at_the_wall
from shop.orders.models import Order

MOST_PIECES = 500
YES = {"yes", "y", "true", "t", "1"}
NO = {"no", "n", "false", "f", "0"}
PRICE = re.compile(r"\$?\s*(\d+|\d{1,3}(?:,\d{3})+)(\.\d{1,2}0*)?", re.ASCII)
WHOLE = re.compile(r"\d{1,9}(\.0+)?", re.ASCII)

Named = TypeVar("Named")


class CellError(Exception):
    """Why a cell can't be what its column says."""


def instant(text: str, zone: ZoneInfo, *, at: time) -> datetime:
    """An ISO 8601 date or instant. `at` is the hour that a date alone means, by the clock on the shop's wall."""
    try:
        said = _date_or_datetime(text, at)
    except ValueError:
        raise CellError("no such date; write it like 2026-12-05") from None
    if not 2000 <= said.year < 2200:
        raise CellError(f"the year {said.year} can't be meant; write it like 2026-12-05")
    return at_the_wall(said, zone)


def yes_or_no(text: str) -> bool:
    word = text.casefold()
    if word not in YES | NO:
        raise CellError("neither yes nor no")
    return word in YES


def channel(text: str) -> str:
    """One of our channels, in any capitals, with a blank, - or _ between its words."""
    known = {_run_together(name): str(value) for value, name in Order.Channel.choices}
    known |= {_run_together(value): value for value in Order.Channel.values} | {"stock": str(Order.Channel.STOCK)}
    if _run_together(text) not in known:
        raise CellError(f"no such channel; it is {', '.join(Order.Channel.values[:-1])} or {Order.Channel.values[-1]}")
    return known[_run_together(text)]


def pieces(text: str) -> int:
    if not WHOLE.fullmatch(text):
        raise CellError(f"a whole number from 1 to {MOST_PIECES} is wanted")
    number = int(text.partition(".")[0])
    if number < 1:
        raise CellError("1 is the least")
    if number > MOST_PIECES:
        raise CellError(f"{MOST_PIECES} is the most in one line")
    return number


def price(text: str) -> Decimal:
    """With or without a $ before it and commas between the thousands."""
    if not PRICE.fullmatch(text):
        raise CellError("no price; write it like 48.00")
    amount = Decimal(text.replace("$", "").replace(",", "").strip()).quantize(Decimal("0.01"))
    if amount >= 1_000_000:
        raise CellError("a price is less than a million")
    return amount


def short(text: str, most: int) -> str:
    if len(text) > most:
        raise CellError(f"{len(text)} characters are too many; {most} is the most")
    if any(category(letter) == "Cc" and letter not in "\n\r\t" for letter in text):
        raise CellError("holds control characters; type it again")
    return text


class Names:
    """Things found by their names, whatever the capitals and blanks."""

    def __init__(self, things: Iterable[Named], kind: str, *, name_all: bool = False) -> None:
        self.things = list(things)
        self.kind, self.name_all = kind, name_all
        self.by_name = {_loose(str(thing)): thing for thing in self.things}

    def find(self, text: str) -> Named:
        thing = self.by_name.get(_loose(text))
        if thing is None:
            raise CellError(f"no such {self.kind}{self._hint(text)}")
        return thing

    def _hint(self, text: str) -> str:
        if self.name_all:
            known = ", ".join(str(thing) for thing in self.things[:12])
            return f"; known are {known}" if known else "; none is written down yet"
        near = get_close_matches(_loose(text), self.by_name, n=3, cutoff=0.65)
        return f"; is it {' or '.join(str(self.by_name[name]) for name in near)}?" if near else ""


def _date_or_datetime(text: str, at: time) -> datetime:
    try:
        return datetime.combine(date.fromisoformat(text), at)
    except ValueError:
        return datetime.fromisoformat(text)


def _loose(name: str) -> str:
    return " ".join(name.casefold().split())


def _run_together(word: str) -> str:
    return re.sub(r"[\s_-]+", "", word.casefold())
