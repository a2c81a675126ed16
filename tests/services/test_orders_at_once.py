"""People who write in one order book at once, each in a process of their own, on the real database."""

from concurrent.futures import ThreadPoolExecutor
from uuid import uuid4

from shop.orders.models import Order
from tests.shop.makers import make_design, make_species

HEADER = "reference,placed,channel,fair,customer,due,hard,design,species,quantity,text,price,note"
TAKE_TWENTY = """
from django.utils.timezone import now
from shop.orders.services import Draft, take_order
def draft(**fields):
    order = Order(channel="in person", due_at=now(), placed_at="2026-06-01T14:00Z", **fields)
    order.clean_fields(exclude=["reference"])
    return Draft(order, [Line(design=Design.objects.get(), species=Species.objects.get(), price=1)], "Ada Fennimore")
for _ in range(20):
    take_order(draft())
take_order(draft(form_key="{key}"))
"""


def at_once(site, times: int, *words: object) -> None:
    with ThreadPoolExecutor(times) as pool:
        list(pool.map(lambda _: site.manage(*words), range(times)))


def test_people_at_once_get_references_of_their_own_and_a_double_tap_is_one_order(site):
    make_design()
    make_species()
    at_once(site, 3, "shell", "-v0", "-c", TAKE_TWENTY.format(key=uuid4()))
    numbers = sorted(int(each.removeprefix("1jun-")) for each in Order.objects.values_list("reference", flat=True))
    assert numbers == list(range(1, 62))
    assert set(Order.objects.values_list("customer__name", flat=True)) == {"Ada Fennimore"}


def test_two_people_bringing_in_one_file_make_its_orders_once(site, tmp_path):
    make_design("Gull tray")
    make_species("cherry")
    file = tmp_path / "orders.csv"
    rows = [f"A-{n},,online,,Customer {n},2026-12-05,,Gull tray,cherry,1,,," for n in range(300)]
    file.write_text("\n".join([HEADER, *rows]))
    at_once(site, 2, "import_orders", file)
    assert Order.objects.count() == 300
