"""The demo, loaded whole or not at all."""

from __future__ import annotations

from datetime import datetime, time

from django.contrib.auth import get_user_model
from django.db import transaction

from shop.demo import designs, orders, people, signins, stock
from shop.demo.dates import Dates
from shop.demo.past import Past
from shop.designs.models import Design
from shop.orders.models import Customer, Fair, Order
from shop.plans.models import Job
from shop.stations.models import Person, Station
from shop.stock.models import Bit, Species

OF_A_REAL_SHOP = {
    "orders": Order,
    "customers": Customer,
    "fairs": Fair,
    "designs": Design,
    "species": Species,
    "bits": Bit,
    "stations": Station,
    "people": Person,
    "users": get_user_model(),
}

DAYS_WORKED = 7
"""A week before today: long enough for wood to be in every stage of its way."""


class NotEmpty(Exception):  # noqa: N818 - reads as what is found
    """A real workshop's data are here; the demo keeps out of their way."""


@transaction.atomic
def load_demo(now: datetime) -> None:
    """Put the made-up workshop into an empty database, as if it had worked until `now`."""
    _refuse_a_real_shop()
    workshop = people.open_the_workshop()
    dates = Dates(now, workshop.zone)
    router = people.set_up_stations()
    people.hire(dates)
    signins.give_sign_ins()
    stock.fill_the_racks()
    stock.lay_out_the_bits(router)
    designs.write_the_pattern_book()
    orders.announce_fairs(dates)
    orders.know_customers()
    Past(orders.OrderBook(dates), until=now).work(dates.at(-DAYS_WORKED, time.min))
    # Every order asked for a plan; whoever loads the demo asks once, when all is there.
    transaction.on_commit(Job.objects.filter(state=Job.State.QUEUED).delete)


def _refuse_a_real_shop() -> None:
    for what, model in OF_A_REAL_SHOP.items():
        if count := model.objects.count():
            raise NotEmpty(
                f"This database has {what} in it ({count}), so the demo keeps out; "
                "load it into an empty one: set DATA_DIR or DATABASE_URL."
            )
