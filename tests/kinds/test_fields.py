"""Lengths, bearings and names as records take them."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError

from staking.kinds.fields import (
    Bearing,
    Length,
    LengthFromZero,
    Name,
    PositiveLength,
    Record,
    Words,
    checked_point_name,
)


class Sample(Record):
    """One field of each type."""

    length: Length = 0.0
    positive: PositiveLength = 1.0
    from_zero: LengthFromZero = 0.0
    bearing: Bearing = 0.0
    name: Name = "x"
    words: Words = ""


def _read(**given: Any) -> Sample:
    return Sample.model_validate(given, context={"unit": "ft"})


def test_bare_numbers_are_in_the_site_unit() -> None:
    """A number counts in the site's unit, a text may carry its own."""
    assert _read(length=10).length == pytest.approx(3.048)
    assert _read(length="10 m").length == 10.0
    assert _read(length="10'").length == pytest.approx(3.048)


@pytest.mark.parametrize(
    "given",
    [
        {"length": True},
        {"length": [1]},
        {"length": float("nan")},
        {"length": float("inf")},
        {"length": 1e12},
        {"length": "ten"},
        {"positive": 0},
        {"from_zero": -1},
        {"bearing": "N 95 E"},
        {"bearing": True},
        {"name": ""},
        {"name": " pin"},
        {"name": "a,b"},
        {"name": "a\tb"},
        {"name": "x" * 41},
        {"words": "a\x07b"},
        {"words": "x" * 201},
        {"other": 1},
    ],
)
def test_what_makes_no_sense_is_refused(given: dict[str, Any]) -> None:
    """Wrong types, endless numbers, signs, unreadable text, names that files cannot carry, unknown keys."""
    with pytest.raises(ValidationError):
        _read(**given)


@pytest.mark.parametrize(
    ("name", "said"),
    [
        *((name, "a spreadsheet would take it for a formula") for name in ("=A1", "+12", "-5", "@x")),
        *((name, "not allowed at the beginning of a name") for name in (".5", "_a")),
    ],
)
def test_names_that_a_spreadsheet_runs_are_refused(name: str, said: str) -> None:
    """A point's name begins with a letter or a digit."""
    with pytest.raises(ValueError, match=said):
        checked_point_name(name)


@pytest.mark.parametrize("name", ["P1", "007", "CP-2", "10.0", "Ö 3"])
def test_odd_names_are_kept(name: str) -> None:
    """Alphanumeric names stay as they are written."""
    assert checked_point_name(name) == name
