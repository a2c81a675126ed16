"""Hand the plan in force, and the problem it answers, to anybody who reads the plan exchange."""

import json
from argparse import ArgumentParser
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from django.core.management.base import BaseCommand, CommandError

from shop.plans.models import Plan


class Command(BaseCommand):
    help = "Write problem.json and plan.json of the plan in force into a folder."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("folder", type=Path, metavar="DIR", help="where to; made if it isn't there")

    def handle(self, *, folder: Path, **_: Any) -> None:
        plan = Plan.objects.in_force()
        if plan is None:
            raise CommandError("There is no plan yet: make one with `manage.py replan`.")
        documents = {"problem.json": plan.problem, "plan.json": plan.document}
        try:
            folder.mkdir(parents=True, exist_ok=True)
            _write(documents, folder)
        except OSError as error:
            raise CommandError(f"{folder} cannot be written to: {error.strerror}.") from None
        self.stdout.write(f"{str(plan).capitalize()}: {' and '.join(documents)} are in {folder}.")


def _write(documents: dict[str, dict], folder: Path) -> None:
    """Both are written whole beside their places before either is moved there: nobody reads half of one."""
    with TemporaryDirectory(dir=folder, prefix=".export-") as beside:
        for name, document in documents.items():
            text = json.dumps(document, ensure_ascii=False, indent=1) + "\n"
            Path(beside, name).write_text(text, encoding="utf-8")
        for name in documents:
            Path(beside, name).replace(folder / name)
