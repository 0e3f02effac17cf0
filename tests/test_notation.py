"""How lengths, coordinates, directions and areas are written, and that they are read back."""

from __future__ import annotations

import math
import re
import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from staking.notation import FRACTIONS, Notation, feet_inches
from staking.survey.angles import difference, fold, parse_direction
from staking.units import SITE_UNITS, UNITS, parse_length

FT, M, FTUS = UNITS["ft"], UNITS["m"], UNITS["ftUS"]
IN_FEET, IN_METRES, IN_SURVEY_FEET = Notation(FT), Notation(M), Notation(FTUS)
TIE = 1.000003  # a float this near to a tie counts as one, so half a step may be exceeded by that little
PUBLISHED: dict[str, Any] = tomllib.loads((Path(__file__).parent / "published" / "lengths.toml").read_text("utf-8"))
SITES = st.sampled_from(SITE_UNITS)
LENGTHS = st.floats(-20_000, 20_000)
AZIMUTHS = st.floats(0, 360, exclude_max=True)


def inch_table() -> list[tuple[int, str]]:
    """Eighths of an inch, and the hundredths of a foot printed for them."""
    printed = [entry for row in PUBLISHED["inch_table"]["printed"] for entry in row]
    return list(enumerate(printed, start=1))


def test_the_published_table_is_whole() -> None:
    """There is an entry for every eighth of an inch up to a foot."""
    assert len(inch_table()) == 96


@pytest.mark.parametrize(("eighths", "printed"), inch_table())
def test_eighths_to_hundredths_as_published(eighths: int, printed: str) -> None:
    """Eighths of an inch are the printed hundredths; on a tie the old table goes down and ours goes up."""
    feet = Fraction(eighths, 96)
    ties = {parse_length(f"{tie} in", FT) / FT.metres for tie in PUBLISHED["inch_table"]["ties"]}
    ours = IN_FEET.decimal(feet * FT.metres, 2)
    assert abs(feet - Fraction(printed)) <= Fraction(51, 10000)
    assert Fraction(ours) - Fraction(printed) == (Fraction(1, 100) if feet in ties else 0)


@pytest.mark.parametrize(("eighths", "printed"), inch_table())
def test_hundredths_back_to_eighths_as_published(eighths: int, printed: str) -> None:
    """Every printed hundredth of a foot converts back to the eighth of an inch it stands for."""
    assert feet_inches(Fraction(printed), 8) == feet_inches(Fraction(eighths, 96), 8)


@pytest.mark.parametrize(("fraction", "printed"), PUBLISHED["feet_to_inches"]["printed"].items())
def test_decimal_feet_to_fractions_as_published(fraction: str, printed: str) -> None:
    """Decimal feet become the printed feet, inches and sixteenths or eighths."""
    ours = feet_inches(Fraction(PUBLISHED["feet_to_inches"]["given"]), int(fraction))
    assert parse_length(ours, FT) == parse_length(printed, FT)
    assert ours.replace("' ", "'-") == printed.replace(" ", "-")


def test_the_steps_between_as_published() -> None:
    """The inches and sixteenths left over after whole feet and inches are the printed ones, exactly."""
    case = PUBLISHED["feet_to_inches"]
    inches = Fraction(case["given"]) % 1 * 12
    assert inches == Fraction(case["inches_part"])
    assert inches % 1 * 16 == Fraction(case["sixteenths_part"])


def test_a_misprinted_sixteenth_stays_in_sight() -> None:
    """The published sum is printed a sixteenth low; the nearest sixteenth to it is the corrected one."""
    case = PUBLISHED["inch_sum"]
    feet = sum(parse_length(f"{part} in", FT) for part in case["given"]) / FT.metres
    assert parse_length(feet_inches(feet), FT) == parse_length(f"{case['corrected']} in", FT)
    assert parse_length(feet_inches(feet), FT) != parse_length(f"{case['printed_fraction']} in", FT)


def test_fourteen_inches_as_published() -> None:
    """Fourteen inches are 1.167 ft."""
    case = PUBLISHED["fourteen_inches"]
    assert IN_FEET.decimal(parse_length(case["given"], FT)) == case["printed"]


@pytest.mark.parametrize("case", PUBLISHED["diagonal"])
def test_diagonals_to_the_sixteenth(case: dict[str, Any]) -> None:
    """The diagonal of a rectangle is written to the nearest sixteenth of an inch."""
    width, depth = (float(parse_length(side, FT)) for side in case["sides"])
    assert parse_length(IN_FEET.length(math.hypot(width, depth)), FT) == parse_length(case["printed"], FT)


@pytest.mark.parametrize(
    ("feet", "fraction", "text"),
    [
        ("0", 16, '0"'),
        ("32", 16, "32' 0\""),
        ("1/24", 16, '1/2"'),
        ("13/24", 16, '6-1/2"'),
        ("11/12", 16, '11"'),
        ("769/24", 16, "32' 0-1/2\""),
        ("781/24", 16, "32' 6-1/2\""),
        ("-781/24", 16, "-32' 6-1/2\""),
        ("-1/2", 16, '-6"'),
        ("-1/10000", 16, '0"'),
        ("383/384", 16, "1' 0\""),  # 11-31/32 in, a tie of sixteenths
        ("383/384", 32, '11-31/32"'),
        ("2303/384", 16, "6' 0\""),  # never 5' 12"
        ("4607/768", 64, "5' 11-63/64\""),
        ("1/384", 16, '1/16"'),  # a tie goes up
        ("-1/384", 16, '-1/16"'),  # and away from zero
        ("99999999/38400000000", 16, '0"'),  # exactly below a tie goes down
    ],
)
def test_feet_and_inches(feet: str, fraction: int, text: str) -> None:
    """Fractions are reduced and carried; ties go away from zero; zero has no minus."""
    assert feet_inches(Fraction(feet), fraction) == text


@given(st.integers(-(10**6), 10**6), st.sampled_from(FRACTIONS))
def test_ties_that_come_as_floats_go_away_from_zero(halves: int, fraction: int) -> None:
    """A half step that a float holds only nearly is still a tie, so one dimension is written one way."""
    metres = Fraction(2 * halves + 1, 24 * fraction) * FT.metres
    assert Notation(FT, fraction).length(float(metres)) == Notation(FT, fraction).length(metres)


@given(LENGTHS, SITES, st.sampled_from(FRACTIONS))
def test_written_lengths_are_read_back(metres: float, name: str, fraction: int) -> None:
    """What a sheet prints as a length is read back to within half its smallest division."""
    unit = UNITS[name]
    step = Fraction(1, 1000) if name == "m" else unit.metres / 12 / fraction
    read = parse_length(Notation(unit, fraction).length(metres), unit)
    assert abs(read - Fraction(metres)) <= step / 2 * Fraction(TIE)


@given(LENGTHS, SITES, st.sampled_from(FRACTIONS))
def test_writing_again_changes_nothing(metres: float, name: str, fraction: int) -> None:
    """A length that was read from a sheet is written as on that sheet, also after becoming a float."""
    notation = Notation(UNITS[name], fraction)
    text = notation.length(metres)
    assert notation.length(float(parse_length(text, notation.unit))) == text


@given(LENGTHS, SITES, st.integers(0, 8))
def test_written_decimals_are_read_back(metres: float, name: str, places: int) -> None:
    """Decimals are read back as a bare number of the site, to within half the last place."""
    unit = UNITS[name]
    read = parse_length(Notation(unit).decimal(metres, places), unit) / unit.metres
    assert abs(read - Fraction(metres) / unit.metres) <= Fraction(1, 2 * 10**places) * Fraction(TIE)


@given(LENGTHS, st.sampled_from(FRACTIONS))
def test_feet_and_inches_keep_their_shape(feet: float, fraction: int) -> None:
    """Inches stay below twelve, fractions are reduced, and only the front can hold a minus."""
    part = r"\d?[13579]/(2|4|8|16|32|64)|1/2"
    text = feet_inches(feet, fraction)
    assert re.fullmatch(rf"-?([1-9]\d*' )?((\d|1[01])(-({part}))?|{part})\"", text)
    assert text != '-0"'


def test_a_site_in_feet() -> None:
    """A site in feet reads feet and inches, with decimal feet beside them where both are asked for."""
    metres = parse_length("32' 6-1/2\"", FT)
    assert IN_FEET.length(float(metres)) == "32' 6-1/2\""
    assert IN_FEET.decimal(float(metres)) == "32.542"
    assert IN_FEET.both(float(metres)) == "32' 6-1/2\" (32.542 ft)"
    assert IN_FEET.unit_words == "international feet"


def test_a_site_in_survey_feet() -> None:
    """A site in survey feet says so wherever a unit is named."""
    metres = parse_length("1000' 6-1/2\"", FTUS)
    assert IN_SURVEY_FEET.both(metres) == "1000' 6-1/2\" (1000.542 ftUS)"
    assert IN_SURVEY_FEET.area(FTUS.metres**2 * 100) == "100.0 sq ftUS"
    assert IN_SURVEY_FEET.unit_words == "US survey feet"


def test_a_site_in_metres() -> None:
    """A site in metres reads metres only."""
    assert IN_METRES.length(9.9182) == IN_METRES.both(9.9182) == "9.918 m"
    assert Notation(M, decimals=2).length(9.9182) == "9.92 m"
    assert IN_METRES.area(162.2091) == "162.21 sq m"
    assert IN_METRES.decimal(2.5, 0) == "3"


@pytest.mark.parametrize(
    ("metres", "text"),
    [
        (-0.0, "0.0000"),
        (-1e-9, "0.0000"),
        (1e-300, "0.0000"),
        (-0.00005, "-0.0001"),
        (1e15, "1000000000000000.0000"),
        (-6000.12345, "-6000.1235"),
        (3, "3.0000"),
    ],
)
def test_coordinates(metres: float, text: str) -> None:
    """Coordinates have four decimals, never an exponent, never a minus before zero."""
    assert IN_METRES.coordinate(metres) == text


@given(st.integers(0, 10**11), SITES)
def test_coordinates_of_four_decimals_stay(units: int, name: str) -> None:
    """A coordinate given with four decimals, up to ten million, is written with the same digits."""
    unit = UNITS[name]
    given_text = f"{units // 10**4}.{units % 10**4:04d}"
    assert Notation(unit).coordinate(float(parse_length(given_text, unit))) == given_text


@pytest.mark.parametrize(
    ("azimuth", "bearing", "text"),
    [
        (0.0, "N 0°00'00\" E", "0°00'00\""),
        (90.0, "N 90°00'00\" E", "90°00'00\""),
        (180.0, "S 0°00'00\" E", "180°00'00\""),
        (270.0, "N 90°00'00\" W", "270°00'00\""),
        (12.504166666666666, "N 12°30'15\" E", "12°30'15\""),
        (192.50416666666666, "S 12°30'15\" W", "192°30'15\""),
        (167.5, "S 12°30'00\" E", "167°30'00\""),
        (347.5, "N 12°30'00\" W", "347°30'00\""),
        (12 + 59.9999 / 3600, "N 12°01'00\" E", "12°01'00\""),
        (12 + 3599.9999 / 3600, "N 13°00'00\" E", "13°00'00\""),
        (359.99999999, "N 0°00'00\" E", "0°00'00\""),
        (-12.5, "N 12°30'00\" W", "347°30'00\""),
        (-1e-12, "N 0°00'00\" E", "0°00'00\""),
    ],
)
def test_directions(azimuth: float, bearing: str, text: str) -> None:
    """Directions are written to the second, carried into the next minute, degree and turn."""
    assert IN_FEET.bearing(azimuth) == bearing
    assert IN_FEET.azimuth(azimuth) == text


def test_directions_in_ascii() -> None:
    """Drawings that want ASCII get their own degree sign, which is read back too."""
    text = IN_FEET.bearing(192.5, degree="%%d")
    assert text == "S 12%%d30'00\" W"
    assert parse_direction(text) == parse_direction(IN_FEET.azimuth(192.5, degree="%%d")) == 192.5


@given(AZIMUTHS)
def test_written_directions_are_read_back(azimuth: float) -> None:
    """A bearing or an azimuth from a sheet is read back to within half a second."""
    half_a_second = 0.5 / 3600 * TIE
    for text in (IN_FEET.bearing(azimuth), IN_FEET.azimuth(azimuth)):
        assert abs(difference(azimuth, parse_direction(text))) <= half_a_second


@given(AZIMUTHS)
def test_gon_are_read_to_half_a_second(azimuth: float) -> None:
    """Gon with five decimals (0.03 of a second) come back to within half a second."""
    gon = f"{fold(azimuth) / 0.9 % 399.999995:.5f} gon"
    assert abs(difference(azimuth, parse_direction(gon))) <= 0.5 / 3600


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_is_never_written(value: float) -> None:
    """Infinite lengths and nan never reach a sheet."""
    with pytest.raises(ValueError, match="cannot be written down"):
        IN_FEET.length(value)


@pytest.mark.parametrize(
    ("unit", "fraction", "decimals", "reason"),
    [("in", 16, 3, "a site is in"), ("ft", 10, 3, "parts, not 10"), ("m", 16, -1, "-1 decimals")],
)
def test_notations_that_no_sheet_has(unit: str, fraction: int, decimals: int, reason: str) -> None:
    """A notation in inches, in tenths of an inch or with fewer than no decimals is refused."""
    with pytest.raises(ValueError, match=reason):
        Notation(UNITS[unit], fraction, decimals)


@pytest.mark.parametrize(
    ("notation", "square_metres", "text"),
    [
        (IN_FEET, 43560 * FT.metres**2, "43560.0 sq ft, 1.0000 acres, 4046.86 sq m, 0.40469 ha"),
        (IN_SURVEY_FEET, 43560 * FTUS.metres**2, "43560.0 sq ftUS, 1.0000 acres, 4046.87 sq m, 0.40469 ha"),
        (IN_METRES, 10_000, "10000.00 sq m, 1.00000 ha, 107638.7 sq ftUS, 2.4710 acres"),
    ],
)
def test_areas(notation: Notation, square_metres: float | Fraction, text: str) -> None:
    """An acre is 43,560 square feet (from memory) of the site's foot, 4046.856 or 4046.873 m2; a hectare 10,000 m2.

    By hand: 43560 x 0.3048^2 and 43560 x (1200/3937)^2; 10000 / (1200/3937)^2, and that by 43560.
    """
    assert notation.areas(square_metres) == text


@pytest.mark.parametrize(
    ("notation", "metres", "text"),
    [
        (IN_METRES, 0.00635, "6 mm"),
        (IN_METRES, 0.006, "6 mm"),
        (IN_FEET, 0.54 * 0.0254, '1/2"'),  # 8.64 sixteenths
        (IN_FEET, 0.25 * 0.0254, '1/4"'),
    ],
)
def test_an_allowance_never_allows_more_than_its_source(notation: Notation, metres: float, text: str) -> None:
    """Rounded down to the millimetre or sixteenth; what is whole stays whole."""
    assert notation.allowance(metres) == text


@pytest.mark.parametrize(("metres", "text"), [(0.0005 - 0.5e-9, "0.001"), (0.0005 - 5e-9, "0.000")])
def test_how_near_to_a_tie_a_float_counts_as_one(metres: float, text: str) -> None:
    """Half a millionth of a step below the tie is the tie; five millionths below it are below it."""
    assert IN_METRES.decimal(metres) == text


def test_falls_are_written_in_inches_a_foot_and_per_cent() -> None:
    """On a site in metres per cent alone."""
    assert Notation(UNITS["ft"]).fall(1 / 96) == '1/8" per ft (1.04 %)'
    assert Notation(UNITS["m"]).fall(0.02) == "2.00 %"


@given(st.lists(st.floats(-1e8, 1e8)), SITES, st.integers(2, 6))
def test_a_column_is_written_as_its_lengths_are(values: list[float], unit: str, places: int) -> None:
    """Each as one by one, ties and zeros too."""
    write = Notation(UNITS[unit])
    values = [*values, 0.00005, -0.00005, 0.12345, -0.0, 1e8]
    assert write.decimals_column(np.array(values), places) == [write.decimal(value, places) for value in values]


def test_what_is_none_is_written_as_nothing() -> None:
    """In a column of elevations nan stands for it."""
    assert IN_METRES.decimals_column(np.array([1.0, math.nan]), 3) == ["1.000", ""]


def test_volumes_in_two_units() -> None:
    """A cubic yard is 0.7646 cubic metres; the site's own comes first."""
    yard = (3 * 0.3048) ** 3
    assert Notation(UNITS["ft"]).volumes(yard) == (("1.00", "cu yd"), ("0.76", "cu m"))
    assert Notation(UNITS["m"]).volumes(yard) == (("0.76", "cu m"), ("1.00", "cu yd"))
    assert Notation(UNITS["ft"]).cubic(yard) == "27.0 cu ft"
    assert Notation(UNITS["m"]).cubic(1.5) == "1.500 cu m"


def test_shares_without_needless_zeros() -> None:
    """5 % and 7.5 %."""
    assert [Notation(UNITS["m"]).share(ratio) for ratio in (0.05, 0.075, 0.0)] == ["5 %", "7.5 %", "0 %"]


@pytest.mark.parametrize(
    ("metres", "feet", "metric"),
    [
        (0.009525, "3/8 in", "10 mm"),
        (-0.009525, "-3/8 in", "-10 mm"),
        (0.0, "0 in", "0 mm"),
        (0.0005, "0 in", "1 mm"),
        (0.1524, "6 in", "152 mm"),
        (0.3048, "1' 0\"", "305 mm"),
        (0.3047, "1' 0\"", "305 mm"),
        (1.2, "3' 11-1/4\"", "1.200 m"),
    ],
)
def test_small_lengths_as_a_crew_says_them(metres: float, feet: str, metric: str) -> None:
    """Inches and millimetres below a foot and a metre; from there on as any length."""
    assert Notation(UNITS["ft"]).small(metres) == feet
    assert Notation(UNITS["m"]).small(metres) == metric


@pytest.mark.parametrize(
    ("azimuth", "known", "written"),
    [
        (87.885, 0.6, "N 88° E"),
        (87.885, 0.3, "N 87°50' E"),
        (87.885, 0.05, "N 87°53' E"),
        (87.885, 0.002, "N 87°53'10\" E"),
        (87.885, 0.0001, "N 87°53'06\" E"),
        (359.9, 0.5, "north"),
        (359.9, 0.05, "N 0°06' W"),
        (180.4, 0.5, "south"),
        (200.0, 0.5, "S 20° W"),
        (100.0, 0.0, "S 80°00'00\" E"),
    ],
)
def test_a_way_is_no_finer_than_it_is_known(azimuth: float, known: float, written: str) -> None:
    """Degrees, ten minutes, minutes, ten seconds or seconds, and the four quarters by their names."""
    assert IN_FEET.way(azimuth, known) == written


@given(AZIMUTHS, st.floats(1e-3, 1.0))
def test_a_way_is_written_within_what_is_known(azimuth: float, known: float) -> None:
    """Read back, it lies no farther from the direction than that is known."""
    written = IN_FEET.way(azimuth, known)
    quarters = {"north": 0.0, "east": 90.0, "south": 180.0, "west": 270.0}
    back = quarters[written] if written in quarters else parse_direction(written)
    assert abs(difference(azimuth, back)) <= known * (1 + 1e-6)


@pytest.mark.parametrize(("known", "written"), [(0.6, "1 degree"), (0.06, "1.2 degrees"), (0.009, "1.23 degrees")])
def test_a_turn_is_no_finer_than_it_is_known(known: float, written: str) -> None:
    """Decimals of a degree up to the last that is worth a figure."""
    assert IN_FEET.turn(1.2345, known) == written
