"""The day laid out as a table: every field stands in its rows, and every row is as wide as the table."""

from collections import Counter
from datetime import UTC, datetime, timedelta
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from shop.day.table import HEIGHTS, MINUTE, Span, lay_out, one_after_another

EIGHT = datetime(2026, 6, 1, 8, tzinfo=UTC)
HOURS = [EIGHT + n * timedelta(hours=1) for n in range(5)]

spans = st.lists(
    st.tuples(st.integers(-60, 300), st.integers(1, 90)).map(
        lambda pair: Span(EIGHT + pair[0] * MINUTE, EIGHT + (pair[0] + pair[1]) * MINUTE, pair)
    ),
    max_size=12,
)


def span(start: int, end: int, what: object = "sand") -> Span:
    return Span(EIGHT + start * MINUTE, EIGHT + end * MINUTE, what)


@given(st.lists(spans, max_size=4))
def test_every_column_fills_every_row_exactly_once(columns):
    rows = lay_out([(n, one_after_another(column)) for n, column in enumerate(columns)], HOURS, None)
    tall = Counter()
    for row in rows:
        for cell in row.cells:
            tall[cell.column] += cell.rows
    assert set(tall.values()) <= {len(rows)}
    assert len(tall) == len(columns)


@given(spans)
def test_moved_down_nothing_overlaps_and_nothing_moves_up(column):
    moved = one_after_another(column)
    assert all(first.ends_at <= second.starts_at for first, second in pairwise(moved))
    asked = {id(each.what): each.starts_at for each in column}
    assert all(each.starts_at >= asked[id(each.what)] and each.ends_at > each.starts_at for each in moved)


def test_a_field_is_as_tall_as_the_rows_it_runs_through():
    rows = lay_out([("saw", [span(10, 70)]), ("router", [span(30, 40)])], HOURS, None)
    saw = next(cell for row in rows for cell in row.cells if cell.what == "sand" and cell.column == "saw")
    assert [row.starts_at.strftime("%H:%M") for row in rows[:5]] == ["08:00", "08:10", "08:30", "08:40", "09:00"]
    assert saw.rows == 4


def test_the_line_of_now_is_a_row_of_its_own():
    rows = lay_out([("saw", [span(10, 70)])], HOURS, EIGHT + 25 * MINUTE)
    assert [row.starts_at for row in rows if row.is_now] == [EIGHT + 25 * MINUTE]


def test_now_is_left_out_of_a_day_that_is_not_today():
    assert not any(row.is_now for row in lay_out([], HOURS, EIGHT + timedelta(days=1)))


def test_what_began_in_the_night_is_cut_at_the_top_of_the_table():
    first = lay_out([("rack", [span(-300, 20)])], HOURS, None)[0]
    assert (first.starts_at, first.minutes, first.cells[0].rows) == (EIGHT, 20, 1)


def test_an_empty_hour_is_not_taller_than_the_tallest_step():
    long = [EIGHT, EIGHT + timedelta(hours=9)]
    assert lay_out([], long, None)[0].height == HEIGHTS[-1]
