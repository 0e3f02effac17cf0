"""Temperatures, pulls, weights and sections as people write them, and what is refused."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from staking.errors import TextError
from staking.physical import (
    parse_elasticity,
    parse_expansion,
    parse_force,
    parse_section,
    parse_temperature,
    parse_weight,
)
from staking.units import UNITS

FOOT = 0.3048


@pytest.mark.parametrize(
    ("text", "celsius"),
    [("68 F", 20.0), ("32F", 0.0), ("-4 °F", -20.0), ("20 C", 20.0), ("95 degrees Fahrenheit", 35.0), ("0 c", 0.0)],
)
def test_temperatures(text: str, celsius: float) -> None:
    """Either scale, however it is written."""
    assert parse_temperature(text) == pytest.approx(celsius)


@pytest.mark.parametrize(
    ("text", "newtons"),
    [("10 lb", 44.482216), ("50 N", 50.0), ("5 kg", 49.03325), ("0.1 kN", 100.0), ("16 oz", 4.448222)],
)
def test_pulls(text: str, newtons: float) -> None:
    """A pound's and a kilogram's weight at standard gravity."""
    assert parse_force(text) == pytest.approx(newtons, rel=1e-6)


def test_a_weight_is_of_the_tape_or_of_a_length() -> None:
    """2.25 lb of a tape of 100 ft is 0.0225 lb a foot, said either way."""
    whole = parse_weight("2.25 lb", 100 * FOOT, None)
    assert parse_weight("2.25 lb per 100 ft", 30.0, None) == pytest.approx(whole)
    assert parse_weight("0.0225 lb per ft", 30.0, UNITS["ft"]) == pytest.approx(whole)
    assert parse_weight("18 g per m", 30.0, None) == pytest.approx(0.1765197)


def test_sections_expansions_and_elasticities() -> None:
    """As an area or as width times thickness; per degree of either scale; in either pressure."""
    assert parse_section("0.003 sq in", None) == pytest.approx(1.93548e-6)
    assert parse_section("1/4 in x 0.012 in", None) == pytest.approx(1.93548e-6, rel=1e-5)
    assert parse_expansion("6.45e-6 per F") == pytest.approx(1.161e-5)
    assert parse_expansion("1.16e-5 /C") == pytest.approx(1.16e-5)
    assert parse_elasticity("200 GPa") == pytest.approx(2e11)
    assert parse_elasticity("29e6 psi") == pytest.approx(1.99948e11, rel=1e-5)


@pytest.mark.parametrize(
    ("parse", "text"),
    [
        (parse_temperature, "68"),
        (parse_temperature, "warm"),
        (parse_temperature, "451 F"),
        (parse_temperature, "-80 C"),
        (parse_force, "12"),
        (parse_force, "-12 lb"),
        (parse_force, "0 N"),
        (parse_force, "12 psi"),
        (parse_force, "9e999 lb"),
        (parse_expansion, "6.5e-6"),
        (parse_elasticity, "29e6"),
        (lambda text: parse_section(text, None), "0.004"),
        (lambda text: parse_section(text, None), "0 in x 1 in"),
        (lambda text: parse_weight(text, 30.0, None), "2 lb per 0 ft"),
        (lambda text: parse_weight(text, 30.0, None), "2"),
    ],
)
def test_what_says_no_unit_or_no_sense_is_refused(parse: Callable[[str], float], text: str) -> None:
    """With a word on what to write instead."""
    with pytest.raises(TextError) as caught:
        parse(text)
    assert caught.value.remedy.startswith("write ")
