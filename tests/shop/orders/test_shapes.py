"""Files of every shape: each that can't be read is refused in one clear sentence."""

import pytest

from shop.orders.importing import SheetError, decode, guess, read_sheet
from shop.orders.importing.sheet import MOST_ROWS
from tests.shop.orders.files import csv_of

HEADER = csv_of()


def cells(raw: bytes) -> list[str]:
    return read_sheet(decode(raw)).rows[0][1]


def refused(raw: bytes) -> str:
    with pytest.raises(SheetError) as error:
        read_sheet(decode(raw))
    return str(error.value)


@pytest.mark.parametrize("first", ["sep=;", '"sep=;"', "SEP=;\r"])
def test_a_file_may_say_its_separator(first):
    sheet = read_sheet(f"{first}\nwho;what\nZoë;1,5\n")
    assert (sheet.header, sheet.rows) == (["who", "what"], [(3, ["Zoë", "1,5"])])


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "utf-32-le", "utf-32-be", "cp1252"]
)
def test_letters_are_read_in_any_usual_encoding(encoding):
    assert cells("who,what\nZoë,“dish”\n".encode(encoding)) == ["Zoë", "“dish”"]


@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_cells_are_split_at_whatever_separates_the_header(separator):
    assert cells(f'a{separator}b\n1{separator}"x,;\ty"\n'.encode()) == ["1", "x,;\ty"]


def test_rows_are_counted_as_a_spreadsheet_counts_them():
    rows = read_sheet('a,b\n1,"two\nlines"\n\n3,4\n').rows
    assert [number for number, _ in rows] == [2, 4]


def test_line_ends_of_any_system_are_read():
    assert len(read_sheet("a,b\r\n1,2\r\n").rows) == len(read_sheet("a,b\r1,2\r").rows) == 1


@pytest.mark.parametrize(
    ("raw", "sentence"),
    [
        (b"", "The file is empty."),
        (b" \r\n\n", "The file is empty."),
        (b",,\n", "The file is empty."),
        (HEADER.encode(), "The file has a header and no rows under it."),
        (b"PK\x03\x04\x14\x00", "This is an Excel or zip file, not a CSV file: open it and save it as CSV."),
        (b"a,b\n1,\x00\n", "The file holds NUL bytes, so it isn't plain text: save it again as CSV, UTF-8."),
        (b"a,b\n1,\x8d\xff\n", "The file's letters can't be read: save it again as CSV, UTF-8."),
        (b"a,b\n1,2\n3,\"4\n5,6\n", "A quote that opens in row 3 is never closed, so everything after it is one cell."),
        (b'a,b\n1,"2"3\n', "In row 2 a cell goes on after its closing quote: write a quote inside a cell twice."),
        (b"a,b\n1," + b"x" * 140_000, "A cell in row 2 is longer than 131,072 characters: a quote there may be open."),
        (b"due,what,Due\n1,2,3\n", "The header “due” stands in columns 1 and 3: rename one of them."),
    ],
)  # fmt: skip
def test_a_file_that_is_no_table_is_refused_in_one_sentence(raw, sentence):
    assert refused(raw) == sentence


def test_an_unclosed_quote_after_a_blank_line_is_still_found_where_it_opens():
    assert refused(b'a,b\n1,2\n\n3,"4\n5,6\n').startswith("A quote that opens in row 4 is never closed")


def test_fifty_thousand_rows_are_refused_before_any_is_read():
    assert (
        refused(b"a,b\n" + b"1,2\n" * 50_000)
        == f"The file has 50,000 rows; {MOST_ROWS:,} at a time is the most: split it."
    )


def test_too_many_bytes_are_refused():
    assert refused(b"x" * 10_000_001) == "The file must be smaller than 10 MB."


def test_headers_are_known_by_other_names():
    found = guess(["Order No.", "Ship by", "Item", "Qty", "WOOD", "colour"])
    assert found == {"reference": "Order No.", "due": "Ship by", "design": "Item", "quantity": "Qty", "species": "WOOD"}


def test_our_own_name_wins_over_another_name_for_the_same():
    assert guess(["product", "design"])["design"] == "design"
