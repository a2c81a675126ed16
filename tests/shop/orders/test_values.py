"""What a cell may say, and how it is refused."""

from contextlib import suppress
from datetime import UTC, datetime, time
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.orders.importing import values
from shop.orders.importing.values import CellError
from tests.shop.orders.files import ZONE


def due(text: str) -> datetime:
    return values.instant(text, ZONE, at=time(17))


@pytest.mark.parametrize(
    ("text", "utc"),
    [
        ("2026-12-05", (2026, 12, 5, 23)),
        ("20261205", (2026, 12, 5, 23)),
        ("2026-12-05T09:30", (2026, 12, 5, 15, 30)),
        ("2026-12-05 09:30:00", (2026, 12, 5, 15, 30)),
        ("2026-12-05T09:30Z", (2026, 12, 5, 9, 30)),
        ("2026-12-05T09:30:00+02:00", (2026, 12, 5, 7, 30)),
        ("2026-03-08T02:30", (2026, 3, 8, 8, 30)),  # skipped that day: an hour later on the wall
        ("2026-11-01T01:30", (2026, 11, 1, 6, 30)),  # twice that day: the first
    ],
)  # ISO 8601 dates and instants; both changes as the tz database has them for Chicago in 2026
def test_dates_and_instants(text, utc):
    assert due(text) == datetime(*utc, tzinfo=UTC)


@pytest.mark.parametrize("text", ["2026-13-01", "2026-02-29", "5 Dec", "12/05/2026", "2026-12-05T25:00", "tomorrow"])
def test_what_is_no_date_says_how_to_write_one(text):
    with pytest.raises(CellError, match="no such date; write it like 2026-12-05"):
        due(text)


def test_a_year_that_can_not_be_meant():
    with pytest.raises(CellError, match="the year 202 "):
        due("0202-12-05")


@pytest.mark.parametrize("text", ["in person", "In Person", "IN_PERSON", "in-person", " in  person"])
def test_channels_in_any_spelling(text):
    assert values.channel(text) == "in person"


def test_an_unknown_channel_names_the_known_ones():
    with pytest.raises(CellError, match="it is fair, online, in person or shop stock"):
        values.channel("phone")


@pytest.mark.parametrize("text", ["yes", "TRUE", "1", "y"])
def test_yes(text):
    assert values.yes_or_no(text)


@pytest.mark.parametrize("text", ["no", "False", "0", "N"])
def test_no(text):
    assert not values.yes_or_no(text)


@pytest.mark.parametrize(
    ("text", "amount"),
    [("48", "48.00"), ("$48.5", "48.50"), ("1,250.00", "1250.00"), ("0", "0.00"), ("$ 3.990", "3.99")],
)
def test_prices(text, amount):
    assert values.price(text) == Decimal(amount)


@pytest.mark.parametrize("text", ["-1", "12,50", "free", "1e400", "NaN", "1.999", "٤٨", "1000000"])
def test_what_is_no_price(text):
    with pytest.raises(CellError):
        values.price(text)


@pytest.mark.parametrize(("text", "number"), [("1", 1), ("500", 500), ("3.0", 3)])
def test_quantities(text, number):
    assert values.pieces(text) == number


@pytest.mark.parametrize("text", ["0", "501", "2.5", "-3", "two", "1_0", "٣", "9" * 30])
def test_what_is_no_quantity(text):
    with pytest.raises(CellError):
        values.pieces(text)


READERS = [due, values.channel, values.yes_or_no, values.price, values.pieces, lambda text: values.short(text, 40)]


@given(st.sampled_from(READERS), st.text(max_size=60))
def test_any_text_is_a_value_or_has_a_reason(read, text):
    with suppress(CellError):
        read(text)
