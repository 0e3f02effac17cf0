"""Are the courses of a description read as they are written, and everything else listed?"""

from __future__ import annotations

import pytest

from staking.findings import Severity
from staking.sitefile.descriptions.described import Description
from staking.sitefile.descriptions.reading import CODES, LONGEST, MOST_BLANKS, course_name, read_description


def said(text: str) -> list[str]:
    """Every course in one line: its direction and its distance, `?` for what was not read."""
    return [
        f"{c.fields.get('bearing') or c.fields.get('azimuth', '?')} "
        f"{'start' if c.to_start else c.fields.get('length', '?')}"
        for c in read_description(text).courses
    ]


def unread(text: str) -> list[str]:
    """The words that were not read, on one line each."""
    return [" ".join(piece.words.text.split()) for piece in read_description(text).unread]


def codes(description: Description) -> set[str]:
    """The codes of all findings."""
    return {finding.code for finding in description.findings}


SQUARE = ["N 100 ft", "E 50 ft", "S 100 ft", "W 50 ft"]
WORDINGS = [
    "Thence North 100 feet; thence East 50 feet; thence South 100 feet; thence West 50 feet to the point of beginning.",
    "Thence North 100 feet; East 50 feet; South 100 feet; West 50 feet to the place of beginning.",
    "Beginning at a stone, running North 100 feet, then East 50 feet, then South 100 feet, then due West 50 feet",
    "1) due North, 100 feet\n2) due East, 50 feet\n3) due South, 100 feet\n4) due West, 50 feet",
    "(1) North, a distance of 100 feet; (2) East 50 feet; (3) South 100 feet; (4) West 50 feet",
    "L1  North  100'\nL2  East  50'\nL3  South  100'\nL4  West  50'",
    "THENCE N 100 FT TO A PIN;\nTHENCE E 50 FT TO A PIN;\nTHENCE S 100 FT TO A PIN;\nTHENCE W 50 FT TO THE POB",
    "thence\nNorth one\nhundred feet; thence East fifty feet;\r\nthence South one hundred feet; thence West fifty feet",
]


@pytest.mark.parametrize("text", WORDINGS)
def test_the_same_lot_is_read_in_many_wordings(text: str) -> None:
    """Markers, numbers, semicolons, lines of a table, line ends in the middle."""
    assert said(text) == SQUARE
    assert unread(text) == []


def test_corners_and_what_marks_them_are_passed_over() -> None:
    """The size of a bar is no distance; words that name no place are not listed."""
    text = (
        'thence N 12 E 100.00 feet, more or less, to a 5/8 inch iron rebar found; thence W 50 feet to a 1/2" pipe set'
    )
    assert said(text) == ["N 12 E 100.00 ft", "W 50 ft"]
    assert unread(text) == []


def test_names_of_places_beside_a_course_are_listed() -> None:
    """The course is read, and its other words are shown with their line and column."""
    text = "Thence N 12 E,\nalong the east line of Lot 7, 100 feet"
    piece = read_description(text).unread[0]
    assert said(text) == ["N 12 E 100 ft"]
    assert (piece.words.text, piece.words.line, piece.words.column) == ("along the east line of Lot 7", 2, 1)


def test_the_words_of_a_course_are_those_of_the_text() -> None:
    """From the marker to the last word, by their places in the text."""
    text = "Beginning at a pin; thence N 12°30′ E 100 feet to a pin; thence West 20 feet"
    words = read_description(text).courses[0].words
    assert words.text == text[words.start : words.end] == "thence N 12°30′ E 100 feet to a pin"


@pytest.mark.parametrize("place", ["along the creek", "in the direction of the natural boundary", "with the road"])
def test_a_call_along_something_is_refused_by_name(place: str) -> None:
    """It stays in the list without a bearing, and the description is not complete."""
    text = f"thence N 12 E 100 feet; thence {place}, 180.28 feet; thence W 50 feet"
    description = read_description(text)
    assert said(text) == ["N 12 E 100 ft", "? 180.28 ft", "W 50 ft"]
    assert unread(text) == [place]
    assert not description.complete
    assert codes(description) == {"description-incomplete"}


@pytest.mark.parametrize(
    "turned", ["turning an angle of 90 degrees to the right", "at right angles", "deflecting 45°00' to the left"]
)
def test_a_turn_from_the_course_before_is_no_bearing(turned: str) -> None:
    """A deflection is refused with a sentence."""
    text = f"thence N 12 E 100 feet; thence {turned} 50 feet"
    assert said(text)[1] == "? 50 ft"
    assert unread(text)


@pytest.mark.parametrize(
    ("call", "course", "refused"),
    [
        ("N l2 E 100 feet", "? 100 ft", "N l2 E"),
        ("N 12 E 1O0 feet", "N 12 E ?", "1O0 feet"),
        ("N 450 30' E 100 feet", "? 100 ft", "N 450 30' E"),
        ("N 12 E 100 fect", "N 12 E ?", "100 fect"),
        ("N 12 E 100", "N 12 E ?", "100"),
        ("27°35' W, 133.87 feet", "? 133.87 ft", "27°35' W"),
        ("Northeast 40 feet", "? 40 ft", "Northeast"),
        ("E 30 N 40 feet", "? 40 ft", "E 30 N"),
    ],
)
def test_what_is_spoiled_is_listed_and_never_repaired(call: str, course: str, refused: str) -> None:
    """The rest of the call is kept; even as the last call it is not taken to run to the beginning."""
    text = f"thence N 12 E 100 feet; thence {call}"
    assert said(text) == ["N 12 E 100 ft", course]
    assert unread(text) == [refused]


def test_a_reversed_bearing_or_a_missing_call_is_not_noticed_here() -> None:
    """The reader reports what is written; whether it closes is another question."""
    text = "thence N 100 feet; thence E 50 feet; thence N 100 feet"
    assert said(text) == ["N 100 ft", "E 50 ft", "N 100 ft"]


@pytest.mark.parametrize("call", ["N 45 E 100 feet, passing a pin at 50 feet", "N 45 E 100 feet (99.5 feet measured)"])
def test_of_two_distances_neither_is_taken(call: str) -> None:
    """Which holds is asked; both are listed."""
    assert said(f"thence {call}; thence W 20 feet")[0] == "N 45 E ?"
    assert len([piece for piece in unread(f"thence {call}; thence W 20 feet") if "feet" in piece]) == 2


def test_of_two_bearings_neither_is_taken() -> None:
    """A record bearing beside a measured one is asked about."""
    text = "thence N45E (N44-58E M) 100 feet; thence W 20 feet"
    assert said(text)[0] == "? 100 ft"
    assert {"N45E", "N44-58E"} <= set(unread(text))


def test_the_same_distance_said_twice_is_one() -> None:
    """In words and again in digits."""
    assert said("thence N 45 E one hundred feet (100.00'); thence W 20 feet")[0] == "N 45 E 100 ft"


def test_a_tie_to_another_point_is_no_course() -> None:
    """What follows `from which` is listed, and the course before it is whole."""
    text = "thence N 45 E 100 feet to a pin, from which a pine bears S 20 W 14 feet; thence W 20 feet"
    assert said(text) == ["N 45 E 100 ft", "W 20 ft"]


def test_azimuths_keep_their_own_key() -> None:
    """From north, in words and with marks."""
    text = "thence on an azimuth of 308 degrees 51 minutes, 300 feet; azimuth 135.5°, 40 m; then azimuth 45-30, 30 m"
    assert said(text) == ["308-51 300 ft", "135.5 40 m", "45-30 30 m"]
    assert "azimuth" in read_description(text).courses[0].fields


@pytest.mark.parametrize("end", ["to the point of beginning", "to the first corner", "to the P.O.B."])
def test_a_bearing_without_a_distance_runs_to_the_beginning_where_the_words_say_so(end: str) -> None:
    """No note is needed."""
    text = f"thence N 100 feet; thence E 50 feet; thence S 26 W {end}"
    assert said(text)[-1] == "S 26 W start"
    assert not read_description(text).findings


def test_the_last_bearing_without_a_distance_runs_to_the_beginning_with_a_note() -> None:
    """The note says that it was taken so."""
    description = read_description("thence N 100 feet; thence E 50 feet; thence S 26 W")
    assert description.courses[-1].to_start
    assert codes(description) == {"description-taken"}


def test_a_bearing_without_a_distance_in_the_middle_is_incomplete() -> None:
    """Nothing says where it ends."""
    assert said("thence N 12 E; thence W 50 feet")[0] == "N 12 E ?"


def test_courses_from_a_point_of_commencement_are_ties() -> None:
    """They are kept apart from the sides of the lot."""
    text = (
        "Commencing at the corner; thence N 660 feet; thence E 330 feet to the true point of beginning; "
        "thence E 200 feet; thence S 50 feet; thence N 76 W to the true point of beginning."
    )
    description = read_description(text)
    assert [course.fields["length"] for course in description.tie] == ["660 ft", "330 ft"]
    assert said(text) == ["E 200 ft", "S 50 ft", "N 76 W start"]


@pytest.mark.parametrize(
    "head",
    [
        "Beginning at a point N 30 E 200 feet from the corner of Lot 3; thence",
        "Commencing at a pin; thence N 30 E 200 feet; Beginning at the pin there; thence",
        "From the corner of Lot 3 run N 30 E 200 feet to the point of beginning; thence",
        "Starting reference: from the tie corner go N 30 E, 200 feet, to the first corner. Thence",
    ],
)
def test_a_tie_is_known_by_its_words(head: str) -> None:
    """Commencing, from a corner, beginning at a point from a corner."""
    description = read_description(f"{head} E 20 feet; thence S 20 feet; thence N 45 W to the point of beginning")
    assert [course.fields["bearing"] for course in description.tie] == ["N 30 E"]
    assert len(description.courses) == 3


def test_commencing_without_a_point_of_beginning_is_a_strong_warning() -> None:
    """Which courses only lead to the lot is not told."""
    description = read_description("Commencing at a pin; thence N 20 feet; thence E 20 feet")
    assert len(description.courses) == 2
    assert codes(description) == {"description-commencing"}


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("thence N 20 feet; thence E 20 feet; less and except the north 5 feet", "description-exception"),
        ("thence N 20 feet; thence E 20 feet; excepting the road", "description-exception"),
        ("Parcel 1: thence N 20 feet\nParcel 2: thence N 20 feet", "description-parcels"),
        ("First tract: thence N 20 feet. Second tract: thence N 20 feet", "description-parcels"),
        ("thence N 20 feet; thence S 20 feet to the point of beginning; thence E 20 feet", "description-parcels"),
        ("Lot 7, Block 2, as on the plat", "description-empty"),
        ("", "description-empty"),
        ("x" * (LONGEST + 1), "description-long"),
        ("thence N 0" + " " * MOST_BLANKS, "description-long"),
    ],
)
def test_what_is_not_one_whole_parcel_is_refused(text: str, code: str) -> None:
    """A stop, with no courses."""
    description = read_description(text)
    assert codes(description) == {code}
    assert description.refused
    assert description.courses == ()


def test_more_or_less_is_no_exception() -> None:
    """The words hold `less`."""
    assert not read_description("thence N 20 feet, more or less the line; thence E 20 feet").refused


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("containing 0.057 acres, more or less", "0.057", "acres"),
        ("said to hold 640 acres", "640", "acres"),
        ("containing 22,749 square feet or 0.52 acres", "22749", "square feet"),
        ("Area = 1.5 ha", "1.5", "hectares"),
    ],
)
def test_the_stated_area_is_read(text: str, value: str, unit: str) -> None:
    """With the digits that are printed."""
    area = read_description(f"thence N 20 feet; thence E 20 feet to the point of beginning, {text}.").stated_area
    assert area is not None
    assert (area.value, area.unit) == (value, unit)


def test_an_area_of_something_else_is_not_the_stated_area() -> None:
    """Part of a larger tract."""
    assert read_description("Part of a 150 acre tract; thence N 20 feet; thence E 20 feet").stated_area is None


def test_the_unit_is_told_where_there_is_one() -> None:
    """Mixed units have no single one."""
    assert read_description("thence N 20 chains; thence E 10 chains").unit == "ch"
    assert read_description("thence N 20 chains; thence E 10 feet").unit == ""


def test_a_sentence_about_units_is_obeyed_and_noted() -> None:
    """Bare numbers and feet are US survey feet."""
    description = read_description("All distances are in US survey feet. Thence N 12 E 100.5; thence W 20 feet")
    assert [course.fields["length"] for course in description.courses] == ["100.5 ftUS", "20 ftUS"]
    assert codes(description) == {"description-taken"}


def test_magnetic_bearings_are_kept_and_said_to_be_so() -> None:
    """No declination is applied."""
    description = read_description("Bearings are magnetic. Thence N 12 E 100 feet; thence W 20 feet")
    assert codes(description) == {"description-magnetic"}


def test_units_put_together_are_noted() -> None:
    """14 chains and 15 links are 14.15 chains."""
    finding = read_description("thence N 14 chains and 15 links; thence W 2 chains").findings[0]
    assert finding.severity == Severity.NOTE
    assert "14.15 ch" in finding.message


def test_every_code_of_a_finding_is_listed() -> None:
    """The page of findings can be made from the list."""
    text = "Commencing at a pin; magnetic; thence N 20 po 3 lks; thence along the creek; thence on a curve to the left"
    assert codes(read_description(text)) <= CODES.keys()


def test_courses_are_counted_apart_from_ties() -> None:
    """Both from 1."""
    assert [course_name(number, 2) for number in range(4)] == ["tie 1", "tie 2", "course 1", "course 2"]


@pytest.mark.parametrize("text", ["(((", "thence", "°°'\"", "N", "thence thence to the", "1) 2) 3)", "\x00\ud800 N 4"])
def test_any_text_is_answered(text: str) -> None:
    """Scraps are no courses, and no error of the program."""
    assert not read_description(text).complete
