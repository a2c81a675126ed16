"""Load the demo workshop, once."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils.timezone import now

from shop.demo import signins
from shop.demo.loading import NotEmpty, load_demo
from shop.demo.orders import is_loaded
from shop.orders.models import Order


class Command(BaseCommand):
    help = "Load a made-up workshop with a full order book into an empty database, and say who may sign in."

    def handle(self, **_: Any) -> None:
        if is_loaded():
            self.stdout.write("The demo workshop is there already.")
        else:
            self._load()
        self.stdout.write("\n".join(["Sign in as", *signins.told()]))

    def _load(self) -> None:
        self.stdout.write("Loading the demo workshop ...")
        try:
            load_demo(now())
        except NotEmpty as reason:
            raise CommandError(str(reason)) from None
        self.stdout.write(f"{Order.objects.count()} orders are in the book.")
