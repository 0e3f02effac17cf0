"""Are bearings, azimuths and angles read as printed, and spoiled ones refused with the reason?"""

from __future__ import annotations

import pytest

from staking.sitefile.descriptions.directions import direction_at, reversed_bearing
from staking.sitefile.descriptions.items import made_plain

BEARINGS = [
    ("N 12°30′15″ E", "N 12-30-15 E"),
    ("N12-30-15E", "N 12-30-15 E"),
    ("n. 12° 30' e.", "N 12-30 E"),
    ("S 28 deg 28' 23\" E", "S 28-28-23 E"),
    ("S. 12 d. 30 m. E.", "S 12-30 E"),
    ("North 12 degrees 30 minutes 15 seconds East", "N 12-30-15 E"),
    ("North 25 degrees and 30 minutes East", "N 25-30 E"),
    ("North forty-five (45) degrees East", "N 45 E"),
    ("south sixty degrees forty-eight minutes zero seconds west", "S 60-48-00 W"),
    ("north eight degrees, forty-seven and one-half minutes east", "N 8-47.5 E"),
    ("N 45°30½' E", "N 45-30.5 E"),
    ("N 45½ E", "N 45.5 E"),
    ("S25W", "S 25 W"),
    ("N 45 30 15 E", "N 45-30-15 E"),
    ("N 12°-30'-15\" E", "N 12-30-15 E"),
    ("N 12° 30' 15'' E", "N 12-30-15 E"),
    ("N 45º W", "N 45 W"),
    ("due West", "W"),
]


@pytest.mark.parametrize(("text", "value"), BEARINGS)
def test_bearings_are_read_with_the_digits_that_are_printed(text: str, value: str) -> None:
    """Marks, dashes, words and blanks between degrees, minutes and seconds."""
    plain = made_plain(text)
    item = direction_at(plain, 0)
    assert item is not None
    assert (item.kind, item.value, item.end) == ("bearing", value, len(plain))


REFUSED = [
    ("N l2°30' E", "letters"),
    ("N 12°3O'15\" E", "letters"),
    ("N S5-20-10 E", "letters"),
    ("N 120 30' 15\" E", "degree sign"),
    ("N 40 30' E", "degree sign"),
    ("N 45 0 30 E", "no angle"),
    ("N 12°30'1511 E", "not below 60"),
    ('N 12°30" E', "no minutes"),
    ("N 95° E", "at most 90"),
    ("N 45°70' E", "not below 60"),
    ("N 45 degress 30 minutes E", "no angle"),
    ("N 45°30'", "neither East nor West"),
    ("north forty-five degrees", "neither East nor West"),
    ("27°35′50″ West", "neither North nor South"),
    ("27-35-50W", "neither North nor South"),
    ("East 30° North", "from east or west"),
    ("E 30 N", "from east or west"),
    ("308°51' from the south", "counted from south"),
]


@pytest.mark.parametrize(("text", "why"), REFUSED)
def test_spoiled_bearings_are_refused_whole(text: str, why: str) -> None:
    """Letters among digits, a degree sign read as 0, a letter that is missing: shown, never repaired."""
    plain = made_plain(text)
    item = direction_at(plain, 0)
    assert item is not None
    assert (item.kind, item.value, item.end) == ("refused", "bearing", len(plain))
    assert why in item.why


@pytest.mark.parametrize(
    ("text", "kind", "value", "rest"),
    [
        ("308 degrees 51 minutes from the north", "azimuth", "308-51", ""),
        ("three hundred eight degrees fifty-one minutes from the north three", "azimuth", "308-51", " three"),
        ("8°16′17, arc", "angle", "8-16-17", ", arc"),
        ("44°33 arc", "angle", "44-33", " arc"),
        ("44° 33 feet", "angle", "44", " 33 feet"),
        ("45°, 40 m", "angle", "45", ", 40 m"),
        ("45°, 40' to", "angle", "45", ", 40' to"),
        ("12d30m15s", "angle", "12-30-15", ""),
        ("98-00-00", "angle", "98-00-00", ""),
        ("5 degree curve", "degree_of_curve", "", ""),
    ],
)
def test_angles_end_where_the_next_length_begins(text: str, kind: str, value: str, rest: str) -> None:
    """A mark may be lost at the end of an angle, but what could be feet or metres is never taken for minutes."""
    plain = made_plain(text)
    item = direction_at(plain, 0)
    assert item is not None
    assert (item.kind, item.value, plain[item.end :]) == (kind, value, rest)


@pytest.mark.parametrize(
    "text",
    [
        "north 50, east 20",
        "north 100', east 50'",
        "north 100'\nl2 east",
        "north line",
        "N 1/2 W 1/2",
        "S 100 feet of",
        "nine degrees",
        "E 100 feet",
    ],
)
def test_other_words_are_no_directions(text: str) -> None:
    """A half of a section, a line, a length behind a letter."""
    item = direction_at(made_plain(text), 0)
    assert item is None or item.kind == "angle"


def test_a_bearing_is_turned_round_by_its_letters() -> None:
    """The digits stay as they are printed."""
    assert reversed_bearing("N 12-30-15 E") == "S 12-30-15 W"
