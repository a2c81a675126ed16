"""Our columns, and which header of somebody else's file is probably which of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from shop.orders.importing.sheet import SheetError

COLUMNS = (
    "reference",
    "placed",
    "channel",
    "fair",
    "customer",
    "due",
    "hard",
    "design",
    "species",
    "quantity",
    "text",
    "price",
    "note",
)
NEEDED = ("reference", "channel", "design", "quantity")
"""Without these a file can't be orders; the others may be left out."""

ALSO_CALLED = {
    "reference": ("order", "order number", "order no", "order id", "ref", "number"),
    "placed": ("placed at", "ordered", "order date", "date", "created"),
    "channel": ("sold", "source", "where"),
    "fair": ("market", "show", "event"),
    "customer": ("name", "customer name", "client", "buyer", "who", "for"),
    "due": ("due at", "due date", "needed by", "wanted by", "ship by", "deadline"),
    "hard": ("is hard", "worthless when late", "fixed date"),
    "design": ("item", "product", "article", "piece", "what"),
    "species": ("wood", "timber", "material"),
    "quantity": ("qty", "count", "pieces", "how many", "amount ordered"),
    "text": ("personalisation", "personalization", "engraving", "inscription", "name on it"),
    "price": ("price each", "unit price", "each"),
    "note": ("notes", "remark", "remarks", "comment", "comments"),
}

Matching = Mapping[str, str]
"""Our column -> the file's header; a column that the file doesn't have is left out."""


def guess(header: Sequence[str]) -> dict[str, str]:
    """Which header is which of our columns, by name or by what it is also called."""
    ours = {_plain(name): column for column, names in ALSO_CALLED.items() for name in names}
    ours |= {column: column for column in COLUMNS}
    found: dict[str, str] = {}
    for name in sorted(header, key=lambda name: _plain(name) not in COLUMNS):  # our own names first
        column = ours.get(_plain(name))
        if column and column not in found:
            found[column] = name
    return found


def exact(header: Sequence[str]) -> dict[str, str]:
    """Our own names only, whatever their capitals."""
    return {_plain(name): name for name in header if _plain(name) in COLUMNS}


def check(matching: Matching, header: Sequence[str]) -> None:
    """Say which column that orders can't do without has no header."""
    missing = [column for column in NEEDED if matching.get(column) not in header]
    if missing:
        words = "column" if len(missing) == 1 else "columns"
        there = ", ".join(name for name in header if name)
        raise SheetError(f"The file has no {words} {', '.join(missing)}; its header says: {there[:300]}.")


def _plain(name: str) -> str:
    return " ".join(name.casefold().replace("_", " ").replace("-", " ").replace(".", " ").split())
