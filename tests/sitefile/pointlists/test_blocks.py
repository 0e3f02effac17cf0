"""Do whole columns and single rows give the same points, whatever way a list is written?"""

from __future__ import annotations

import csv
import io
import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from staking.errors import InputError
from staking.sitefile.pointlists import blocks
from staking.sitefile.pointlists.blocks import Block, read_blocks
from staking.sitefile.pointlists.opening import Asked, begin, open_list
from staking.units import UNITS

NAMES = st.from_regex(r"[A-Za-z0-9]([A-Za-z0-9 _.+-]{0,10}[A-Za-z0-9])?", fullmatch=True)
FIGURES = st.decimals(-9_999_999, 9_999_999, places=3).map(lambda number: f"{number:f}")
HEIGHTS = FIGURES.filter(lambda text: float(text) not in {-9999.0, -99999.0, -999999.0})  # which stand for none
NOTES = st.text(st.characters(exclude_categories=["C", "Z"]), max_size=12)
ROWS = st.lists(st.tuples(NAMES, FIGURES, FIGURES, st.one_of(st.just(""), HEIGHTS), NOTES), min_size=1, max_size=9)


def read(text: str, unit: str = "m", decimal: str = "", columns: str = "") -> list[Block]:
    """The blocks of a text."""
    data = text.encode()
    asked = Asked(columns, unit, decimal)
    opening = open_list(begin(data, shown="list.csv", decimal=decimal), asked, shown="list.csv")
    return list(read_blocks(data, opening, shown="list.csv"))


def read_one(text: str, unit: str = "m") -> Block:
    """The only block of a text."""
    (block,) = read(text, unit)
    return block


@given(
    ROWS, st.sampled_from("\t;|,"), st.booleans(), st.sampled_from(["\n", "\r\n"]), st.sampled_from(["m", "ft", "ftUS"])
)
def test_whatever_is_written_is_read_back(
    rows: list[tuple[str, ...]], sign: str, comma: bool, end: str, unit: str
) -> None:
    """Names and numbers equal, in any dialect; the writer is Python's, the numbers are those of fractions."""
    comma = comma and sign != ","
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=sign, lineterminator=end)
    writer.writerow(("name", "north", "east", "elevation", "note"))
    writer.writerows((n, *(f.replace(".", ",") if comma else f for f in lengths), note) for n, *lengths, note in rows)
    found = read("\ufeff" + out.getvalue(), unit, "comma" if comma else "point")
    size = UNITS[unit].metres
    assert [name for block in found for name in block.names] == [row[0] for row in rows]
    assert [note for block in found for note in block.notes] == [row[4] for row in rows]
    assert [value for block in found for value in block.north.tolist()] == [
        float(Fraction(row[1]) * size) for row in rows
    ]
    heights = [None if math.isnan(high) else high for block in found for high in block.elevation.tolist()]
    assert heights == [float(Fraction(row[3]) * size) if row[3] else None for row in rows]


@given(ROWS, st.sampled_from(["m", "ft", "ftUS"]))
def test_single_rows_read_as_columns_do(rows: list[tuple[str, ...]], unit: str) -> None:
    """The quick way gives what the thorough one gives."""
    text = "p,n,e,z\n" + "".join(f"{','.join(row[:4])}\n" for row in rows)
    quick = read_one(text, unit)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(blocks._Reader, "_columnar", lambda *_: None)
        slow = read_one(text, unit)
    assert quick.names == slow.names
    for word in ("north", "east", "elevation"):
        assert repr(getattr(quick, word).tolist()) == repr(getattr(slow, word).tolist())


def test_one_odd_row_spoils_no_other() -> None:
    """It is a finding with its line; the rest stays."""
    found = read("p,n,e\n" + "A,1,2\n" * 600 + "B,x,2\n" + "C,3,4\n")
    assert sum(map(len, found)) == 601
    assert [each.place.line for block in found for each in block.findings if each.place] == [602]


def test_feet_and_inches_among_figures_are_marked() -> None:
    """They are read, and their lines are kept."""
    block = read_one("p,n,e\nA,1,2\nB,32' 6\",2\n", "ft")
    assert block.north.tolist() == [0.3048, 32.5 * 0.3048]
    assert block.marked == (3,)


def test_figures_without_a_unit_stay_as_written() -> None:
    """Then no length may have one of its own."""
    block = read_one("p,n,e\nA,1,2\nB,3 ft,2\n", "")
    assert block.north.tolist() == [1.0]
    assert "nothing says that of the others" in block.findings[0].message


def test_a_header_written_again_is_passed_over() -> None:
    """As programs do at the top of each page."""
    block = read_one("p,n,e\nA,1,2\np,n,e\nB,3,4\n")
    assert (list(block.names), block.passed) == (["A", "B"], 2)


def test_a_header_of_unknown_words_is_passed_over_where_columns_are_said() -> None:
    """Words, and no figure, where the coordinates stand."""
    (block,) = read("Punkt;Hochwert;Rechtswert\nA;1,5;2,5\n", columns="name,north,east")
    assert (list(block.names), block.north.tolist()) == (["A"], [1.5])


@pytest.mark.parametrize("text", ["", "# nothing\n\n"])
def test_a_list_without_points_is_said(text: str) -> None:
    """Nothing, and nothing but comments."""
    with pytest.raises(InputError, match="holds no points"):
        read(text)
