import pytest
from django.core.management import CommandError, call_command

from shop.orders.models import Order
from tests.shop.orders.files import csv_of, stock_the_shop

pytestmark = pytest.mark.django_db
BAD = {"reference": "A-2", "quantity": "no"}


@pytest.fixture
def run(tmp_path, capsys):
    """Runs the command on a file of these rows; what it said, and its exit status."""
    stock_the_shop()

    def go(*rows, raw: bytes = b"", flags: tuple[str, ...] = ()):
        file = tmp_path / "orders.csv"
        file.write_bytes(raw or csv_of(*rows).encode())
        try:
            call_command("import_orders", file, *flags)
            status = 0
        except SystemExit as end:
            status = end.code
        return capsys.readouterr().out, status

    return go


def test_good_rows_come_in(run):
    said, status = run({}, {"reference": "A-2"})
    assert said.endswith("2 new orders in 2 rows\n2 orders taken\n")
    assert (status, Order.objects.count()) == (0, 2)


def test_a_dry_run_says_the_same_and_writes_nothing(run):
    said, status = run({"due": "2126-12-04"}, BAD, flags=("--dry-run",))
    assert said.splitlines() == [
        "row 2, A-1: new",
        'row 3, A-2: bad; row 3, quantity, "no": a whole number from 1 to 500 is wanted',
        "1 new order in 1 row, 1 row bad",
        "nothing was written (dry run)",
    ]
    assert (status, Order.objects.count()) == (1, 0)


def test_a_bad_row_refuses_the_file_and_says_so(run):
    said, status = run({}, BAD)
    assert said.splitlines()[-1].startswith("nothing came in because of 1 bad row: ")
    assert status == 1
    assert not Order.objects.exists()


def test_good_rows_come_in_where_that_is_wished(run):
    said, status = run({}, BAD, flags=("--good-rows",))
    assert said.endswith("1 order taken\n")
    assert (status, Order.objects.count()) == (1, 1)


def test_a_file_that_is_no_table_is_one_sentence(run):
    with pytest.raises(CommandError, match=r"^orders.csv: This is an Excel or zip file"):
        run(raw=b"PK\x03\x04")


def test_a_file_that_is_not_there_is_one_sentence(run, tmp_path):
    with pytest.raises(CommandError, match="No such file or directory"):
        call_command("import_orders", tmp_path / "none.csv")
