"""The reduced level book as a table."""

from __future__ import annotations

import csv
import io
from itertools import pairwise

import pytest
from making import PLACED_RECTANGLE, layout_of, sample

from staking.exports.levels_csv import COLUMNS, levels_csv


def _rows(text: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text.decode("utf-8"), newline="")))


def test_both_ways_come_to_the_same_heights() -> None:
    """One row a sight, with the height of both ways and what was taken off its reading."""
    rows = _rows(levels_csv(sample("workshop_pad")))
    assert [row["point"] for row in rows] == ["BM1", "GUT", "TP1", "TP1", "TP2", "TP2", "K1", "BM2"]
    assert all(row["height"] == row["height_by_rises"] for row in rows)
    assert (rows[0]["backsight"], rows[0]["corrected_by"], rows[0]["unit"]) == ("5.8060", "0.0140", "ft")
    assert rows[-1]["adjusted"] == "215.4100"


def test_a_reader_of_the_table_finds_the_heights_again() -> None:
    """Height of instrument less reading, by the printed figures alone."""
    line = 0.0
    for row in _rows(levels_csv(sample("workshop_pad"))):
        line = float(row["line_of_sight"] or line)
        read = row["backsight"] or row["intermediate"] or row["foresight"]
        assert line - float(read) == pytest.approx(float(row["height"]), abs=1.5e-4)


def test_rise_and_fall_stand_in_their_own_columns() -> None:
    """Of every sight but the first: what it is higher than the sight before, or lower, never both, never below 0."""
    rows = _rows(levels_csv(sample("workshop_pad")))
    for before, row in pairwise(rows):
        if row["backsight"]:
            continue
        step = float(row["height_by_rises"]) - float(before["height_by_rises"])
        own, other = ("rise", "fall") if step >= 0 else ("fall", "rise")
        assert float(row[own]) == pytest.approx(abs(step), abs=1.5e-4)
        assert row[other] == ""
    assert any(row["fall"] for row in rows)


def test_without_books_there_is_a_header() -> None:
    """And no row."""
    assert levels_csv(layout_of(PLACED_RECTANGLE)) == (",".join(COLUMNS) + "\r\n").encode()
