"""Two people and one order book, on the real database."""

from collections.abc import Callable
from datetime import UTC, datetime
from threading import Barrier, Thread
from uuid import uuid4

from django.db import connection

from shop.orders.models import Line, Order
from shop.orders.services import Draft, take_order
from tests.shop.makers import make_design, make_species

MONDAY = datetime(2026, 6, 1, 14, tzinfo=UTC)
HEADER = "reference,placed,channel,fair,customer,due,hard,design,species,quantity,text,price,note"


def at_once(*verbs: Callable[[], object]) -> None:
    gate = Barrier(len(verbs))

    def go(verb: Callable[[], object]) -> None:
        gate.wait()
        verb()
        connection.close()

    threads = [Thread(target=go, args=[verb]) for verb in verbs]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()


def draft(**fields) -> Draft:
    order = Order(channel="in person", due_at=MONDAY, placed_at=MONDAY, **fields)
    return Draft(order, [Line(design=make_design(), species=make_species(), price=1)], "Ada Fennimore")


def test_people_at_once_get_references_of_their_own_and_a_double_tap_is_one_order(site):
    key = uuid4()
    drafts = [draft() for _ in range(6)] + [draft(form_key=key) for _ in range(2)]
    at_once(*(lambda each=each: take_order(each) for each in drafts))
    references = sorted(Order.objects.values_list("reference", flat=True))
    assert references == [f"1jun-{n}" for n in range(1, 8)]
    assert set(Order.objects.values_list("customer__name", flat=True)) == {"Ada Fennimore"}


def test_two_people_bringing_in_one_file_make_its_orders_once(site, tmp_path):
    make_design("Gull tray")
    make_species("cherry")
    file = tmp_path / "orders.csv"
    rows = [f"A-{n},,online,,Customer {n},2026-12-05,,Gull tray,cherry,1,,,," for n in range(300)]
    file.write_text("\n".join([HEADER, *(row.removesuffix(",") for row in rows)]))
    at_once(*[lambda: site.manage("import_orders", file)] * 2)
    assert Order.objects.count() == 300
