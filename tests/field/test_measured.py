"""Lists of measured points as crews bring them."""

from __future__ import annotations

from pathlib import Path

import pytest
from making import sample
from measuring import HOW, as_designed

from staking.errors import InputError
from staking.field.measured import error_of_instrument, read_measured
from staking.sitefile.pointlists.opening import Asked
from staking.survey.points import distance
from staking.units import UNITS


def _list(folder: Path, text: str) -> Path:
    path = folder / "set.csv"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize("head", ["name,north,east,elevation", "east;name;north", "", "# P,E,N"])
def test_any_order_of_columns(tmp_path: Path, head: str) -> None:
    """By the header, by a comment, and without either by the points of the layout."""
    layout = sample("metric_hall")
    rows = [head] if head else []
    for each in as_designed(layout):
        at = layout.frame.to_file(each.at)
        n, e = f"{at.north:.3f}", f"{at.east:.3f}"
        row = {"east;name;north": f"{e};{each.name};{n}", "# P,E,N": f"{each.name},{e},{n}"}
        rows.append(row.get(head, f"{each.name},{n},{e},"))
    points, how = read_measured(layout, _list(tmp_path, "\n".join(rows)), Asked(site_unit=UNITS["m"]), HOW)
    there = {each.name: each.at for each in as_designed(layout)}
    assert max(distance(each.at, there[each.name]) for each in points) < 0.001
    assert len(how.fingerprint) == 64
    assert how.file.endswith("set.csv")


def test_values_on_a_grid_are_brought_to_the_ground(tmp_path: Path) -> None:
    """The hall's file holds grid values: distances of the list come out longer by the factor."""
    layout = sample("metric_hall")
    text = "name,north,east\nA,4410120,512340\nB,4410120,512440\n"
    (a, b), _ = read_measured(layout, _list(tmp_path, text), Asked(site_unit=UNITS["m"]), HOW)
    assert distance(a.at, b.at) == pytest.approx(100 / 0.99935)


def test_every_bad_row_is_named(tmp_path: Path) -> None:
    """All of them at once, with their lines; nothing is compared."""
    layout = sample("metric_hall")
    text = "name,north,east\n101,4410120,x\n102,4410120,512340\n,4410120,512340\n"
    with pytest.raises(InputError) as refused:
        read_measured(layout, _list(tmp_path, text), Asked(site_unit=UNITS["m"]), HOW)
    assert [each.place.line for each in refused.value.findings if each.place] == [2, 4]


def test_a_blank_elevation_is_none(tmp_path: Path) -> None:
    """And never 0."""
    layout = sample("metric_hall")
    text = "name,north,east,elevation\n101,4410120,512340,\n102,4410120,512341,0\n"
    points, _ = read_measured(layout, _list(tmp_path, text), Asked(site_unit=UNITS["m"]), HOW)
    assert [each.up for each in points] == [None, 0.0]


def test_the_instrument_of_the_file_says_how_well_it_measures() -> None:
    """A total station of 3 seconds over a known point: some millimetres; nothing without an instrument."""
    assert read_error("metric_hall") == pytest.approx(0.004, abs=0.003)
    assert read_error("tape_only_shed") is None


def read_error(name: str) -> float | None:
    """Of a sample."""
    return error_of_instrument(sample(name))
