"""From the bytes of a file to rows of cells; whatever is wrong with its shape is one sentence."""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections import Counter
from dataclasses import dataclass

MOST_BYTES = 10_000_000
MOST_ROWS = 20_000
SEPARATORS = ",;\t"
_SAYS_ITS_SEPARATOR = re.compile(r'"?sep=([,;\t|])"?', re.IGNORECASE)
"""The line above the header that spreadsheets write for each other."""
NOT_TEXT = {b"PK\x03\x04": "an Excel or zip file", b"\xd0\xcf\x11\xe0": "an old Excel file", b"%PDF": "a PDF"}


class SheetError(Exception):
    """A file that can't be read as rows of orders; one sentence that says what to do."""


@dataclass(frozen=True)
class Sheet:
    """A header, and numbered rows under it as a spreadsheet counts them: the header is row 1."""

    header: list[str]
    rows: list[tuple[int, list[str]]]


def decode(raw: bytes) -> str:
    """Text from UTF-8, UTF-16, UTF-32 or Windows bytes."""
    if not raw.strip():
        raise SheetError("The file is empty.")
    if len(raw) > MOST_BYTES:
        raise SheetError(f"The file must be smaller than {MOST_BYTES // 1_000_000} MB.")
    for start, kind in NOT_TEXT.items():
        if raw.startswith(start):
            raise SheetError(f"This is {kind}, not a CSV file: open it and save it as CSV.")
    text = _decoded(raw)
    if "\0" in text:
        raise SheetError("The file holds NUL bytes, so it isn't plain text: save it again as CSV, UTF-8.")
    return text


def read_sheet(text: str) -> Sheet:
    """The header and the rows of a CSV text, whatever separates its cells."""
    records = _records(text)
    if not records:
        raise SheetError("The file is empty.")
    (_, header), *rows = records
    header = [cell.strip() for cell in header]
    _check_header(header)
    if not rows:
        raise SheetError("The file has a header and no rows under it.")
    if len(rows) > MOST_ROWS:
        raise SheetError(f"The file has {len(rows):,} rows; {MOST_ROWS:,} at a time is the most: split it.")
    return Sheet(header, rows)


def _decoded(raw: bytes) -> str:
    for encoding in _encodings(raw):
        try:
            return raw.decode(encoding)
        except UnicodeDecodeError:
            continue
    raise SheetError("The file's letters can't be read: save it again as CSV, UTF-8.")


def _encodings(raw: bytes) -> list[str]:
    """As its byte order mark says; without one, plain letters leave most bytes of wide encodings empty."""
    if raw.startswith((codecs.BOM_UTF32_LE, codecs.BOM_UTF32_BE)):
        return ["utf-32"]
    if raw.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return ["utf-16"]
    empty = tuple(byte == 0 for byte in raw[:4])
    without_mark = {
        (False, True, True, True): "utf-32-le",
        (True, True, True, False): "utf-32-be",
        (False, True, False, True): "utf-16-le",
        (True, False, True, False): "utf-16-be",
    }
    return [without_mark[empty]] if empty in without_mark else ["utf-8-sig", "cp1252"]


def _records(text: str) -> list[tuple[int, list[str]]]:
    """Numbered records, blank ones left out."""
    first_line = text.lstrip("\r\n").split("\n", 1)[0]
    said = _SAYS_ITS_SEPARATOR.fullmatch(first_line.strip("\r"))
    separator = said[1] if said else max(SEPARATORS, key=first_line.count)
    text = text.lstrip("\r\n")[len(first_line) + 1 :] if said else text
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    records: list[tuple[int, list[str]]] = []
    number = 1
    try:
        for number, cells in enumerate(reader, start=2 if said else 1):
            if any(cell.strip() for cell in cells):
                records.append((number, cells))
    except csv.Error as error:
        raise SheetError(_shape_trouble(str(error), number + 1 if records else 1)) from error
    return records


def _shape_trouble(error: str, row: int) -> str:
    if "unexpected end" in error:
        return f"A quote that opens in row {row} is never closed, so everything after it is one cell."
    if "field larger" in error:
        return f"A cell in row {row} is longer than {csv.field_size_limit():,} characters: a quote there may be open."
    if "expected after" in error:
        return f"In row {row} a cell goes on after its closing quote: write a quote inside a cell twice."
    return f"Row {row} can't be read as CSV ({error})."


def _check_header(header: list[str]) -> None:
    for name, times in Counter(filter(None, (name.casefold() for name in header))).items():
        if times > 1:
            at = [str(n) for n, each in enumerate(header, start=1) if each.casefold() == name]
            raise SheetError(f"The header “{name}” stands in columns {' and '.join(at)}: rename one of them.")
