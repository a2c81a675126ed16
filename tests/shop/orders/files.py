"""Files of orders for tests."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from shop.orders.importing import COLUMNS, DryRun, bring_in, decode, dry_run, exact, read_sheet
from tests.shop.makers import make_design, make_fair, make_species

ZONE = ZoneInfo("America/Chicago")
AT = datetime(2026, 11, 20, 15, tzinfo=UTC)
OPENING = datetime(2026, 12, 5, 15, tzinfo=UTC)
GOOD = {
    "reference": "A-1",
    "channel": "online",
    "customer": "Ada Fennimore",
    "due": "2026-12-04",
    "design": "Gull tray",
    "species": "cherry",
    "quantity": "2",
}


def stock_the_shop() -> None:
    """What the rows of these tests name."""
    make_design("Gull tray", price=60, takes_text=True)
    make_design("Oval dish", price=45)
    make_species("cherry")
    make_species("maple")
    make_fair("Lantern Quay Fair", OPENING)


def csv_of(*rows: Mapping[str, str], separator: str = ",") -> str:
    """A file with our columns; each row is the good one with these cells otherwise."""
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, COLUMNS, delimiter=separator)
    writer.writeheader()
    writer.writerows({**GOOD, **row} for row in rows)
    return out.getvalue()


def dry(file: str | bytes) -> DryRun:
    sheet = read_sheet(decode(file if isinstance(file, bytes) else file.encode()))
    return dry_run(sheet, exact(sheet.header), at=AT, zone=ZONE)


def bring(text: str, *, good_rows_only: bool = False) -> int:
    """How many orders came in."""
    sheet = read_sheet(text)
    return bring_in(sheet, exact(sheet.header), at=AT, zone=ZONE, good_rows_only=good_rows_only)[1]


def fates(run: DryRun) -> list[str]:
    return [str(told.fate) for told in run.rows]


def troubles(*rows: Mapping[str, str]) -> list[str]:
    return [str(trouble) for trouble in dry(csv_of(*rows)).troubles]
