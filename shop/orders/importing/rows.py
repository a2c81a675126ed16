"""One row to the facts it states: about its order, about its line, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import time
from typing import Any
from zoneinfo import ZoneInfo

from shop.designs.models import Design
from shop.orders.dates import END_OF_WORKING_DAY
from shop.orders.importing import values
from shop.orders.importing.columns import Matching
from shop.orders.importing.values import CellError, Names
from shop.orders.models import Fair, Line
from shop.stock.models import Species

OF_THE_ORDER = ("placed", "channel", "fair", "customer", "due", "hard")
"""Facts that every row of one order must agree on."""

Reader = Callable[[str], Any]


@dataclass(frozen=True)
class Trouble:
    """What is wrong in one cell."""

    row: int
    column: str
    value: str
    reason: str

    def __str__(self) -> str:
        shown = self.value if len(self.value) <= 40 else f"{self.value[:40]}…"
        return f'row {self.row}, {self.column}, "{shown}": {self.reason}'


@dataclass
class Row:
    """A row as it was read: the cells, their values where given, what is wrong, what to know."""

    number: int
    cells: dict[str, str]
    found: dict[str, Any] = field(default_factory=dict)
    line: Line | None = None
    troubles: list[Trouble] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)

    @property
    def reference(self) -> str:
        return self.found.get("reference", "")

    def blame(self, column: str, reason: str) -> None:
        self.troubles.append(Trouble(self.number, column, self.cells.get(column, ""), reason))


class RowReader:
    """Reads rows by a matching, with the workshop's own names at hand."""

    def __init__(self, header: Sequence[str], matching: Matching, zone: ZoneInfo) -> None:
        self.width = len(header)
        self.places = {column: header.index(name) for column, name in matching.items() if name in header}
        designs = Names(Design.objects.all(), "design")
        fairs = Names(Fair.objects.order_by("name"), "fair", name_all=True)
        self.species = Names(Species.objects.all(), "species", name_all=True)
        self.readers: dict[str, Reader] = {
            "reference": lambda text: values.short(text, 40),
            "placed": lambda text: values.instant(text, zone, at=time.min),
            "channel": values.channel,
            "fair": fairs.find,
            "customer": lambda text: values.short(text, 80),
            "due": lambda text: values.instant(text, zone, at=END_OF_WORKING_DAY),
            "hard": values.yes_or_no,
            "design": designs.find,
            "species": self.species.find,
            "quantity": values.pieces,
            "text": lambda text: values.short(text, 120),
            "price": values.price,
            "note": lambda text: values.short(text, 2000),
        }

    def read(self, number: int, cells: Sequence[str]) -> Row:
        row = Row(number, {column: cells[at].strip() for column, at in self.places.items() if at < len(cells)})
        if self._is_ragged(cells):
            row.troubles.append(
                Trouble(number, "all", ", ".join(cells), f"has {len(cells)} cells, the header has {self.width}")
            )
            row.found["reference"] = row.cells.get("reference", "")
            return row
        for column, text in row.cells.items():
            if text:
                self._read_cell(row, column, text)
        self._ask_for_what_is_missing(row)
        if not row.troubles:
            row.line = _line(row)
        return row

    def _is_ragged(self, cells: Sequence[str]) -> bool:
        return len(cells) < self.width or any(cell.strip() for cell in cells[self.width :])

    def _read_cell(self, row: Row, column: str, text: str) -> None:
        try:
            row.found[column] = self.readers[column](text)
        except CellError as error:
            row.blame(column, str(error))

    def _ask_for_what_is_missing(self, row: Row) -> None:
        for column in ("reference", "design", "quantity"):
            if not row.cells.get(column):
                row.blame(column, "this can't be empty")
        if not row.cells.get("species"):
            self._tell_the_only_species(row)

    def _tell_the_only_species(self, row: Row) -> None:
        if len(self.species.things) == 1:
            row.found["species"] = self.species.things[0]
        else:
            known = ", ".join(str(each) for each in self.species.things)
            row.blame("species", f"which wood? known are {known}" if known else "no species is written down yet")


def _line(row: Row) -> Line:
    design = row.found["design"]
    text = row.found.get("text", "")
    if text and not design.takes_text:
        row.remarks.append(f"{design} is not personalised as a rule; the text is kept")
    return Line(
        design=design,
        species=row.found["species"],
        quantity=row.found["quantity"],
        text=text,
        price=row.found.get("price", design.price),
    )
