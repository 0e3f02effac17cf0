"""Lists of stakes in forms of their own: what stands in them, what is on record, and that they are read back."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making import PLACED_RECTANGLE, layout_of

from staking import check
from staking.drawing.draw import plan
from staking.errors import OutputError
from staking.exports import Made, Options, job
from staking.exports.job import export
from staking.exports.stake_lists import Listing, list_bytes, listings, read_back, stake_list_facts, stake_list_files
from staking.layout.computed import Layout

Make = Callable[..., Layout]
FACTOR = '[coordinates]\ncrs = "EPSG:6559"\nvalues = "{}"\ncombined_factor = 0.99985\n'


def made(layout: Layout, **options: Any) -> Made:
    """A job to write."""
    return Made(layout, (), plan(layout), Options(**options))


def only(layout: Layout) -> tuple[Listing, list[list[str]]]:
    """The one list asked for, and its cells as the csv module reads them."""
    listing = listings(made(layout))[1]
    text = io.StringIO(list_bytes(layout, listing).decode(), newline="")
    return listing, list(csv.reader(text, delimiter=listing.delimiter))


def asked(**keys: Any) -> list[Mapping[str, Any]]:
    """An entry of [[stakeout]]."""
    return [{"name": "one", **keys}]


def test_columns_delimiter_decimals_mark_and_header(make_layout: Make) -> None:
    """The list has the columns, signs, decimals and header that were asked for."""
    form = asked(columns=["east", "name"], delimiter="semicolon", decimal_mark="comma", decimals=3, header=True)
    layout = make_layout(stakeout=form)
    head, first, *_ = list_bytes(layout, listings(made(layout))[1]).decode().splitlines()
    east = layout.frame.to_file(layout.stakes[0].at).east
    assert (head, first) == ("east;name", f"{layout.notation.decimal(east, 3).replace('.', ',')};101")


@pytest.mark.parametrize(("unit", "size"), [("m", 1), ("ft", Fraction("0.3048")), ("ftUS", Fraction(1200, 3937))])
def test_units_are_converted_exactly(oregon: Layout, make_layout: Make, unit: str, size: Fraction) -> None:
    """A coordinate in another unit is the same place, to half of the last digit."""
    layout = make_layout("ft", north=812_345.6789, east=7_654_321.0123, stakeout=asked(unit=unit))
    _, rows = only(layout)
    assert all(
        abs(Fraction(row[1]) - Fraction(layout.frame.to_file(stake.at).north) / size) <= Fraction("0.0000501")
        for row, stake in zip(rows, layout.stakes, strict=True)
    )
    assert rows[0][0] == oregon.stakes[0].name


@pytest.mark.parametrize(("here", "there", "by"), [("grid", "ground", 1 / 0.99985), ("ground", "grid", 0.99985)])
def test_grid_and_ground(make_layout: Make, here: str, there: str, by: float) -> None:
    """Distances grow or shrink by the factor; the point that is named keeps its coordinates."""
    form = asked(values=there, about="P1", points="all", columns=["name", "north", "east"])
    layout = make_layout("ft", FACTOR.format(here), stakeout=form)
    _, rows = only(layout)
    places = {name: (float(north), float(east)) for name, north, east in rows}
    assert places["P1"] == (1204.3237, 3310.55)
    assert places["P2"][1] - places["P1"][1] == pytest.approx(120 * by, abs=1.1e-4)


def test_scaled_about_zero(make_layout: Make) -> None:
    """Where no point is named, north 0 and east 0 stay, and the record says so."""
    layout = make_layout("ft", FACTOR.format("grid"), stakeout=asked(values="ground", points="all"))
    _, rows = only(layout)
    assert float(rows[0][1]) == pytest.approx(1204.3237 / 0.99985, abs=5.1e-5)
    facts = stake_list_facts(made(layout))[1]
    assert (facts["values"], facts["combined_factor"], facts["scaled_by"]) == ("ground", 0.99985, 1 / 0.99985)
    assert facts["scaled_about"] == {"north": "0.0000", "east": "0.0000"}


def test_names_are_replaced_and_never_cut(make_layout: Make) -> None:
    """With numbers only, each other name becomes the lowest number that no point bears; the record has the table."""
    layout = make_layout(stakeout=asked(points="all", point_names="numbers"))
    listing, rows = only(layout)
    assert dict(listing.changed) == {"P1": "1", "P2": "2", "P3": "3", "P4": "4", "W1": "5"}
    assert all(row[0].isdecimal() for row in rows)
    assert stake_list_facts(made(layout))[1]["names_changed"] == dict(listing.changed)


def test_formulas_are_made_harmless(make_layout: Make) -> None:
    """A note that a spreadsheet would run has an apostrophe in front, and reads back as meant."""
    listing, rows = only(make_layout(stakeout=asked(points="all")))
    assert next(row for row in rows if row[0] == "P2")[-1] == "'=SUM(A1:A9)"
    read_back(listing, list_bytes(make_layout(), listing))


FORMS = st.fixed_dictionaries(
    {
        "columns": st.permutations(["name", "north", "east", "kind", "note"]),
        "points": st.sampled_from(["stakes", "all"]),
        "decimals": st.integers(2, 6),
        "delimiter": st.sampled_from(["semicolon", "tab", "space"]),
        "decimal_mark": st.sampled_from(["point", "comma"]),
        "header": st.booleans(),
        "unit": st.sampled_from(["m", "ft", "ftUS"]),
        "point_names": st.sampled_from(["any", "numbers"]),
    }
)


@settings(max_examples=30, deadline=None)
@given(FORMS)
def test_every_form_reads_back(form: Mapping[str, Any]) -> None:
    """Whatever the form, the list reads back as what was meant."""
    words = "".join(f"{key} = {json.dumps(value)}\n" for key, value in form.items())
    layout = layout_of(f'{PLACED_RECTANGLE}[[stakes]]\nkind = "corners"\n[[stakeout]]\nname = "one"\n{words}')
    (_, listing) = listings(made(layout))
    read_back(listing, list_bytes(layout, listing))


SPOILED: Mapping[str, Callable[[bytes], bytes]] = {
    "the header is not the one": lambda raw: raw.replace(b"name,", b"nome,", 1),
    "points, and": lambda raw: raw[: raw[:-2].rindex(b"\r\n") + 2],
    "the name of 101": lambda raw: raw.replace(b"\r\n101,", b"\r\n111,", 1),
    "the north of 101": lambda raw: raw.replace(b"\r\n101,1", b"\r\n101,2", 1),
    "the note of 101": lambda raw: raw.replace(b"corner 1", b"corner 2", 1),
    "has 4 cells": lambda raw: raw.replace(b",corner 1 (front-left)", b"", 1),
    "the elevation of 101": lambda raw: raw.replace(b",,corner 1", b",0.0000,corner 1", 1),
}


@pytest.mark.parametrize("says", SPOILED)
def test_a_list_that_differs_is_refused(make_layout: Make, says: str) -> None:
    """A changed name, digit, note, cell, row or header is found when the list is read back."""
    layout = make_layout(stakeout=asked(header=True))
    listing = listings(made(layout))[1]
    raw = list_bytes(layout, listing)
    assert SPOILED[says](raw) != raw
    with pytest.raises(OutputError, match="read back") as refused:
        read_back(listing, SPOILED[says](raw))
    assert says in refused.value.message


def test_a_step_of_the_last_digit_is_found(local: Layout) -> None:
    """One unit of the last decimal too much is found; two names that are one are found."""
    listing = listings(made(local))[0]
    rows = (replace(listing.rows[0], east=listing.rows[0].east + 0.3048e-4), *listing.rows[1:])
    with pytest.raises(OutputError, match="the east of 101"):
        read_back(listing, list_bytes(local, replace(listing, rows=rows)))
    twice = replace(listing, rows=(*listing.rows, listing.rows[0]))
    with pytest.raises(OutputError, match="two points have one name"):
        read_back(twice, list_bytes(local, twice))


def test_nothing_is_written_where_a_list_differs(
    make_layout: Make, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A list that does not read back stops the whole job before the folder is touched."""
    layout = make_layout(stakeout=asked())
    monkeypatch.setattr(job, "stake_list_files", lambda _made: [("stakeout_one.csv", b"101,1,2,,x\r\n")])
    with pytest.raises(OutputError, match=r"stakeout_one\.csv was read back"):
        export(layout, (), tmp_path / "out")
    assert list(tmp_path.iterdir()) == []


def test_what_a_list_holds_is_on_record(make_layout: Make, tmp_path: Path) -> None:
    """Manifest and layout say the same of each list: form, unit, values, revision, fingerprint."""
    layout = make_layout("ftUS", stakeout=asked(decimals=3, delimiter="tab", unit="m"))
    export(layout, check(layout), tmp_path / "out", options=Options(decimals=5))
    manifest, computed = (json.loads((tmp_path / "out" / f"{n}.json").read_text()) for n in ("manifest", "layout"))
    assert manifest["stakeout"] == computed["stakeout"]
    default, own = manifest["stakeout"]
    assert (default["file"], default["unit"], default["decimals"]) == ("stakeout.csv", "ftUS", 5)
    assert (own["file"], own["unit_metres"], own["delimiter"], own["revision"]) == ("stakeout_one.csv", "1", "tab", "B")
    assert own["site_file_sha256"] == layout.site.fingerprint
    assert own["count"] == len((tmp_path / "out" / "stakeout_one.csv").read_text().splitlines())


def test_a_stop_withholds_the_lists(make_layout: Make) -> None:
    """After a stop no list is made, and none is on record."""
    stopped = replace(made(make_layout(stakeout=asked())), withheld=("setback-crossed",))
    assert stake_list_facts(stopped) == []
    assert list(stake_list_files(stopped)) == []


def test_a_list_that_cannot_be_written_is_left_out(make_layout: Make) -> None:
    """Grid values without a factor: the other lists are written."""
    layout = make_layout(stakeout=[*asked(values="grid"), {"name": "two"}])
    assert [each.file for each in listings(made(layout))] == ["stakeout.csv", "stakeout_two.csv"]
