"""manage.py import_orders FILE.csv [--dry-run] [--good-rows]"""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils.timezone import now

from shop.orders.importing import DryRun, SheetError, bring_in, decode, dry_run, exact, read_sheet
from shop.stations.models import Workshop
from shop.words import counted


class Command(BaseCommand):
    help = "Bring in orders from a CSV file; one line of an order a row. Exit status 1 if a row is bad."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("file", type=Path)
        parser.add_argument("--dry-run", action="store_true", help="only say what would become of every row")
        parser.add_argument("--good-rows", action="store_true", help="leave bad rows out instead of refusing the file")

    def handle(self, *, file: Path, **options: Any) -> None:
        try:
            fates, taken = self._run(file, dry=options["dry_run"], good_rows_only=options["good_rows"])
        except SheetError as error:
            raise CommandError(f"{file.name}: {error}") from error
        except OSError as error:
            raise CommandError(f"{file}: {error.strerror or error}.") from error
        self._tell(fates)
        self.stdout.write(_outcome(fates, taken, dry=options["dry_run"], good_rows_only=options["good_rows"]))
        if fates.bad_rows:
            raise SystemExit(1)

    def _run(self, file: Path, *, dry: bool, good_rows_only: bool) -> tuple[DryRun, int]:
        sheet = read_sheet(decode(file.read_bytes()))
        facts = {"at": now(), "zone": Workshop.get().zone}
        if dry:
            return dry_run(sheet, exact(sheet.header), **facts), 0
        return bring_in(sheet, exact(sheet.header), good_rows_only=good_rows_only, **facts)

    def _tell(self, fates: DryRun) -> None:
        for told in fates.rows:
            self.stdout.write(str(told))
        self.stdout.write(fates.summary)


def _outcome(fates: DryRun, taken: int, *, dry: bool, good_rows_only: bool) -> str:
    if dry:
        return "nothing was written (dry run)"
    if fates.bad_rows and not good_rows_only:
        bad = counted(fates.bad_rows, "bad row")
        return f"nothing came in because of {bad}: mend the file, or bring in the others with --good-rows"
    return f"{counted(taken, 'order')} taken"
