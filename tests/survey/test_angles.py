"""How directions are read and turned, and that right angles are exact."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from staking.errors import TextError
from staking.survey.angles import (
    cosd,
    difference,
    direction,
    fold,
    parse_direction,
    parse_latitude,
    parse_longitude,
    sind,
)
from staking.survey.points import Point, azimuth, moved

HALF_A_MILLIONTH_OF_A_SECOND = 0.5e-6 / 3600  # far below what is printed, far above the noise of floats
N_12_30_15_E = 12 + 30 / 60 + 15 / 3600

# Purdue University, course ASM 215 notes, topic "traverse calculations"
# (engineering.purdue.edu/~asm215/topics/travcalc.html, web page): bearings beside their azimuths.
PURDUE = [
    ("N26-10-00E", "26-10"),
    ("S75-25-00E", "104-35"),
    ("S15-30-00W", "195-30"),
    ("N01-42-00W", "358-18"),
    ("N53-06-00W", "306-54"),
]


@pytest.mark.parametrize(("bearing", "printed"), PURDUE)
def test_bearings_as_published(bearing: str, printed: str) -> None:
    """Bearings of a published traverse are the azimuths printed beside them."""
    assert parse_direction(bearing) == parse_direction(printed)


@pytest.mark.parametrize(
    "text",
    [
        "N 12-30-15 E",
        "N12-30-15E",
        "n 12-30-15 e",
        "North 12-30-15 East",
        "N 12°30'15\" E",
        "N12°30'15\"E",
        "N 12° 30' 15\" E",
        "N 12°30′15″ E",
        "N 12º30’15” E",
        "N 12°30'15'' E",
        "N 12%%d30'15\" E",
        "N 12%%D30'15\" E",
        "N 12d30m15s E",
        "N 12d 30m 15s E",
        "N 12D30M15SE",
        "N 12 30 15 E",
        "N 12°30'15 E",
        "N 12–30–15 E",
        "N\u00a012-30-15\u2009E",
        "  N  12-30-15   E ",
        "12-30-15",
        "12°30'15\"",
        "12-30.25",
        "N 12-30.25 E",
        "N 12°30.25' E",
    ],
)  # fmt: skip
def test_spellings_of_one_direction(text: str) -> None:
    """Twelve degrees, thirty minutes, fifteen seconds is read the same however people write it."""
    assert parse_direction(text) == pytest.approx(N_12_30_15_E, abs=HALF_A_MILLIONTH_OF_A_SECOND)


@pytest.mark.parametrize(
    ("text", "azimuth"),
    [
        ("N 12.504 E", 12.504),
        ("N 12.504° W", 347.496),
        ("S 12.504 E", 167.496),
        ("S 12.504 deg W", 192.504),
        ("N 0 E", 0.0),
        ("N 00-00-00 W", 0.0),
        ("S 0 E", 180.0),
        ("S 0 W", 180.0),
        ("N 90 E", 90.0),
        ("S 90 E", 90.0),
        ("N 90-00-00 W", 270.0),
        ("due north", 0.0),
        ("Due S", 180.0),
        ("N", 0.0),
        ("e", 90.0),
        ("South", 180.0),
        ("W", 270.0),
        ("192.504", 192.504),
        ("192.504°", 192.504),
        ("45", 45.0),
        (".5", 0.5),
        ("0", 0.0),
        ("213.89 gon", 192.501),
        ("100gon", 90.0),
        ("359-59-59", 359 + 3599 / 3600),
        ("359.99999999999999999999", 0.0),
    ],
)
def test_each_kind_of_direction(text: str, azimuth: float) -> None:
    """Bearings, azimuths, cardinal points and gon all become degrees clockwise from north."""
    assert parse_direction(text) == pytest.approx(azimuth, abs=1e-13)
    assert 0 <= parse_direction(text) < 360


@pytest.mark.parametrize(("number", "azimuth"), [(192.504, 192.504), (0, 0.0), (90, 90.0), (-0.0, 0.0)])
def test_a_number_is_an_azimuth(number: float, azimuth: float) -> None:
    """A bare number counts degrees clockwise from north, and comes back as a float without a minus zero."""
    assert str(parse_direction(number)) == str(azimuth)


REFUSED = [
    ("", "empty"),
    ("  ", "empty"),
    ("N 95 E", "at most 90 degrees"),
    ("S 90-00-01 W", "at most 90 degrees"),
    ("N 45 N", "ends with E or W"),
    ("N 45 S", "ends with E or W"),
    ("N 45", "ends with E or W"),
    ("N E 45", "between the two letters"),
    ("NE", "between the two letters"),
    ("northeast", "between the two letters"),
    ("E 45 N", "counted from north or south"),
    ("N 45°60'00\" E", "60 minutes are not below 60"),
    ("45-00-61", "61 seconds are not below 60"),
    ("359°59'60\"", "60 seconds are not below 60"),
    ("N 12.5-30 E", "only the last"),
    ("12-30.5-15", "only the last"),
    ("-12.5", "not negative"),
    ("−90", "not negative"),
    ("N -12 E", "has no sign"),
    ("N -12-30 E", "has no sign"),
    ("360", "360 is the same as 0"),
    ("360-00-00", "360 is the same as 0"),
    ("400 gon", "400 is the same as 0"),
    ("360.5", "at least 0 and below 360"),
    ("720", "at least 0 and below 360"),
    ("450 gon", "at least 0 and below 400"),
    ("213.89 grad", "only degrees and gon"),
    ("3200 mil", "only degrees and gon"),
    ("12,5", "comma"),
    ("192 from south", "neither"),
    ("N 20 gon E", "neither"),
    ("12'30\"", "neither"),
    ("N 12-30-1S E", "neither"),
    ("N l2-30-15 E", "neither"),
    ("12-", "neither"),
    ("12.", "neither"),
    ("1e2", "neither"),
    ("nan", "neither"),
    ("along the creek", "neither"),
    ("12-30-15-10", "neither"),
    ("N １２ E", "U+FF11 FULLWIDTH DIGIT ONE"),
    ("N 1\u200b2 E", "U+200B ZERO WIDTH SPACE"),
    ("N 12Â°30' E", "U+00C2"),
    ("N 12\n E", "U+000A control character"),
    ("1" * 65, "more than 64 characters"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "reason"), REFUSED)
def test_what_is_no_direction_is_refused_with_its_reason(text: str, reason: str) -> None:
    """An impossible or unclear direction is refused, with the reason and what to write instead."""
    with pytest.raises(TextError) as refused:
        parse_direction(text)
    assert reason in refused.value.message
    assert refused.value.message.startswith("`")
    assert refused.value.message.isprintable()
    assert refused.value.remedy


@pytest.mark.parametrize("number", [-0.5, 360, 360.0, 720, 10**400, math.nan, math.inf, -math.inf, True])
def test_numbers_that_are_no_directions_are_refused(number: float) -> None:
    """Numbers outside a full turn, nan, inf and truth values are refused."""
    with pytest.raises(TextError, match="is not a direction"):
        parse_direction(number)


@given(st.text(max_size=70) | st.text("0123456789 -.'\"°dmsnewgo", max_size=16))
def test_any_text_is_read_or_refused(text: str) -> None:
    """Whatever is fed in, the answer is a direction within a turn, or a TextError with a remedy."""
    try:
        outcome: float | str = parse_direction(text)
    except TextError as refused:
        outcome = refused.remedy
    assert outcome if isinstance(outcome, str) else 0 <= outcome < 360


@given(st.integers(-40, 40))
def test_right_angles_are_exact(quarters: int) -> None:
    """Sine and cosine of multiples of 90 degrees are 0, 1 and -1, never nearly so and never minus zero."""
    sines = ("0.0", "1.0", "0.0", "-1.0")
    assert str(sind(90.0 * quarters)) == sines[quarters % 4]
    assert str(cosd(90.0 * quarters)) == sines[(quarters + 1) % 4]


@given(st.floats(-1e4, 1e4))
def test_sine_and_cosine_agree_with_the_library(angle: float) -> None:
    """Away from right angles they are the usual sine and cosine, to the noise of converting to radians."""
    assert sind(angle) == pytest.approx(math.sin(math.radians(angle)), abs=1e-11)
    assert cosd(angle) == pytest.approx(math.cos(math.radians(angle)), abs=1e-11)


@pytest.mark.parametrize("angle", [math.nan, math.inf])
def test_no_sine_of_what_is_not_finite(angle: float) -> None:
    """A sine of nan or inf is a mistake of the caller, not a number."""
    with pytest.raises(ValueError, match=r"NaN|domain"):
        sind(angle)


@given(st.floats(0, 360, exclude_max=True))
def test_a_step_in_a_direction_lies_in_that_direction(angle: float) -> None:
    """Going along a direction and looking back at the join gives the direction again."""
    there = moved(Point(0.0, 0.0), direction(angle), 100.0)
    assert difference(azimuth(Point(0.0, 0.0), there), angle) == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(
    ("start", "end", "turn"),
    [(350, 10, 20), (10, 350, -20), (0, 180, 180), (180, 0, 180), (90, 90, 0), (0, 540, 180), (0, -90, -90)],
)
def test_the_smallest_turn(start: float, end: float, turn: float) -> None:
    """Turns are positive clockwise, above -180 and at most 180, also across north."""
    assert difference(start, end) == turn


@given(st.floats(-1e6, 1e6), st.floats(-1e6, 1e6))
def test_turns_stay_within_half_a_circle(start: float, end: float) -> None:
    """Any two directions are at most half a turn apart, and turning by it arrives."""
    turn = difference(start, end)
    assert -180 < turn <= 180
    assert math.remainder(start + turn - end, 360) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(("angle", "folded"), [(360, 0), (-90, 270), (720.5, 0.5), (-1e-20, 0), (-0.0, 0)])
def test_folding_into_one_turn(angle: float, folded: float) -> None:
    """Any angle is brought into 0 to below 360, tiny negative ones included."""
    assert str(fold(float(angle))) == str(float(folded))


@pytest.mark.parametrize(
    ("text", "longitude"),
    [
        ("122-01-15.91677 W", -122.02108799166666),  # NGS datasheet RD2119
        ("-79-58-36", -79.97666666666667),
        ("79°58'36\"W", -79.97666666666667),
        ("+10.5", 10.5),
        (-180, -180.0),
    ],
)
def test_longitudes_are_read_with_letter_or_sign(text: str | float, longitude: float) -> None:
    """West is below 0, by its letter or by the sign."""
    assert parse_longitude(text) == pytest.approx(longitude, abs=1e-11)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("-40 N", "as a latitude"),
        ("40 E", "as a latitude"),
        ("", "as a latitude"),
        (90.5, "90 at the most"),
        ("40-61 N", "61 minutes"),
        (float("nan"), "no latitude"),
        (True, "no latitude"),
    ],
)
def test_latitudes_that_are_none_are_refused(text: str | float, says: str) -> None:
    """Two signs, another letter, nothing, beyond the pole, minutes above 60, no number."""
    with pytest.raises(TextError, match=says):
        parse_latitude(text)
