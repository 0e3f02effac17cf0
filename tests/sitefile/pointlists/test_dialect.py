"""Are the sign between columns and the sign before decimals told, and lines divided as RFC 4180 has it?"""

from __future__ import annotations

import csv
import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from staking.sitefile.columns import ColumnError
from staking.sitefile.pointlists.dialect import SIGNS, Dialect, split_line, tell_dialect

CASES = tomllib.loads((Path(__file__).parents[2] / "published" / "rfc4180.toml").read_text(encoding="utf-8"))["case"]


@pytest.mark.parametrize("case", [case for case in CASES if "differs" not in case], ids=lambda case: case["rule"])
def test_the_examples_of_rfc_4180_are_divided(case: dict[str, list[list[str]]]) -> None:
    """Each rule of section 2 but the one for line ends within quotes."""
    lines = str(case["text"]).removesuffix("\r\n").split("\n")
    assert [split_line(line, ",") for line in lines] == case["rows"]


@pytest.mark.parametrize("case", [case for case in CASES if "differs" in case], ids=lambda case: case["rule"])
def test_a_quote_over_two_lines_is_refused(case: dict[str, str]) -> None:
    """Section 2, rule 6, allows it; a point is one line here."""
    with pytest.raises(ValueError, match="not closed where the cell ends"):
        split_line(case["text"].split("\n")[0], ",")


@given(st.lists(st.text(st.characters(exclude_categories=["C", "Z"])), min_size=1), st.sampled_from("\t;|,"))
def test_what_csv_writes_is_divided_again(cells: list[str], sign: str) -> None:
    """Whatever the cells hold, for every sign but blanks; the writer is Python's."""

    class Out:
        text = ""

        def write(self, text: str) -> None:
            self.text += text

    csv.writer(out := Out(), delimiter=sign, lineterminator="").writerow(cells)
    assert split_line(out.text, sign) == cells


@pytest.mark.parametrize("sign", SIGNS)
@pytest.mark.parametrize("comma", [False, True])
def test_the_signs_are_told(sign: str, comma: bool) -> None:
    """By the figures alone, without a header."""
    mark = "," if comma else "."
    lines = [sign.join((f"K{row}", f"12{row}{mark}53", f"98{row}{mark}1", "nail")) for row in range(5)]
    if (sign, comma) != (",", True):
        assert tell_dialect(lines) == Dialect(sign, comma)


@pytest.mark.parametrize("decimal", ["point", "comma"])
def test_what_somebody_says_of_decimals_holds(decimal: str) -> None:
    """1,234 between semicolons is refused unless somebody says what the comma is."""
    lines = ["A;1,234;5,678", "B;2,345;6,789"]
    with pytest.raises(ColumnError, match="could mark decimals or thousands"):
        tell_dialect(lines)
    assert tell_dialect(lines, decimal).comma is (decimal == "comma")
