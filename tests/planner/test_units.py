import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import PlannerError
from planner.units import NM_PER_64TH, NM_PER_INCH, parse_length_nm, say_inches, write_length


@pytest.mark.parametrize(
    "text", ["15 7/8", '15-7/8"', "15.875in", "15.875", ' 15  7/8 "', "15 - 7/8 inches", "15 14/16"]
)
def test_a_length_in_inches_is_read_however_it_is_written(text):
    assert parse_length_nm(text) == 403_225_000


@pytest.mark.parametrize(
    ("text", "nm"),
    [("403 mm", 403_000_000), ("40.3cm", 403_000_000), ("3/4", 19_050_000), (".5", 12_700_000), ("0", 0)],
)
def test_metric_lengths_and_bare_fractions_are_read(text, nm):
    assert parse_length_nm(text) == nm


@pytest.mark.parametrize(
    "text", ["", "wide", "15 7", "7/0", "-3", "15 7/8/2", "15 ft", "1e9", "3/4 3/4", "1.5 1/2", "٣", "1" * 41, "½" * 9]
)
def test_what_is_no_length_is_refused_in_one_sentence(text):
    with pytest.raises(PlannerError, match=r"^“.*” is no length; write it like 15 7/8, 15.875 in or 403 mm\.$"):
        parse_length_nm(text)


@pytest.mark.parametrize(
    ("text", "said"), [("15.875", "15 7/8"), ("0.75", "3/4"), ("2", "2"), ("0", "0"), ("403 mm", "≈15 55/64")]
)
def test_a_length_is_said_in_lowest_terms(text, said):
    assert say_inches(parse_length_nm(text)) == said


def test_a_hair_short_of_a_whole_inch_is_said_as_nearly_the_inch():
    assert say_inches(NM_PER_INCH - 1) == "≈1"


@given(st.integers(0, 64 * 200))
def test_every_64th_comes_back_as_it_went(sixty_fourths):
    assert parse_length_nm(say_inches(sixty_fourths * NM_PER_64TH)) == sixty_fourths * NM_PER_64TH


@given(st.integers(0, 200 * NM_PER_INCH))
def test_what_is_said_is_never_more_than_half_a_64th_away(nm):
    assert abs(parse_length_nm(say_inches(nm).removeprefix("≈")) - nm) <= NM_PER_64TH / 2


@pytest.mark.parametrize(
    ("text", "written"),
    [("15.875", "15 7/8"), ("0.4", "0.4"), ("240 mm", "240 mm"), ("40.35 cm", "403.5 mm"), ("0", "0")],
)
def test_a_length_is_written_as_it_was_said(text, written):
    assert write_length(parse_length_nm(text)) == written


@given(st.integers(0, 200 * NM_PER_INCH))
def test_a_written_length_comes_back_to_the_nanometre(nm):
    assert parse_length_nm(write_length(nm)) == nm
