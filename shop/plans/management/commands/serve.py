"""Serve the site with one process: pages, and planning runs in a thread beside them."""

import os
import signal
import sys
from typing import Any

import waitress
from django.core.management.base import BaseCommand, CommandError
from django.core.wsgi import get_wsgi_application

from shop.plans import worker


class Command(BaseCommand):
    help = "Serve the site on HOST (127.0.0.1) and PORT (8000) until Ctrl-C."
    requires_migrations_checks = True

    def handle(self, **_: Any) -> None:
        host, port = os.environ.get("HOST", "127.0.0.1"), os.environ.get("PORT", "8000")
        if not (port.isdecimal() and 0 < int(port) < 65536):
            raise CommandError(f"PORT is a number from 1 to 65535, such as 8000, not {port!r}.")
        try:
            server = waitress.create_server(get_wsgi_application(), host=host, port=port, threads=8)
        except OSError as error:
            reason = error.strerror or str(error)
            raise CommandError(f"Cannot serve on {host}:{port} ({reason}); try another, as in PORT=8001") from None
        signal.signal(signal.SIGTERM, lambda *_: sys.exit())  # so that a running plan is given back, as on Ctrl-C
        worker.start_with_server()
        self.stdout.write(f"Benchtide is open at http://{host}:{port}/ (Ctrl-C ends it)")
        self.stdout.flush()  # it is the last word for hours, also where a file or a service reads it
        server.run()
        self.stdout.write("Closed.")
