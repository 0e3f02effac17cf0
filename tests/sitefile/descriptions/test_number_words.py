"""Are numbers in digits and in words read, digit for digit?"""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from staking.errors import TextError
from staking.sitefile.descriptions.number_words import NUMBER, as_decimal, decimal_text, read_number, value_of

READ = [
    ("1,250.40", "1250.40"),
    (".5", ".5"),
    ("6 1/2", "6-1/2"),
    ("6-1/2", "6-1/2"),
    ("6½", "6-1/2"),
    ("102 and 50/100", "102.50"),
    ("fifteen", "15"),
    ("forty five", "45"),
    ("sixty-\nfive", "65"),
    ("one hundred two", "102"),
    ("one hundred and two", "102"),
    ("thirteen hundred twenty", "1320"),
    ("one thousand eight hundred fifty-two and three one-hundredths", "1852.03"),
    ("one hundred two and fifty one-hundredths", "102.50"),
    ("one hundred and two and fifty one-hundredths", "102.50"),
    ("fifty-one hundredths", "0.51"),
    ("eight one hundredths", "0.08"),
    ("seven and no hundredths", "7.00"),
    ("nine and four tenths", "9.4"),
    ("two point five zero", "2.50"),
    ("three and one-half", "3-1/2"),
    ("forty two and a half", "42-1/2"),
    ("one hundred two and 50/100", "102.50"),
    ("one hundred two and no/100", "102.00"),
    ("fifteen (15)", "15"),
    ("one hundred two and 50/100 (102.50)", "102.50"),
]


@pytest.mark.parametrize(("text", "digits"), READ)
def test_numbers_are_read_with_the_digits_that_are_said(text: str, digits: str) -> None:
    """Hundredths keep both their places, commas go, fractions stay."""
    assert re.fullmatch(NUMBER, text)
    assert read_number(text) == digits


REFUSED = [
    ("fifty one hundredths", "two ways"),
    ("one hundred fifty-one-hundredths", "two ways"),
    ("eight one", "not one number"),
    ("thousand five", "not one number"),
    ("zero hundred", "not one number"),
    ("one hundred two hundred", "not one number"),
    ("twenty eleven", "not one number"),
    ("half", "how many parts"),
    ("two and three halves", "not a part below 1"),
    ("two and 5/4", "not a part below 1"),
    ("two point twelve", "no digit"),
    ("fifteen (16)", "says 15 and then 16"),
]


@pytest.mark.parametrize(("text", "why"), REFUSED)
def test_numbers_that_can_be_read_in_two_ways_are_refused(text: str, why: str) -> None:
    """What is no number, or could be two, is said to be so."""
    with pytest.raises(TextError, match=re.escape(why)):
        read_number(text)


def test_no_is_a_number_only_in_front_of_its_part() -> None:
    """The word in `Lot No. 5` is none."""
    assert re.match(NUMBER, "no hundredths")
    assert not re.match(NUMBER, "no. 5")


def test_fractions_become_decimals_where_they_end() -> None:
    """Half a minute is .5; a third has no end and is refused."""
    assert as_decimal("30-1/2") == "30.5"
    with pytest.raises(TextError, match="no end"):
        as_decimal("1/3")


@given(st.integers(0, 10**9), st.integers(0, 6))
def test_decimals_hold_the_exact_value(number: int, places: int) -> None:
    """What is written with a point has the value that it was written from."""
    value = Fraction(number, 10**places)
    assert value_of(decimal_text(value)) == value
