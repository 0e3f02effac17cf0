"""Whoever has only points.csv and a calculator finds the sides, diagonals and ties that the sheets print."""

from __future__ import annotations

import csv
import json
import math
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from making import SAMPLES

from staking.app.cli import main

DIGIT = 0.00005  # half of the last printed digit of a coordinate
NAMES = [folder.name for folder in SAMPLES]


class Calculator:
    """points.csv and layout.json as written; distances by Pythagoras, on the ground, in the file's unit."""

    def __init__(self, out: Path) -> None:
        with (out / "points.csv").open(newline="", encoding="utf-8") as file:
            rows = list(csv.DictReader(file))
        self.at = {row["name"]: (float(row["east"]), float(row["north"])) for row in rows}
        self.printed: dict[str, Any] = json.loads((out / "layout.json").read_text(encoding="utf-8"))
        frame = self.printed["frame"]
        grid = frame["values"] == "grid" and frame["combined_factor"]
        self.factor: float = frame["combined_factor"] if grid else 1.0

    def distance(self, a: str, b: str) -> float:
        """Between two points by name."""
        return math.dist(self.at[a], self.at[b]) / self.factor

    def square_off(self, name: str, ends: tuple[str, str]) -> float:
        """A point's distance square off the line through two others."""
        (ae, an), (be, bn), (pe, pn) = self.at[ends[0]], self.at[ends[1]], self.at[name]
        cross = (be - ae) * (pn - an) - (bn - an) * (pe - ae)
        return abs(cross) / math.dist((ae, an), (be, bn)) / self.factor


@pytest.fixture(params=NAMES)
def made(request: pytest.FixtureRequest, tmp_path: Path) -> Calculator:
    """A sample site, made."""
    folder = next(folder for folder in SAMPLES if folder.name == request.param)
    result = CliRunner().invoke(main, ["make", str(folder), "--out", str(tmp_path / "out")])
    assert result.exit_code == 0
    return Calculator(tmp_path / "out")


def test_sides_and_diagonals(made: Calculator) -> None:
    """Every side, and every diagonal between stakes, is the printed one."""
    chords = [side | {"length": side["chord"]} for side in made.printed["sides"]]
    spans = chords + made.printed["diagonals"]
    between = [span for span in spans if span["from"] in made.at and span["to"] in made.at]
    assert len(between) >= len(made.printed["sides"])
    for span in between:
        assert made.distance(span["from"], span["to"]) == pytest.approx(span["length"]["value"], abs=4 * DIGIT)


def test_double_ties(made: Calculator) -> None:
    """Both tapes of every double tie are the printed ones."""
    assert made.printed["double_ties"]
    for tie in made.printed["double_ties"]:
        for which in ("first", "second"):
            read = made.distance(tie["corner"], tie[which])
            assert read == pytest.approx(tie[f"{which}_distance"]["value"], abs=4 * DIGIT)


def test_ties_to_lot_lines(made: Calculator) -> None:
    """Ties square off the lot lines are the printed ones, from the lot corners as written."""
    ends = {f"lot {side['name']}": (side["from"], side["to"]) for side in made.printed["lot"]["sides"]}
    ties = [tie for tie in made.printed["ties"] if tie["line"] in ends]
    assert ties
    for tie in ties:
        read = made.square_off(tie["corner"], ends[tie["line"]])
        assert read == pytest.approx(tie["distance"]["value"], abs=6 * DIGIT)
