"""Does each piece of a description go to the call that it belongs to?"""

from __future__ import annotations

import pytest

from staking.sitefile.descriptions.described import ReadCourse
from staking.sitefile.descriptions.reading import read_description


def understood(course: ReadCourse) -> str:
    """The fields of a course on one line, in their order; `>` for one that runs to the beginning."""
    return " ".join(course.fields.values()) + (" >" if course.to_start else "")


CALLS = [
    # what is written, and the courses that it makes
    ("thence N 1 E 5 feet; (4) thence N 2 E 6 feet", ["N 1 E 5 ft", "N 2 E 6 ft"]),
    ("(1) thence N 1 E 5 feet; (2) thence N 2 E 6 feet", ["N 1 E 5 ft", "N 2 E 6 ft"]),
    ("thence N 1 E (1) 5 feet; thence N 2 E 6 feet", ["N 1 E 5 ft", "N 2 E 6 ft"]),
    ("thence N 1 E 5 feet to a beginning stone; thence N 2 E 6 feet", ["N 1 E 5 ft", "N 2 E 6 ft"]),
    ("thence N 1 E 5 feet, running N 2 E 6 feet", ["N 1 E 5 ft", "N 2 E 6 ft"]),
    ("thence running along the road, running N 1 E 5 feet; then N 2 E 6 feet", ["N 1 E 5 ft", "N 2 E 6 ft"]),
    ("thence N 1 E 5 feet, N 2 E 6 feet", ["N 1 E 5 ft", "N 2 E 6 ft"]),
    (
        "thence N 1 E 5 feet to a pin which bears S 20 W 14 feet of an oak; thence N 2 E 6 feet",
        ["N 1 E 5 ft", "N 2 E 6 ft"],
    ),
    ("thence N 1 E azimuth 1-00 5 feet; thence N 2 E 6 feet", ["N 1 E 5 ft", "N 2 E 6 ft"]),
    ("thence N 1 E azimuth 2-00 azimuth 3-00 5 feet; thence N 2 E 6 feet", ["5 ft", "N 2 E 6 ft"]),
    ("thence azimuth 45.5, 5 feet; then azimuth 95°70' 6 feet; then W 7 feet", ["45.5 5 ft", "6 ft", "W 7 ft"]),
    ("thence 5 feet, 30 degrees; thence N 2 E 6 feet", ["5 ft", "N 2 E 6 ft"]),
    ("thence N 1 E 5 feet to the south line, 6 feet; then W 7 feet", ["N 1 E", "W 7 ft"]),
    ("thence N 1 E 5 feet 200 feet east of the road; then W 7 feet", ["N 1 E 5 ft", "W 7 ft"]),
    ("thence N 1 E eight one feet; then W 7 feet", ["N 1 E", "W 7 ft"]),
    ("thence N 1 E eight one; then W 7 feet", ["N 1 E", "W 7 ft"]),
    ("Commencing at a pin; thence N 1 E 5 feet; commencing again at a pin there; thence N 2 E 6 feet", ["N 2 E 6 ft"]),
    ("From the point of commencement run N 1 E 5 feet to the POB; thence N 2 E 6 feet", ["N 2 E 6 ft"]),
    ("thence N 1 E 5 feet; thence S 2 E to the point of commencement.", ["N 1 E 5 ft", "S 2 E >"]),
    ("thence N 1 E 5 feet; along a curve to the left, radius 6 feet, arc 1 foot", ["N 1 E 5 ft", "left 6 ft 1 ft"]),
    ("thence N 1 E 5 feet along the curve of the road; then W 7 feet", ["N 1 E 5 ft", "W 7 ft"]),
    ("thence along a curve to the left, radius 6 feet, arc 1 foot; S 2 E 3 feet", ["left 6 ft 1 ft", "S 2 E 3 ft"]),
    ("thence along a curve to the left, radius 6 feet, arc 1 foot, S 2 E 3 feet", ["left 6 ft 1 ft"]),
    ("thence along a curve to the left, a radius which bears S 2 E, arc 1 foot", ["left 1 ft S 2 E"]),
    ("thence along a curve to the left, included angle 45°, radius 6 feet", ["left 6 ft 45"]),
    ("thence along a curve to the left, 45°, radius 6 feet", ["left 6 ft"]),
    ("thence to the left, chord bears S 2 E 3 feet, radius 6 feet", ["left 6 ft 3 ft S 2 E"]),
    ("thence 1O feet along a curve to the left, radius 6 feet", ["left 6 ft"]),
    ("thence along a curve to the left, 1O feet, radius 6 feet", ["left 6 ft"]),
    ("thence along a curve to the left, central angle 95°70', radius 6 feet", ["left 6 ft"]),
    (
        "thence N 1 E 5 feet to a 6 foot radius curve; thence along said curve to the left, arc 1 foot",
        ["N 1 E 5 ft", "left 6 ft 1 ft"],
    ),
    (
        "thence N 1 E 5 feet to the point of curve of a curve to the left, radius 6 feet, central angle 1O°; "
        "thence 1 foot along the curve",
        ["N 1 E 5 ft", "left 6 ft 1 ft"],
    ),
    ("thence N 1 E 5 feet to the beginning of a curve to the left, radius 6 feet", ["N 1 E 5 ft"]),
    (
        "thence azimuth 1-00, 5 feet; thence along a tangent curve concave easterly, radius 6 feet, arc 1 foot",
        ["1-00 5 ft", "right 6 ft 1 ft"],
    ),
    (
        "All distances are in feet; thence along a curve to the left, radius 6, arc 1, chord bears S 2 E",
        ["left 6 ft 1 ft S 2 E"],
    ),
    ("Basis of bearings: chord N 1 E, 45 degrees, a curve, radius 5 feet, left; thence N 2 E 6 feet", ["N 2 E 6 ft"]),
    ("thence N 1 E 5 feet; thence to the point of beginning", ["N 1 E 5 ft", " >"]),
    (
        "thence N 1 E 5 feet to the beginning of a curve, the point of curve; thence along said curve to the left, "
        "radius 6 feet, arc 1 foot",
        ["N 1 E 5 ft", "left 6 ft 1 ft"],
    ),
    ("thence N 1 E 5 feet to a pin, from which a curve to the left, then W 7 feet", ["N 1 E 5 ft", "W 7 ft"]),
    (
        "thence along a tangent curve concave easterly, radius 6 feet, arc 1 foot; then W 7 feet",
        ["6 ft 1 ft", "W 7 ft"],
    ),
    ("thence N 1 E, 3 trees, 5 feet; then W 7 feet", ["N 1 E", "W 7 ft"]),
    ("thence along a curve to the left 1 foot radius of 6 feet; then W 7 feet", ["left 6 ft 1 ft", "W 7 ft"]),
    ("thence along a curve to the left 6 feet radius 1 foot arc; then W 7 feet", ["left 6 ft 1 ft", "W 7 ft"]),
    ("thence along a curve to the left 6 feet radius 1 foot; then W 7 feet", ["left", "W 7 ft"]),
    ("thence along a 6 foot\nradius curve to the left, 1 foot\narc; then W 7 feet", ["left 6 ft 1 ft", "W 7 ft"]),
    ("In a plan of 45 degrees, with a curve of 12 feet; thence N 2 E 6 feet", ["N 2 E 6 ft"]),
    ("thence N 2 E 6 feet to the POB, containing half acre, and 5 poles", ["N 2 E 6 ft"]),
]


@pytest.mark.parametrize(("text", "courses"), CALLS)
def test_pieces_go_to_their_call(text: str, courses: list[str]) -> None:
    """Markers, commas, words behind a course, curves said before their call."""
    assert [understood(course) for course in read_description(text).courses] == courses


def test_what_stands_behind_an_area_is_no_side() -> None:
    """And an area that is no number is listed."""
    pieces = read_description("thence N 2 E 6 feet to the POB, containing half acre, and 5 poles").unread
    assert [piece.words.text for piece in pieces] == ["half acre", "5 poles"]


def test_the_degree_sign_that_became_a_zero_is_suspected() -> None:
    """Three digits of degrees that end with 0."""
    pieces = read_description("thence N 450 30 E 6 feet").unread
    assert "was the degree sign read as a 0" in pieces[0].why
