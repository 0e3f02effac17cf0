"""Is a list written block by block what points.csv would be, and read back equal?"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from staking.errors import OutputError
from staking.exports.points_csv import COLUMNS, TableForm, table
from staking.exports.points_stream import table_parts, write_points
from staking.exports.rows import PointRow
from staking.notation import Notation
from staking.sitefile.pointlists.blocks import Block, read_blocks
from staking.sitefile.pointlists.opening import Asked, begin, open_list
from staking.units import UNITS

FEET = Notation(UNITS["ft"])
NOTES = st.text(st.characters(exclude_categories=["C"]), max_size=9)
FIGURES = st.floats(-1e7, 1e7)


def block(rows: list[tuple[str, float, float, str]]) -> Block:
    """Points with half their north as elevation."""
    names, north, east, notes = zip(*rows, strict=True)
    return Block(names, np.array(north), np.array(east), np.array(north) / 2, notes, range(len(rows)), names)


@given(st.lists(st.tuples(st.sampled_from(["A1", "07", "B 2", "Ü"]), FIGURES, FIGURES, NOTES), min_size=1))
def test_the_table_is_that_of_points_csv(rows: list[tuple[str, float, float, str]]) -> None:
    """Byte for byte: quotes, apostrophes before formulas, decimals."""
    whole = [PointRow(name, north, east, north / 2, "given", note, "") for name, north, east, note in rows]
    expected = table(FEET, whole, COLUMNS, TableForm(header=True))
    assert b"".join(table_parts([block(rows)], FEET)) == expected


def test_what_is_written_is_read_back(tmp_path: Path) -> None:
    """By our own reader and by Python's."""
    path = tmp_path / "new.csv"
    assert write_points(path, [block([("A", 1.5, 2.5, 'a "b", c')])], Notation(UNITS["m"])) == 1
    opening = open_list(begin(path, shown="l"), Asked(unit="m"), shown="l")
    (found,) = read_blocks(path, opening, shown="l")
    assert (found.north[0], found.east[0], found.elevation[0], found.notes) == (1.5, 2.5, 0.75, ['a "b", c'])
    assert list(csv.reader(io.StringIO(path.read_text("utf-8"))))[1][-1] == 'a "b", c'


def test_no_file_is_overwritten(tmp_path: Path) -> None:
    """It is said, and the file stays."""
    (tmp_path / "old.csv").write_text("mine", encoding="utf-8")
    with pytest.raises(OutputError, match="is there already"):
        write_points(tmp_path / "old.csv", [], FEET)
    assert (tmp_path / "old.csv").read_text("utf-8") == "mine"


def test_a_file_is_whole_or_absent(tmp_path: Path) -> None:
    """Where the blocks end in an error nothing is left."""

    def broken() -> Iterator[Block]:
        yield block([("A", 1.0, 2.0, "")])
        raise ValueError

    with pytest.raises(ValueError, match=r"^$"):
        write_points(tmp_path / "new.csv", broken(), FEET)
    assert not (tmp_path / "new.csv").exists()
