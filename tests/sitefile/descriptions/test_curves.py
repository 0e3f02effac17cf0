"""Are curves of a description read with all that is said of them, and is the rest asked?"""

from __future__ import annotations

import pytest

from staking.sitefile.descriptions.described import ReadCourse
from staking.sitefile.descriptions.reading import read_description


def curve(text: str) -> ReadCourse:
    """The second course, behind a straight one that goes N 45 E."""
    return read_description(f"thence N 45 E 100 feet; {text}; thence W 20 feet").courses[1]


WHOLE = {"turn": "left", "radius": "60.00 ft", "arc": "47.12 ft", "chord": "45.92 ft", "chord_bearing": "N 20-15 E"}
WORDINGS = [
    "thence along a curve to the left, radius 60.00 feet, arc length 47.12 feet, chord North 20°15' East 45.92 feet",
    "thence along the arc of a 60.00 foot radius curve to the left, an arc distance of 47.12 feet "
    "(chord bears N 20-15 E, 45.92 feet)",
    "thence 47.12 feet along the arc of a curve to the left, having a radius of 60.00 feet, "
    "the chord of which bears N 20-15 E a distance of 45.92 feet",
    "thence curving to the left; R = 60.00', L = 47.12', CH = 45.92', CB = N 20°15' E",
    "thence on a curve to the left with a radius of sixty and no hundredths feet for forty-seven "
    "and twelve one-hundredths feet, being subtended by a chord of 45.92 feet which bears N 20 degrees 15 minutes E",
    "thence along a curve, counterclockwise, 60.00 ft radius, 47.12 ft arc, chord N 20-15 E 45.92 ft",
    "thence with a curve turning to the left with an arc length of 47.12', with a radius of 60.00', "
    "with a chord bearing of N 20°15' E, with a chord length of 45.92'",
    "along a curve concave to the left, radius 60.00 feet, arc 47.12 feet, "
    "chord bearing and distance of N 20-15 E, 45.92 feet",
]


@pytest.mark.parametrize("text", WORDINGS)
def test_the_same_curve_is_read_in_many_wordings(text: str) -> None:
    """Labels in front and behind, abbreviations, words, a distance along the curve without a label."""
    course = curve(text)
    assert dict(course.fields) == WHOLE
    assert (course.missing, course.open) == ((), ())


def test_central_angle_tangent_and_radial_are_read() -> None:
    """Each under its own key."""
    course = curve(
        "thence along a curve to the right, delta = 44°59'48\", T = 24.85', R = 60', centre of which bears N 20 E"
    )
    assert dict(course.fields) == {
        "turn": "right",
        "radius": "60 ft",
        "delta": "44-59-48",
        "tangent": "24.85 ft",
        "radial": "N 20 E",
    }


def test_a_curve_is_described_at_the_end_of_the_course_before_it() -> None:
    """To the beginning of a tangent curve: what follows belongs to the call along it."""
    text = (
        "thence N 45 E 100.00 feet to the beginning of a tangent curve concave southeasterly, having a radius of 20.00 "
        "feet; thence easterly along said curve through a central angle of 90°00'00\" an arc distance of 31.42 feet"
    )
    line, bend = read_description(text).courses
    assert dict(line.fields) == {"bearing": "N 45 E", "length": "100.00 ft"}
    assert dict(bend.fields) == {"turn": "right", "radius": "20.00 ft", "arc": "31.42 ft", "delta": "90-00-00"}
    assert bend.tangent is True
    assert bend.open == ()


def test_a_curve_that_no_call_runs_along_is_listed() -> None:
    """Its radius is nobody's."""
    text = "thence N 45 E 100 feet to the beginning of a curve with a radius of 20 feet; thence W 30 feet"
    description = read_description(text)
    assert [course.kind for course in description.courses] == ["line", "line"]
    assert "20 feet" in [piece.words.text for piece in description.unread]


@pytest.mark.parametrize(
    ("concave", "turn"), [("northwesterly", "left"), ("southeasterly", "right"), ("to the northeast", None)]
)
def test_the_turn_is_derived_only_where_the_course_before_tells(concave: str, turn: str | None) -> None:
    """Going N 45 E, northwest is left; northeast is straight ahead and tells nothing."""
    course = curve(f"thence along a tangent curve concave {concave}, radius 20 feet, arc 10 feet")
    assert course.fields.get("turn") == turn
    assert ("turn" in course.missing) == (turn is None)


def test_concave_without_a_direction_to_go_is_asked() -> None:
    """The curve is not said to be tangent, so the course before does not tell."""
    assert "turn" in curve("thence along a curve concave northwesterly, radius 20 feet, arc 10 feet").missing


def test_the_turn_is_derived_from_the_bearing_of_the_chord() -> None:
    """The centre lies to its left."""
    text = "thence along a curve concave northwesterly, radius 20 feet, arc 10 feet, chord bears N 40 E"
    assert curve(text).fields["turn"] == "left"


@pytest.mark.parametrize(("kind", "turn"), [("reverse", "right"), ("compound", "left")])
def test_reverse_and_compound_curves_follow_the_curve_before(kind: str, turn: str) -> None:
    """A reverse curve turns the other way; both are tangent to the one before."""
    text = (
        "thence along a curve to the left, radius 20 feet, arc 10 feet, chord bears N 40 E; "
        f"thence along a {kind} curve, radius 30 feet, arc 12 feet"
    )
    course = read_description(text).courses[1]
    assert (course.fields["turn"], course.tangent) == (turn, True)


@pytest.mark.parametrize(
    ("words", "radial"),
    [
        ("a radial line to said beginning bears N 60 W", "S 60 E"),
        ("the radius point of which bears S 60 E", "S 60 E"),
        ("concave southeasterly, a radial line bears N 60 W", "S 60 E"),
        ("concave southeasterly, a radial line bears S 60 E", "S 60 E"),
    ],
)
def test_radial_lines_are_written_from_the_beginning_to_the_centre(words: str, radial: str) -> None:
    """A line to the beginning comes from the centre and is turned round; else the concave side decides."""
    course = curve(f"thence along a non-tangent curve to the right, radius 20 feet, arc 10 feet, {words}")
    assert course.fields["radial"] == radial
    assert course.open == ()


def test_a_radial_line_that_could_go_both_ways_is_asked() -> None:
    """Nothing says from where it is drawn."""
    course = curve("thence along a curve to the right, radius 20 feet, arc 10 feet, a radial line bears N 60 W")
    assert course.fields["radial"] == "N 60 W"
    assert "whether the radial line" in course.open[0]


def test_a_radial_line_against_the_concave_side_is_asked() -> None:
    """They contradict one another."""
    text = "along a curve concave northwesterly, radius 20 feet, arc 10 feet, the radius point of which bears S 60 E"
    assert "contradicts" in curve(text).open[0]


@pytest.mark.parametrize(
    ("text", "asks"),
    [
        ("along a curve to the left, radius 60 feet, arc 47.12 feet", "whether it is tangent"),
        ("along a curve to the left, radius 60 feet, arc 47.12 feet, chord 45.92 feet", "its chord has no bearing"),
        ("along a non-tangent curve to the left, radius 60 feet, arc 47.12 feet", "its direction"),
        ("along a curve to the left, radius 60 feet, chord N 20 E 45.92 feet", "more than half a circle"),
    ],
)
def test_what_a_curve_leaves_open_is_asked(text: str, asks: str) -> None:
    """The course is there with what was read, and a warning holds the question."""
    assert any(asks in question for question in curve(f"thence {text}").open)


def test_radius_and_central_angle_are_enough_where_tangency_is_said() -> None:
    """Nothing is open."""
    course = curve("thence along a tangent curve to the left, radius 60 feet, central angle 45°")
    assert (course.missing, course.open) == ((), ())


@pytest.mark.parametrize(
    ("text", "missing"),
    [
        ("along a curve, radius 60 feet, arc 47.12 feet", ("turn",)),
        ("along a curve to the left, radius 60 feet", ("arc",)),
        ("along a curve to the left 47.12 feet", ("radius",)),
        ("along a 5 degree curve to the left 47.12 feet", ("radius",)),
        ("along a curve to the left, radius 6O feet, arc 47.12 feet", ("radius",)),
        ("along a curve to the left, concave to the right, radius 60 feet, arc 47 feet", ("turn",)),
    ],
)
def test_a_curve_with_too_little_is_kept_with_what_it_has(text: str, missing: tuple[str, ...]) -> None:
    """A degree of curve is refused, and so is a spoiled radius."""
    assert curve(f"thence {text}").missing == missing


def test_a_bearing_beside_a_curve_is_not_taken_for_the_chord() -> None:
    """Nothing says so."""
    text = "thence N 30 E along a curve to the left 47.12 feet, radius 60 feet"
    assert "chord_bearing" not in curve(text).fields


def test_a_length_along_the_chord_is_the_chord() -> None:
    """The words say so."""
    course = curve("thence N 30 E 45.92 feet along the chord of a curve to the left, radius 60 feet")
    assert (course.fields["chord_bearing"], course.fields["chord"]) == ("N 30 E", "45.92 ft")


def test_two_lengths_without_labels_are_both_refused() -> None:
    """Arc or chord, nothing says."""
    course = curve("thence along a curve to the left, radius 60 feet, 47.12 feet, 45.92 feet")
    assert not {"arc", "chord"} & course.fields.keys()


def test_a_line_tangent_to_a_curve_stays_a_line() -> None:
    """Words about the curve before it do not bend it."""
    text = "thence N 10 E, tangent to said curve, 95.00 feet; thence leaving said curve N 20 E 5 feet"
    assert [course.kind for course in read_description(text).courses] == ["line", "line"]


def test_the_tangent_line_behind_a_curve_says_nothing_of_its_beginning() -> None:
    """Only a curve that is itself called tangent is tangent."""
    assert curve("thence along a curve to the left, radius 60 feet, arc 47 feet to a tangent line").tangent is None
