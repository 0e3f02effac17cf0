"""Are lengths and areas of a description read in their own units, and spoiled ones refused?"""

from __future__ import annotations

import pytest

from staking.sitefile.descriptions.items import made_plain
from staking.sitefile.descriptions.measures import Units, area_at, length_at, said_units, same_value

LENGTHS = [
    ("102.50 feet", "102.50 ft"),
    ("102.5'", "102.5 ft"),
    ("102′-6 1/2″", "102 ft 6-1/2 in"),
    ("102 feet and 6 inches", "102 ft 6 in"),
    ("1,234.50 FT.", "1234.50 ft"),
    ("100 U.S. Survey Feet", "100 ftUS"),
    ("30.48 metres", "30.48 m"),
    ("7 chs.", "7 ch"),
    ("320 po", "320 rd"),
    ("12 perches", "12 rd"),
    ("25 lks.", "25 lk"),
    ("50 varas", "50 vara"),
    ("14 chains and 15 links", "14.15 ch"),
    ("2 chains 5 links", "2.05 ch"),
    ("10 poles and 5 links", "255 lk"),
    ("20 rods 8 feet", "338 ft"),
    ("3 chains 2 rods", "14 rd"),
    ("1/2 mile", "2640 ft"),
    ("one hundred two and fifty one-hundredths feet", "102.50 ft"),
    ("one hundred two feet (102.00')", "102 ft"),
]


@pytest.mark.parametrize(("text", "value"), LENGTHS)
def test_lengths_are_read_in_the_unit_that_is_printed(text: str, value: str) -> None:
    """Every unit of the trade, in digits and words; two units in one length are put together exactly."""
    plain = made_plain(text)
    item = length_at(plain, 0, Units())
    assert item is not None
    assert (item.kind, item.value, item.end) == ("length", value, len(plain))


REFUSED = [
    ("1O2.50 feet", "letters"),
    ("l02.50 ft", "letters"),
    ("IOO feet", "letters"),
    ("102,50 feet", "comma"),
    ("1.234.5 feet", "no number"),
    ("1 02.50 feet", "side by side"),
    ("12. 50 feet", "side by side"),
    ("102' 6", "inches"),
    ("9' 13\"", "more than a foot"),
    ("14 chains 150 links", "not below"),
    ("14.5 chains 15 links", "not whole"),
    ("one hundred feet (101')", "two lengths"),
    ("half mile", "how many"),
]


@pytest.mark.parametrize(("text", "why"), REFUSED)
def test_spoiled_lengths_are_refused_whole(text: str, why: str) -> None:
    """A token that a scanner may have spoiled is never repaired."""
    item = length_at(made_plain(text), 0, Units())
    assert item is not None
    assert item.kind == "refused"
    assert why in item.why


def test_a_number_without_a_unit_is_no_length() -> None:
    """Nothing says feet; a word that is nearly a unit is shown with the one that may be meant."""
    bare = length_at("102.50 to", 0, Units())
    near = length_at("102 fect", 0, Units())
    assert bare is not None
    assert near is not None
    assert (bare.kind, bare.why) == ("number", "it has no unit")
    assert near.remedy == 'did you mean "feet"?'


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("0.057 acres", "0.057 acres"),
        ("22,749 sq. ft.", "22749 square feet"),
        ("two hectares", "2 hectares"),
        ("250 m²", "250 square metres"),
    ],
)
def test_areas_are_read(text: str, value: str) -> None:
    """The number as printed, the unit by its word."""
    item = area_at(text, 0)
    assert item is not None
    assert item.value == value


def test_a_sentence_can_give_the_unit_of_all_lengths() -> None:
    """All distances in US survey feet: feet are then those feet."""
    assert said_units("all distances are in u.s. survey feet") == Units("ftUS", "ftUS")
    assert said_units("a distance of 50 metres") == Units()
    item = length_at("60 feet", 0, Units("ftUS", "ftUS"))
    assert item is not None
    assert item.value == "60 ftUS"


def test_equal_values_may_be_written_in_two_ways() -> None:
    """Zeros at the end do not make another length; another unit does."""
    assert same_value("102 ft 6 in", "102 ft 6 in")
    assert not same_value("102 ft 6 in", "102 ft 7 in")
    assert not same_value("100 ft", "100 m")
