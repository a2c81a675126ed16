"""The dry run made true: all rows or none, or the good rows only."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

from django.db import transaction

from shop.orders.importing.columns import Matching
from shop.orders.importing.fates import DryRun, dry_run
from shop.orders.importing.sheet import Sheet
from shop.orders.services import open_the_book, take_orders


@transaction.atomic
def bring_in(
    sheet: Sheet, matching: Matching, *, at: datetime, zone: ZoneInfo, good_rows_only: bool
) -> tuple[DryRun, int]:
    """Write the new orders down; returns every row's fate and how many orders were taken.

    With a bad row nothing is written, unless `good_rows_only`. What is already here is looked up with the
    order book open, so that two people with one file make its orders once.
    """
    open_the_book()
    fates = dry_run(sheet, matching, at=at, zone=zone)
    if fates.bad_rows and not good_rows_only:
        return fates, 0
    if fates.drafts:
        take_orders(fates.drafts)
    return fates, len(fates.drafts)
