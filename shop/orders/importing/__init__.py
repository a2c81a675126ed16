"""Orders from a file: read it, match its columns, say every row's fate, bring them in."""

from shop.orders.importing.columns import COLUMNS, NEEDED, exact, guess
from shop.orders.importing.fates import DryRun, dry_run
from shop.orders.importing.sheet import MOST_BYTES, Sheet, SheetError, decode, read_sheet
from shop.orders.importing.writing import bring_in

__all__ = [
    "COLUMNS",
    "MOST_BYTES",
    "NEEDED",
    "DryRun",
    "Sheet",
    "SheetError",
    "bring_in",
    "decode",
    "dry_run",
    "exact",
    "guess",
    "read_sheet",
]
