"""Do the TOML and the report hold every course with its words, and say what is missing?"""

from __future__ import annotations

import tomllib

from staking.sitefile.descriptions.reading import read_description
from staking.sitefile.descriptions.report import as_report
from staking.sitefile.descriptions.toml import as_toml

TEXT = """Commencing at a pin; thence N 1 E 5 feet to the point of beginning;
thence N 88°14'30" E 102.50 feet;
thence along a curve to the right, radius 15 feet, arc length 15.46 feet, chord S 28-28-23 E 14.79 feet;
thence azimuth 181-03-37, 108.01 feet to a "stone" \\ by the creek;
thence N 80 W to the point of beginning, containing 0.057 acres.
"""


def test_the_toml_holds_every_course() -> None:
    """Keys as the site file wants them, digits as printed."""
    lot = tomllib.loads(as_toml(read_description(TEXT)))["lot"]
    assert lot["stated_area"] == "0.057 acres"
    assert lot["courses"] == [
        {"side": "side 1", "bearing": "N 88-14-30 E", "length": "102.50 ft"},
        {
            "kind": "curve",
            "side": "side 2",
            "turn": "right",
            "radius": "15 ft",
            "arc": "15.46 ft",
            "chord": "14.79 ft",
            "chord_bearing": "S 28-28-23 E",
        },
        {"side": "side 3", "bearing": "181-03-37", "length": "108.01 ft"},
        {"side": "side 4", "bearing": "N 80 W", "to_start": True},
    ]


def test_the_words_stand_above_their_course() -> None:
    """As a comment on one line, with the line of the text; ties are comments only."""
    toml = as_toml(read_description(TEXT))
    assert '# line 2: thence N 88°14\'30" E 102.50 feet\n[[lot.courses]]\nside = "side 1"' in toml
    assert "# tie 1, from the point of commencement: bearing N 1 E, length 5 ft" in toml


def test_what_is_missing_is_a_comment_in_its_place() -> None:
    """The site file does not pass before it is filled in."""
    toml = as_toml(read_description("thence along the creek 20 feet; thence on a curve to the left, radius 5 feet"))
    first, second = tomllib.loads(toml)["lot"]["courses"]
    assert first == {"side": "side 1", "length": "20 ft"}
    assert second == {"kind": "curve", "side": "side 2", "turn": "left", "radius": "5 ft"}
    assert '# bearing = ""  # not read' in toml
    assert '# arc = ""  # not read' in toml
    assert "# left open: whether it is tangent" in toml


def test_a_refused_description_has_no_courses_in_toml() -> None:
    """The reason stands there as a comment."""
    toml = as_toml(read_description("thence N 20 feet; less and except the road"))
    assert "courses" not in tomllib.loads(toml)["lot"]
    assert "only a whole parcel is read" in toml


def test_an_area_in_a_unit_of_no_site_file_is_a_comment() -> None:
    """Square rods are kept for the reader only."""
    toml = as_toml(read_description("thence N 20 rods; thence E 20 rods to the POB, containing 200 square rods"))
    assert '# stated_area = "200 square rods"' in toml


def test_invisible_signs_do_not_reach_the_toml() -> None:
    """A control character in the text cannot spoil the file."""
    assert tomllib.loads(as_toml(read_description("thence N 20 feet \x07 to a pin; thence E\x0b20 feet")))


def test_the_report_shows_what_was_understood_and_from_which_words() -> None:
    """One line for the course, one for its words."""
    report = as_report(read_description(TEXT))
    assert ' tie 1  N 1 E, 5 ft\n        from line 1: "thence N 1 E 5 feet to the point of beginning"\n' in report
    assert (
        "     2  curve to the right, radius 15 ft, arc 15.46 ft, chord 14.79 ft, chord bearing S 28-28-23 E\n" in report
    )
    assert "     3  azimuth 181-03-37, 108.01 ft\n" in report
    assert "     4  N 80 W, to the beginning\n" in report
    assert "stated area: 0.057 acres\n" in report
    assert '  4:39  "to a "stone" \\ by the creek": it stands beside the course' in report


def test_the_report_shows_what_was_not_read_with_its_place() -> None:
    """Line, column, the words, the reason and what to do."""
    report = as_report(read_description("thence N 12 E 20 feet;\nthence N l2 E 20 feet;\nthence on a curve of 5 feet"))
    assert '  2:8  "N l2 E": letters stand among its digits' in report
    assert "    -> look at the original" in report
    assert "     2  bearing not read, 20 ft" in report
    assert "     3  curve, left or right not read, arc 5 ft, radius not read" in report
    assert "[description-incomplete]" in report
