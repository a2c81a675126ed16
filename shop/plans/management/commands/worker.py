"""Work planning runs in a process of its own, beside servers that only show pages."""

import signal
import sys
from contextlib import suppress
from typing import Any

from django.core.management.base import BaseCommand

from shop.plans import worker


class Command(BaseCommand):
    help = "Work planning runs until Ctrl-C, without a web server and without Redis."

    def handle(self, **_: Any) -> None:
        signal.signal(signal.SIGTERM, lambda *_: sys.exit())
        self.stdout.write("Waiting for planning runs (Ctrl-C ends it)")
        self.stdout.flush()
        with suppress(KeyboardInterrupt):
            worker.run()
        self.stdout.write("Closed.")
