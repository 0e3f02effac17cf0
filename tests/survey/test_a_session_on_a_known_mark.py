"""A real session of a satellite receiver on a known mark: the spread and the accuracy that its owner published."""

from __future__ import annotations

import csv
import math
import os
from pathlib import Path

import pytest
from making import published

from staking.survey.check_points import spread
from staking.survey.error_budget import RADIAL_95, SECOND

CASES = {str(case["id"]): case for case in published("known_mark")}
SESSION, LATERAL = CASES["c05"], CASES["e04"]
RECORD = Path(os.environ.get("STAKING_REFERENCE", "reference")) / SESSION["file"]


@pytest.fixture(scope="module")
def differences() -> list[tuple[float, float, float]]:
    """North, east and height of each fixed row less those of the mark [m]."""
    if not RECORD.is_file():
        pytest.skip(f"{RECORD.name} is not here; STAKING_REFERENCE names the folder above data/")
    with RECORD.open(encoding="utf-8") as text:
        rows = list(csv.DictReader(line for line in text if not line.startswith("#")))
    fixed = [row for row in rows if row["solution"] == "FIXED"]
    assert (len(rows), len(fixed)) == (SESSION["rows"], SESSION["fixed"])
    columns = ("northing_m", "easting_m", "elev_m")
    north, east, up = (
        [float(r[name]) - mark for r in fixed] for name, mark in zip(columns, SESSION["mark"], strict=True)
    )
    return list(zip(north, east, up, strict=True))


def test_the_published_spread_about_its_own_mean(differences: list[tuple[float, float, float]]) -> None:
    """Standard deviations and means, axis by axis, and the precision of plan and height."""
    north, east, up = (spread(axis) for axis in zip(*differences, strict=True))
    deviations = [each.deviation or math.nan for each in (north, east, up)]
    assert deviations == pytest.approx(SESSION["deviations"], abs=0.00006)
    assert math.hypot(*deviations[:2]) == pytest.approx(SESSION["precision"][0], abs=0.0006)
    assert deviations[2] == pytest.approx(SESSION["precision"][1], abs=0.0006)
    means = [each.mean + mark for each, mark in zip((north, east, up), SESSION["mark"], strict=True)]
    assert means == pytest.approx(SESSION["means"], abs=0.0006)


def test_the_published_accuracy_against_the_mark(differences: list[tuple[float, float, float]]) -> None:
    """Root mean squares about the mark: the height is four times as far off as the session's own spread tells."""
    north, east, up = (spread(axis) for axis in zip(*differences, strict=True))
    plan = math.hypot(north.root_mean_square, east.root_mean_square)
    assert plan == pytest.approx(SESSION["accuracy"][0], abs=0.0006)
    assert up.root_mean_square == pytest.approx(SESSION["accuracy"][1], abs=0.0006)
    assert up.root_mean_square > 4 * (up.deviation or math.inf)
    within = sorted(math.hypot(n, e) for n, e, _ in differences)[math.ceil(0.95 * len(differences)) - 1]
    assert within == pytest.approx(RADIAL_95 * plan, abs=0.0006)


def test_what_a_second_of_arc_does_far_away() -> None:
    """So many seconds at such a distance, sideways: as printed."""
    for seconds, far, sideways, within in LATERAL["rows"]:
        assert seconds * SECOND * far == pytest.approx(sideways, abs=within)
