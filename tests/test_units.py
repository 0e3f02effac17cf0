"""How lengths are read: every spelling, every refusal, and what others have printed."""

from __future__ import annotations

import math
import tomllib
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from making import published

from staking.errors import TextError
from staking.units import (
    SITE_UNITS,
    UNITS,
    Unit,
    nearest_metres,
    parse_grade,
    parse_length,
    parse_share,
    parse_volume,
    plain_lengths,
    to_metres,
)

FT, M, FTUS = UNITS["ft"], UNITS["m"], UNITS["ftUS"]
PUBLISHED: dict[str, Any] = tomllib.loads((Path(__file__).parent / "published" / "lengths.toml").read_text("utf-8"))


def feet(text: str) -> Fraction:
    """A text on a site in international feet, in feet."""
    return parse_length(text, FT) / FT.metres


def refusal(text: str) -> TextError:
    """How a text is refused."""
    with pytest.raises(TextError) as refused:
        parse_length(text, FT)
    return refused.value


@pytest.mark.parametrize(
    "text",
    [
        "32' 6-1/2\"",
        "32' 6-1/2",
        "32'-6 1/2\"",
        "32'-6-1/2\"",
        "32'- 6 1/2\"",
        "32'6-1/2\"",
        "32' 6.5\"",
        "32 ' 6.5 \"",
        "32 ft 6.5 in",
        "32ft6.5in",
        "32 FT 6-1/2 Inches",
        "32 feet 6.5\"",
        "32 ft-6 1/2 in",
        "390-1/2 in",
        "390 1/2\"",
        "390.5''",
        "+32' 6 1/2\"",
        "  32'   6 1/2\"  ",
        "32′ 6-1/2″",
        "32’ 6½”",
        "32´ 6½´´",
        "32′-6½″",
        "32' 6-½\"",
        "32' 6 1⁄2''",
        "32'–6 1/2\"",
        "32'\u00a06\u20091/2\"",
        "32'\u202f6\u2007½\"",
        "32'\t6-1/2\"",
    ],
)  # fmt: skip
def test_spellings_of_one_length(text: str) -> None:
    """Thirty-two feet, six and a half inches is read exactly, however people write it."""
    assert feet(text) == Fraction(65, 2) + Fraction(1, 24)


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("6-1/2 in", Fraction(1651, 10000)),
        ("6½\"", Fraction(1651, 10000)),
        ("1/2\"", Fraction(127, 10000)),
        ("½\"", Fraction(127, 10000)),
        ("1/3 in", Fraction(254, 30000)),
        ("12'", Fraction(36576, 10000)),
        ("12.5'", Fraction(381, 100)),
        ("12 1/2'", Fraction(381, 100)),
        ("1/2'", Fraction(1524, 10000)),
        (".5 ft", Fraction(1524, 10000)),
        ("32.54 ft", Fraction(9918192, 1000000)),
        ("32.54 feet", Fraction(9918192, 1000000)),
        ("9.918 m", Fraction(9918, 1000)),
        ("9.918M", Fraction(9918, 1000)),
        ("9918 mm", Fraction(9918, 1000)),
        ("991.8 Centimeters", Fraction(9918, 1000)),
        ("0.009918 kilometres", Fraction(9918, 1000000) * 1000),
        ("2 yards", Fraction(18288, 10000)),
        ("32.54 ftUS", Fraction(3254, 100) * Fraction(1200, 3937)),
        ("32.54 FTUS", Fraction(3254, 100) * Fraction(1200, 3937)),
        ("32.54 US survey feet", Fraction(3254, 100) * Fraction(1200, 3937)),
        ("32 ftUS 6 in", Fraction(65, 2) * Fraction(1200, 3937)),
        ("32 ftUS 6 inUS", Fraction(65, 2) * Fraction(1200, 3937)),
        ("0", Fraction(0)),
        ("0/8\"", Fraction(0)),
        ("12", Fraction(36576, 10000)),
    ],
)  # fmt: skip
def test_units_and_kinds_of_number(text: str, metres: Fraction) -> None:
    """Each unit and each kind of number gives exactly its metres."""
    assert parse_length(text, FT) == metres


@pytest.mark.parametrize("text", ["-12'-6\"", "−12' 6\"", "–12' 6\"", "- 12.5 ft", "-12 1/2'", '-150"'])
def test_a_leading_minus_applies_to_the_whole(text: str) -> None:
    """Minus twelve feet six is twelve and a half feet the other way, not minus twelve plus six inches."""
    assert feet(text) == Fraction(-25, 2)


@pytest.mark.parametrize(("unit", "size"), [(FT, FT.metres), (FTUS, FTUS.metres), (M, Fraction(1))])
def test_a_bare_number_is_in_the_unit_of_the_site(unit: Any, size: Fraction) -> None:
    """A number without a unit means the unit that the site has declared."""
    assert parse_length("102.50", unit) == Fraction(1025, 10) * size


@pytest.mark.parametrize(("unit", "foot"), [(FT, FT), (FTUS, FTUS), (M, FT), (None, FT)])
def test_marks_stand_for_the_foot_of_the_site(unit: Any, foot: Any) -> None:
    """The marks mean the site's own foot; on a site in metres, the international one."""
    assert parse_length("32' 6\"", unit) == Fraction(65, 2) * foot.metres
    assert parse_length('6"', unit) == foot.metres / 2


def test_words_name_their_foot_whatever_the_site() -> None:
    """On a site in survey feet, `ft` and `in` are international all the same, and the other way round."""
    assert parse_length("10 ft", FTUS) == 10 * FT.metres
    assert parse_length("10 in", FTUS) == 10 * FT.metres / 12
    assert parse_length("10 ftUS", FT) == 10 * FTUS.metres


def test_inches_behind_feet_belong_to_those_feet() -> None:
    """Inches that follow feet are twelfths of the very foot they follow."""
    assert parse_length("32 ft 6\"", FTUS) == Fraction(65, 2) * FT.metres  # fmt: skip
    assert parse_length("32' 6 in", FTUS) == Fraction(65, 2) * FTUS.metres


REFUSED = [
    ("", "no number"),
    ("   ", "no number"),
    ("-", "no number"),
    ("9' 13", "13 in is more than a foot"),
    ("9' 13\"", "13 in is more than a foot"),
    ("5' 12\"", "12 in is a whole foot"),
    ("5' 12-1/2\"", "12-1/2 in is more than a foot"),
    ("32' -6", "a sign inside"),
    ("32' -6\"", "a sign inside"),
    ("32' - 6\"", "a sign inside"),
    ("32'--6\"", "a sign inside"),
    ("32'+6\"", "a sign inside"),
    ("32'−6\"", "a sign inside"),
    ("6 -1/2\"", "a sign inside"),
    ("--6'", "a sign inside"),
    ("1/0\"", "0 below the line"),
    ("0/0", "0 below the line"),
    ("6-1/00\"", "0 below the line"),
    ("12,5", "a comma"),
    ("1,234.5", "a comma"),
    ("1.234,5", "a comma"),
    ("12-6", "side by side"),
    ("12 6", "side by side"),
    ("12 6\"", "side by side"),
    ("12-6-1/2\"", "side by side"),
    ("32' 6 5\"", "side by side"),
    ("½2\"", "neither"),
    ("1e3'", "exponents"),
    ("1E-3 m", "exponents"),
    (".", "no digit follows the point"),
    ("5.", "no digit follows the point"),
    ("5.'", "no digit follows the point"),
    ("1.2.3'", "two points"),
    ("１２'", "U+FF11 FULLWIDTH DIGIT ONE"),
    ("١٢'", "U+0661 ARABIC-INDIC DIGIT ONE"),
    ("1\u200b2'", "U+200B ZERO WIDTH SPACE"),
    ("\ufeff12'", "U+FEFF ZERO WIDTH NO-BREAK SPACE"),
    ("12'\n", "U+000A control character"),
    ("12²'", "U+00B2 SUPERSCRIPT TWO"),
    ("nan", "not a finite number"),
    ("inf", "not a finite number"),
    ("-Infinity", "not a finite number"),
    ("12' 6\" wide", "neither"),
    ("12' 6\" 3", "neither"),
    ("12' 6\"'", "neither"),
    ("twelve", "neither"),
    ("1_000'", "neither"),
    ("1//2\"", "neither"),
    ("32.5' 6\"", "32.5 feet are not whole"),
    ("32-1/2' 6\"", "32-1/2 feet are not whole"),
    ("7/5\"", "7/5 is not below 1"),
    ("6 7/5\"", "7/5 is not below 1"),
    ("6-8/8\"", "8/8 is not below 1"),
    ("6-1/2", "feet or inches"),
    ("½", "feet or inches"),
    ("32 ft 6", "has no unit"),
    ("32' 6'", "only inches can"),
    ("32' 6 mm", "only inches can"),
    ("1 m 50 cm", "only feet and inches"),
    ("3 yd 2 ft", "only feet and inches"),
    ("32 ft 6 inUS", "mixes"),
    ("32 furlongs", "furlongs is not a unit"),
    ("0x3C", "x is not a unit"),
    ("9" * 65, "more than 64 characters"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "reason"), REFUSED)
def test_what_is_unclear_is_refused_with_its_reason(text: str, reason: str) -> None:
    """An ambiguous or broken length is refused, with the reason, the text, and what to write instead."""
    refused = refusal(text)
    assert reason in refused.message
    assert "cannot be read as a length" in refused.message
    assert refused.message.isprintable()
    assert refused.remedy.startswith(("write", "use", "type"))


def test_the_refusal_quotes_the_text() -> None:
    """The message shows the text as it was written, and anything invisible by its code."""
    assert refusal("9' 13").message.startswith("`9' 13` cannot be read as a length: 13 in")
    assert r"`1\u200b2'`" in refusal("1\u200b2'").message


def test_a_bare_number_without_a_site_unit_is_refused() -> None:
    """Where no unit is known, a bare number says nothing."""
    with pytest.raises(TextError, match="a bare number has no unit here"):
        parse_length("12", None)


def test_ambiguous_remedies_show_both_readings() -> None:
    """Two numbers without marks are answered with both things they could mean."""
    assert refusal("12-6").remedy == "write 12' 6\" for feet and inches, 12.5 ft for decimal feet"


@given(st.text(max_size=70), st.sampled_from([*SITE_UNITS, None]))
def test_any_text_is_read_or_refused(text: str, name: str | None) -> None:
    """Whatever is fed in, the answer is a length or a TextError, never another exception."""
    unit = UNITS[name] if name else None
    try:
        outcome: Fraction | str = parse_length(text, unit)
    except TextError as refused:
        outcome = refused.remedy
    assert isinstance(outcome, Fraction) or outcome


@given(st.text("0123456789 -/.'\"ftinUSme½−", max_size=16))
def test_text_that_looks_like_a_length_is_read_or_refused(text: str) -> None:
    """Texts made of the characters of lengths raise nothing but TextError, and plus and minus mirror."""
    try:
        length = parse_length(text, FT)
    except TextError:
        return
    if text.strip()[:1] not in ("-", "−"):
        assert parse_length("-" + text.strip(), FT) == -length


@given(
    st.integers(0, 9999), st.integers(0, 11), st.sampled_from([2, 4, 8, 16, 32, 64]), st.integers(1, 63),
    st.sampled_from(["{f}' {i}-{n}/{d}\"", "{f}'-{i} {n}/{d}", "{f} ft {i} {n}/{d} in", "{f}′{i}-{n}⁄{d}″"]),
)  # fmt: skip
def test_every_foot_inch_and_fraction_is_exact(f: int, i: int, d: int, n: int, form: str) -> None:
    """Any feet, inches and fraction in any usual form give exactly their sum."""
    n %= d
    assert feet(form.format(f=f, i=i, n=n, d=d)) == f + (i + Fraction(n, d)) / 12


@given(st.floats(-1e9, 1e9, allow_nan=False))
def test_numbers_are_their_shortest_decimal(value: float) -> None:
    """A float from the file counts as the decimal that was typed, so it comes back unchanged."""
    assert to_metres(value, M) == Fraction(repr(value))
    assert float(to_metres(value, FTUS) / FTUS.metres) == value


@given(st.floats(-1e300, 1e300, allow_nan=False), st.sampled_from((M, FT, FTUS)))
def test_many_numbers_come_out_as_one_does(value: float, unit: Unit) -> None:
    """What is made for long lists is the double nearest to the exact length, in every unit and size."""
    assert nearest_metres(value, unit) == float(to_metres(value, unit))


@pytest.mark.parametrize("value", [math.nan, math.inf, True])
def test_what_is_no_number_is_none_in_a_long_list(value: float) -> None:
    """It is refused in the same words."""
    with pytest.raises(TextError, match="is not a length"):
        nearest_metres(value, FT)


def test_a_tenth_is_a_tenth() -> None:
    """0.1 is exactly one tenth, and whole numbers stay whole."""
    assert to_metres(0.1, M) == Fraction(1, 10)
    assert to_metres(10, FT) == Fraction(3048, 1000)


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, True, False])
def test_numbers_that_are_no_lengths_are_refused(value: float) -> None:
    """nan, inf, true and false are not lengths."""
    with pytest.raises(TextError, match="is not a length"):
        to_metres(value, FT)


def test_the_table_of_units_is_read_only() -> None:
    """Nobody can change what a foot is while the program runs."""
    with pytest.raises(TypeError):
        UNITS["ft"] = FTUS  # type: ignore[index]
    assert all(UNITS[name].name == name for name in UNITS)


def test_feet_as_published() -> None:
    """Both feet have their published sizes (Federal Register 85 FR 62698, 2020)."""
    case = PUBLISHED["feet"]
    assert FT.metres == Fraction(case["international"])
    assert FTUS.metres == Fraction(case["survey"])
    assert repr(float(FTUS.metres)) == case["survey_printed"]


def test_the_feet_differ_by_two_parts_in_a_million() -> None:
    """The survey foot is 2 ppm longer: 4 ft on a coordinate of 2,000,000 ft, 0.01 ft a mile (NGS, 2019)."""
    case = PUBLISHED["feet"]
    difference = FTUS.metres / FT.metres - 1
    assert abs(difference * 10**6 - int(case["parts_per_million"])) < Fraction(1, 2)
    assert abs(difference * int(case["coordinate"]) - int(case["coordinate_costs"])) < Fraction(1, 2)
    assert abs(difference * int(case["mile_in_feet"]) - Fraction(case["mile_costs"])) < Fraction(5, 1000)


@pytest.mark.parametrize(("text", "printed"), PUBLISHED["sixty_fourths"]["printed"].items())
def test_sixty_fourths_as_published(text: str, printed: str) -> None:
    """Binary fractions of an inch equal the decimals in the table of equivalents, exactly."""
    assert parse_length(f'{text}"', M) / UNITS["in"].metres == Fraction(printed)


def test_a_mixed_sum_as_published() -> None:
    """Four inch readings of mixed kinds add up to the printed sum, within half its last digit."""
    case = PUBLISHED["inch_sum"]
    total = sum(parse_length(f"{part} in", FT) for part in case["given"]) / UNITS["in"].metres
    assert abs(total - Fraction(Decimal(case["printed"]))) <= Fraction(5, 10000)


@pytest.mark.parametrize(
    ("text", "ratio"),
    [
        ("1/8 in per ft", Fraction(1, 96)),
        ('3/16" per foot', Fraction(1, 64)),
        ("1/4 in/ft", Fraction(1, 48)),
        ("1-1/2 in per ft", Fraction(1, 8)),
        ("2 %", Fraction(1, 50)),
        ("1:48", Fraction(1, 48)),
        ("20 mm per m", Fraction(1, 50)),
        ("3 in per 10 ft", Fraction(1, 40)),
    ],
)
def test_falls_as_people_write_them(text: str, ratio: Fraction) -> None:
    """Each spelling is height over level run, exactly."""
    assert parse_grade(text, UNITS["ft"]) == ratio


@pytest.mark.parametrize("text", ["2", "1/8", "1/8 in", "-2 %", "1:0", "", "1/8 per ft", "level"])
def test_falls_that_could_mean_two_things_are_refused(text: str) -> None:
    """A bare number, a rise, no run: the remedy shows how to write it."""
    with pytest.raises(TextError, match="cannot be read as a fall") as refused:
        parse_grade(text, UNITS["ft"])
    assert "1/8 in per ft" in refused.value.remedy


# --- whole columns ---------------------------------------------------------------------------------------------------

DECIMALS = st.decimals(-99_999_999, 99_999_999, allow_nan=False, places=3).map(lambda number: f"{number:f}")


@given(st.lists(DECIMALS), st.sampled_from(SITE_UNITS))
def test_a_column_is_read_as_its_lengths_are(texts: list[str], unit: str) -> None:
    """Each the nearest double, as one by one; zero without a minus."""
    column = plain_lengths(texts, UNITS[unit])
    assert column is not None
    assert repr(column.tolist()) == repr([float(parse_length(text, UNITS[unit])) for text in texts])


@given(st.lists(st.text("0123456789.+- ", max_size=6), min_size=1))
def test_no_column_is_read_that_one_by_one_is_refused(texts: list[str]) -> None:
    """What looks like figures and is none."""
    column = plain_lengths(texts, FT)
    if column is not None:
        assert column.tolist() == [float(parse_length(text, FT)) for text in texts]


@pytest.mark.parametrize(
    "odd", ["1e3", "32' 6\"", "5.", "1 2", "", "nan", "1_0", "٣", "0.1234567891", "123456789012345678"]
)
def test_columns_with_anything_odd_are_left_to_the_thorough_reader(odd: str) -> None:
    """Then every cell is looked at by itself."""
    assert plain_lengths(["1.5", odd], FTUS) is None


@pytest.mark.parametrize("text", ["\n3", "3\n", "1\n2"])
@pytest.mark.parametrize("unit", ["m", "ft"])
def test_a_cell_of_two_lines_is_no_plain_decimal(text: str, unit: str) -> None:
    """A line end inside a cell is left to the reader of single cells, which refuses it."""
    assert plain_lengths(["1", text], UNITS[unit]) is None
    with pytest.raises(TextError):
        parse_length(text, UNITS[unit])


@pytest.mark.parametrize(("text", "share"), [("5 %", Fraction(1, 20)), ("7.5%", Fraction(3, 40)), ("0 percent", 0)])
def test_shares(text: str, share: Fraction) -> None:
    """Per cent, exactly."""
    assert parse_share(text) == share


@pytest.mark.parametrize("text", ["5", "-5 %", "101 %", "1:20", ""])
def test_no_share(text: str) -> None:
    """A bare number, a negative one and more than all are refused."""
    with pytest.raises(TextError, match="is no share"):
        parse_share(text)


def test_volumes() -> None:
    """27 cubic feet are a cubic yard, of either foot; metres are metres on every site."""
    (case,) = [case for case in published("forms") if case["id"] == "vol.yd3"]
    for unit in (UNITS["ft"], UNITS["ftUS"], None):
        assert parse_volume("1 cu yd", unit) == parse_volume(f"{case['feet']} cubic feet", unit)
        assert parse_volume("8 cu m", unit) == 8
    assert parse_volume("1 cu ft", UNITS["ftUS"]) == Fraction(1200, 3937) ** 3


@pytest.mark.parametrize("text", ["10", "10 yd", "0 cu yd", "-1 cu m", "3 cu rods", "ten cu yd"])
def test_no_volume(text: str) -> None:
    """What is not cubic, not above 0 or not in a unit of concrete is refused."""
    with pytest.raises(TextError, match="is no volume"):
        parse_volume(text, None)
