from datetime import UTC, datetime
from decimal import Decimal
from time import perf_counter

import pytest

from shop.orders.importing import SheetError
from shop.orders.models import Line, Order
from tests.shop.makers import make_species
from tests.shop.orders.files import OPENING, bring, csv_of, dry, fates, stock_the_shop, troubles

pytestmark = pytest.mark.django_db
FAIR = {"channel": "Fair", "fair": "lantern quay fair", "due": "", "customer": ""}


@pytest.fixture(autouse=True)
def shop(db):
    stock_the_shop()


def test_a_row_becomes_an_order():
    assert bring(csv_of({"text": "Rex", "price": "$55", "note": "a gift", "placed": "2026-11-19"})) == 1
    order = Order.objects.get(reference="A-1")
    assert (order.channel, order.customer.name, order.note) == ("online", "Ada Fennimore", "a gift")
    assert (order.due_at, order.is_hard) == (datetime(2026, 12, 4, 23, tzinfo=UTC), False)
    line = order.lines.get()
    assert (line.design.name, line.species.name, line.quantity) == ("Gull tray", "cherry", 2)
    assert (line.text, line.price) == ("Rex", 55)


def test_rows_of_one_reference_are_one_order():
    text = csv_of({"note": "one"}, {"design": "OVAL  DISH", "note": "two"}, {"note": "one"})
    assert fates(dry(text)) == ["new", "same order", "same order"]
    assert bring(text) == 1
    order = Order.objects.get()
    assert (order.lines.count(), order.note) == (3, "one\ntwo")


def test_what_is_empty_has_its_usual_meaning():
    bring(csv_of(FAIR))
    order = Order.objects.get()
    assert (order.due_at, order.is_hard, order.lines.get().price) == (OPENING, True, Decimal(60))
    assert order.placed_at == datetime(2026, 11, 20, 15, tzinfo=UTC)


def test_a_fair_order_may_say_that_it_is_not_hard():
    bring(csv_of(FAIR | {"hard": "no"}))
    assert not Order.objects.get().is_hard


def test_the_same_file_twice_makes_nothing_new():
    text = csv_of({}, {"reference": "A-2"} | FAIR, {"reference": "A-2", "design": "oval dish"} | FAIR)
    assert (bring(text), bring(text)) == (2, 0)
    assert fates(dry(text)) == ["already here"] * 3
    assert (Order.objects.count(), Line.objects.count()) == (2, 3)


def test_other_contents_under_a_reference_are_told_and_change_nothing():
    bring(csv_of({}))
    told = dry(csv_of({"due": "2026-12-06", "quantity": "3"})).rows[0]
    assert str(told) == "row 2, A-1: already here with other contents; another due, other lines; not changed"
    assert bring(csv_of({"quantity": "3"})) == 0
    assert Line.objects.get().quantity == 2


def test_a_price_the_file_does_not_state_may_have_changed_since():
    bring(csv_of({}))
    Line.objects.update(price=99)
    assert fates(dry(csv_of({}))) == ["already here"]


@pytest.mark.parametrize(
    ("cells", "sentence"),
    [
        ({"due": "2026-13-01"}, 'row 2, due, "2026-13-01": no such date; write it like 2026-12-05'),
        ({"due": ""}, 'row 2, due, "": when is it due? write it like 2026-12-05'),
        ({"reference": ""}, 'row 2, reference, "": this can\'t be empty'),
        ({"quantity": "501"}, 'row 2, quantity, "501": 500 is the most in one line'),
        ({"quantity": ""}, 'row 2, quantity, "": this can\'t be empty'),
        ({"design": "Gul tray"}, 'row 2, design, "Gul tray": no such design; is it Gull tray?'),
        ({"species": ""}, 'row 2, species, "": which wood? known are cherry, maple'),
        ({"species": "oak"}, 'row 2, species, "oak": no such species; known are cherry, maple'),
        ({"channel": ""}, 'row 2, channel, "": this can\'t be empty; it is fair, online, in person, shop stock'),
        ({"hard": "maybe"}, 'row 2, hard, "maybe": neither yes nor no'),
        ({"price": "free"}, 'row 2, price, "free": no price; write it like 48.00'),
        (FAIR | {"fair": ""}, 'row 2, fair, "": an order for a fair names its fair'),
        (FAIR | {"fair": "Reef Fair"}, 'row 2, fair, "Reef Fair": no such fair; known are Lantern Quay Fair'),
        ({"customer": "x" * 81}, f'row 2, customer, "{"x" * 40}…": 81 characters are too many; 80 is the most'),
    ],
)
def test_a_bad_cell_says_row_column_value_and_reason(cells, sentence):
    assert troubles(cells) == [sentence]


def test_rows_that_contradict_each_other_are_told():
    rows = {"due": "2026-12-04"}, {"due": "2026-12-05"}, {"channel": "in person"}
    assert troubles(*rows) == [
        'row 3, due, "2026-12-05": row 2 of the same order says "2026-12-04"',
        'row 4, channel, "in person": row 2 of the same order says "online"',
    ]


def test_a_cell_left_empty_contradicts_nothing():
    assert troubles({}, {"due": "", "channel": "", "customer": ""}) == []


def test_a_row_with_other_cells_than_the_header_is_told():
    short, long = csv_of({}) + "A-2,,online\r\n", csv_of({"note": "x"}).rstrip() + ",more\r\n"
    assert dry(short).troubles[0].reason == "has 3 cells, the header has 13"
    assert dry(long).troubles[0].reason == "has 14 cells, the header has 13"


def test_all_or_nothing_writes_nothing_for_one_bad_row():
    assert bring(csv_of({}, {"reference": "A-2", "quantity": "no"})) == 0
    assert not Order.objects.exists()


def test_good_rows_only_leaves_out_the_whole_order_of_a_bad_row():
    text = csv_of({}, {"reference": "A-2", "quantity": "no"}, {"reference": "A-2"}, {"reference": "A-3"})
    assert fates(dry(text)) == ["new", "bad", "held back", "new"]
    assert bring(text, good_rows_only=True) == 2
    assert list(Order.objects.values_list("reference", flat=True)) == ["A-1", "A-3"]


def test_species_may_be_empty_where_there_is_but_one():
    Line.objects.all().delete()
    make_species("x").__class__.objects.exclude(name="cherry").delete()
    assert troubles({"species": ""}) == []


def test_a_due_day_in_the_past_is_taken_and_remarked():
    late, good = dry(csv_of({"due": "2020-12-04"}, {"reference": "A-2"})).rows
    assert (str(late), str(good)) == ("row 2, A-1: new; due in the past", "row 3, A-2: new")


def test_text_on_a_design_that_takes_none_is_kept_and_remarked():
    told = dry(csv_of({"design": "Oval dish", "text": "Ada"})).rows[0]
    assert (told.fate, told.says) == ("new", "Oval dish is not personalised as a rule; the text is kept")


def test_a_file_without_the_columns_that_orders_need_is_refused():
    with pytest.raises(
        SheetError, match="The file has no columns reference, channel, quantity; its header says: design"
    ):
        dry("design,species\nGull tray,cherry\n")


def test_columns_that_may_be_empty_may_be_missing():
    text = "quantity,reference,DESIGN,species,channel,due\n1,B-1,Gull tray,maple,online,2026-12-04\n"
    assert fates(dry(text)) == ["new"]


def test_a_dry_run_writes_nothing():
    dry(csv_of({}))
    assert not Order.objects.exists()


def test_the_summary_counts_every_fate():
    text = csv_of({}, {}, {"reference": "A-2", "quantity": "no"})
    assert dry(text).summary == "1 new order in 2 rows, 1 row bad"


def test_five_thousand_rows_come_in_within_ten_seconds():
    text = csv_of(*({"reference": f"A-{n // 2}", "customer": f"Customer {n // 2}"} for n in range(5000)))
    begun = perf_counter()
    assert bring(text) == 2500
    assert perf_counter() - begun < 10


def test_queries_do_not_grow_with_the_rows(django_assert_max_num_queries):
    text = csv_of(*({"reference": f"A-{n}", "customer": f"Customer {n}"} for n in range(400)))
    with django_assert_max_num_queries(30):  # SQLite takes some 80 rows an INSERT, so it needs a few for 400
        bring(text)
