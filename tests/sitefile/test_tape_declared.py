"""The tape of a site file: its own units, and slips."""

from __future__ import annotations

from pathlib import Path

import pytest
from making import PLACED_RECTANGLE, layout_of

from staking import read_site
from staking.errors import InputError

FULL = """
[tape]
length = "100 ft"
true_length = "100.02 ft"
temperature = "70 F"
pull = "12 lb"
weight = "2.25 lb per 100 ft"
section = "0.004 sq in"
expansion = "6.5e-6 per F"
elasticity = "29e6 psi"
"""


def test_everything_that_can_be_said_of_a_tape() -> None:
    """It reaches the formulas in metres, newtons and degrees Celsius."""
    tape = layout_of(PLACED_RECTANGLE + FULL).site.declared.tape.as_survey()
    assert tape.true / tape.nominal == pytest.approx(1.0002)
    assert tape.temperature == pytest.approx(21.1111, abs=1e-4)
    assert tape.pull == pytest.approx(53.379, abs=1e-3)
    assert tape.weight == pytest.approx(2.25 * 4.448222 / 30.48, rel=1e-6)
    assert (tape.section, tape.expansion) == pytest.approx((2.58064e-6, 1.17e-5))


def test_a_tape_that_nobody_described_is_as_long_as_it_says() -> None:
    """Steel, right at 68 F; pull and sag are not corrected."""
    tape = layout_of(PLACED_RECTANGLE).site.declared.tape.as_survey()
    assert (tape.nominal, tape.true, tape.temperature) == (30.48, 30.48, 20.0)
    assert (tape.pull, tape.weight, tape.section) == (None, 0.0, 0.0)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ('true_length = "102 ft"', "more than 1 part in 100 apart"),
        ("temperature = 68", "68 has no unit"),
        ('temperature = "68"', "cannot be read as a temperature"),
        ('pull = "hard"', "cannot be read as a pull"),
        ('weight = "2.25"', "cannot be read as a pull"),
        ('section = "thin"', "cannot be read as a section"),
        ('true_lenght = "100 ft"', "true_lenght"),
    ],
)
def test_slips_are_said_in_words(line: str, said: str, tmp_path: Path) -> None:
    """What is wrong, with the line."""
    path = tmp_path / "site.toml"
    path.write_text(f"{PLACED_RECTANGLE}\n[tape]\n{line}\n", encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_site(path)
    (finding,) = caught.value.findings
    assert said in finding.message
    assert finding.place
    assert finding.place.line
