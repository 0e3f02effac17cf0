"""Are random courses, written in random wordings, read back exactly?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from hypothesis import given, settings
from hypothesis import strategies as st

from staking.sitefile.descriptions.reading import read_description

_STEMS = ("thir", "four", "fif", "six", "seven", "eigh", "nine")
_ONES = (
    *("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"),
    *(f"{stem}teen" for stem in _STEMS),
)
_TENS = tuple(f"{stem}ty" for stem in ("twen", "thir", "for", "fif", "six", "seven", "eigh", "nine"))
_UNITS = {"ft": "feet ft FT feet feet", "ch": "chains ch chs. chains chains", "rd": "poles po rods poles perches"} | {
    "m": "metres m M. meters metres"
}


@dataclass(frozen=True)
class Angle:
    """Degrees, minutes and seconds."""

    degrees: int
    minutes: int
    seconds: int

    @property
    def text(self) -> str:
        """As site files write it."""
        return f"{self.degrees}-{self.minutes:02}-{self.seconds:02}"


def in_words(number: int) -> str:
    """A whole number below ten thousand in words."""
    if number < 20:
        return _ONES[number]
    if number < 100:
        tens = _TENS[number // 10 - 2]
        return f"{tens}-{_ONES[number % 10]}" if number % 10 else tens
    size, name = (1000, "thousand") if number >= 1000 else (100, "hundred")
    rest = number % size
    return f"{in_words(number // size)} {name}" + (f" {in_words(rest)}" if rest else "")


def written_angle(angle: Angle, style: int) -> str:
    """An angle in one of five styles."""
    d, m, s = angle.degrees, f"{angle.minutes:02}", f"{angle.seconds:02}"
    words = f"{in_words(d)} degrees {in_words(angle.minutes)} minutes {in_words(angle.seconds)} seconds"
    return (f"{d}°{m}′{s}″", f"{d}-{m}-{s}", f"{d} deg {m}' {s}\"", f"{d} degrees {m} minutes {s} seconds", words)[
        style
    ]


def written_bearing(bearing: tuple[str, Angle, str], style: int) -> str:
    """A bearing in one of five styles."""
    long = {"N": "North", "S": "South", "E": "East", "W": "West"}
    start, angle, end = bearing
    if style in (1, 2):
        return f"{start} {written_angle(angle, style)} {end}"
    return f"{long[start]} {written_angle(angle, style)} {long[end]}"


def written_length(hundredths: int, unit: str, style: int) -> str:
    """A length in one of five styles."""
    name = _UNITS[unit].split()[style]
    if style == 4:
        return f"{in_words(hundredths // 100)} and {in_words(hundredths % 100)} one-hundredths {name}"
    number = f"{hundredths // 100:,}.{hundredths % 100:02}" if style == 3 else f"{hundredths / 100:.2f}"
    return f"{number} {name}"


angles = st.builds(Angle, st.integers(0, 89), st.integers(0, 59), st.integers(0, 59))
bearings = st.tuples(st.sampled_from("NS"), angles, st.sampled_from("EW"))
lengths = st.integers(1, 999_999)
units = st.sampled_from(["ft", "m", "ch", "rd"])
lines = st.fixed_dictionaries({"bearing": bearings, "length": lengths})
curves = st.fixed_dictionaries(
    {"turn": st.sampled_from(["left", "right"]), "radius": lengths, "arc": lengths},
    optional={"delta": angles, "chord_bearing": bearings, "chord": lengths},
)
courses = st.lists(st.tuples(lines | curves, units, st.integers(0, 4)), min_size=1, max_size=6)
_THENCE = ("thence", "THENCE", "Then", "thence running", "running")


def written(course: Mapping[str, object], unit: str, style: int) -> str:
    """A call in one of five styles."""
    if "bearing" in course:
        bearing, length = (_value(key, course, unit, style) for key in ("bearing", "length"))
        return f"{_THENCE[style]} {bearing}, {length} to a corner"
    labels = {"radius": "having a radius of", "arc": "an arc length of", "delta": "a central angle of"}
    parts = [f"{label} {_value(key, course, unit, style)}" for key, label in labels.items() if key in course]
    if chord := [_value(key, course, unit, style) for key in ("chord_bearing", "chord") if key in course]:
        parts.append(f"the chord {'bears ' if 'chord_bearing' in course else 'of '}{' a distance of '.join(chord)}")
    return f"{_THENCE[style]} along a curve to the {course['turn']}, {', '.join(parts)}"


def _value(key: str, course: Mapping[str, object], unit: str, style: int) -> str:
    value = course[key]
    if isinstance(value, Angle):
        return written_angle(value, style)
    if isinstance(value, tuple):
        return written_bearing(value, style)
    assert isinstance(value, int)
    return written_length(value, unit, style)


def expected(course: Mapping[str, object], unit: str) -> dict[str, str]:
    """The fields that the reader should answer."""
    fields = {}
    for key, value in course.items():
        if isinstance(value, Angle):
            fields[key] = value.text
        elif isinstance(value, tuple):
            fields[key] = f"{value[0]} {value[1].text} {value[2]}"
        elif isinstance(value, int):
            fields[key] = f"{value // 100}.{value % 100:02} {unit}"
        else:
            fields[key] = str(value)
    return fields


@given(courses, st.sampled_from(["; ", ";\n", ".\n", ", "]))
@settings(max_examples=200, deadline=None)
def test_random_courses_in_random_wordings_are_read_back(
    drawn: list[tuple[Mapping[str, object], str, int]], between: str
) -> None:
    """Digit for digit, in five styles of angles and five of lengths, in four units."""
    text = between.join(written(course, unit, style) for course, unit, style in drawn)
    description = read_description(text)
    assert [dict(course.fields) for course in description.courses] == [expected(c, u) for c, u, _ in drawn]
    assert description.unread == ()


@given(courses, st.data())
@settings(max_examples=200, deadline=None)
def test_a_spoiled_digit_never_makes_another_course(
    drawn: list[tuple[Mapping[str, object], str, int]], data: st.DataObject
) -> None:
    """O for 0, l for 1, S for 5 in one place: every value that is read is one of those that were written."""
    text = "; ".join(written(course, unit, style) for course, unit, style in drawn)
    spots = [at for at, sign in enumerate(text) if sign in "015"]
    if spots:
        at = data.draw(st.sampled_from(spots))
        text = text[:at] + {"0": "O", "1": "l", "5": "S"}[text[at]] + text[at + 1 :]
    wanted = [expected(course, unit) for course, unit, _ in drawn]
    read = [dict(course.fields) for course in read_description(text).courses]
    assert len(read) == len(wanted)
    assert all(fields.items() <= whole.items() for fields, whole in zip(read, wanted, strict=True))


@given(st.text(alphabet="NSEW neswthc0159.,;:°'\"-()\nfeetradius", max_size=80))
@settings(max_examples=200, deadline=None)
def test_any_text_is_answered(text: str) -> None:
    """No text is an error of the program, and every piece that is listed stands in the text."""
    description = read_description(text)
    for words in (*(c.words for c in description.courses), *(p.words for p in description.unread)):
        assert text[words.start : words.end] == words.text
