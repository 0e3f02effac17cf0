"""Everything computed, for programs: complete, finite, in the site's unit, and silent about withheld stakes."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
import shapely

from staking.exports.layout_json import layout_json
from staking.findings import Finding, Place, Severity
from staking.layout.computed import Layout

STOP = Finding("margin-setback", Severity.STOP, "too near", Place("site.toml", 12, key="setbacks.front"), "move it")
NOTE = Finding("position-unknown", Severity.NOTE, "nowhere")


def read(layout: Layout, *findings: Finding, **options: Any) -> dict[str, Any]:
    """The file as Python's json module reads it, other numbers than finite ones refused."""

    def refuse(token: str) -> None:
        raise ValueError(token)

    found: dict[str, Any] = json.loads(layout_json(layout, findings, **options), parse_constant=refuse)
    return found


def test_lengths_are_numbers_and_text(local: Layout) -> None:
    """A side is there as a number in the site's unit and as it is printed."""
    side = read(local)["sides"][0]
    assert side["length"] == {"value": 36.0, "text": "36' 0\""}
    assert (side["from"], side["to"]) == ("101", "102")
    assert side["direction"]["text"].startswith("N 90")


def test_units_and_frame_are_named(oregon: Layout) -> None:
    """Unit, its size, system, kind of values and factor are told."""
    frame = read(oregon)["frame"]
    assert (frame["unit"], frame["unit_words"], frame["unit_metres"]) == ("ft", "international feet", "381/1250")
    assert (frame["crs"], frame["values"], frame["combined_factor"]) == ("EPSG:6559", "grid", 0.99985)


def test_local_frames_say_so(local: Layout) -> None:
    """Without a coordinate system, system and factor are null."""
    frame = read(local)["frame"]
    assert (frame["crs"], frame["values"], frame["combined_factor"]) == (None, "ground", None)


def test_everything_is_there(local: Layout) -> None:
    """Each computed thing has its list, as long as the layout's own."""
    content = read(local)
    for key in ("stakes", "points", "sides", "diagonals", "ties", "double_ties", "margins", "keep_clear"):
        assert len(content[key]) == len(getattr(local, "kept_clear" if key == "keep_clear" else key))
    assert len(content["batter_boards"]) == len(local.boards)
    assert content["slab"]["area"] == {"value": 1746.0, "text": "1746.0 sq ft"}
    assert [part["name"] for part in content["slab"]["parts"]] == ["ramp"]


def test_coordinates_are_those_of_the_list(oregon: Layout) -> None:
    """A given point has its own figures, and an elevation only where it is known."""
    first, second = read(oregon)["points"][:2]
    assert (first["north"], first["east"], first["elevation"]) == (812345.6789, 7654321.0123, 412.07)
    assert second["elevation"] is None


def test_findings_are_told_with_their_place(local: Layout) -> None:
    """A finding has code, severity in words, message, remedy and place."""
    first, second = read(local, STOP, NOTE, despite=["margin-setback"])["findings"]
    assert first["severity"] == "stop"
    assert first["place"] == {"file": "site.toml", "line": 12, "key": "setbacks.front"}
    assert second["place"] is None


def _numbers(content: Any) -> Iterator[float]:
    if isinstance(content, (int, float)) and not isinstance(content, bool):
        yield content
    children = content.values() if isinstance(content, dict) else content if isinstance(content, list) else ()
    for child in children:
        yield from _numbers(child)


def test_withheld_stakes_have_no_place(oregon: Layout) -> None:
    """Where stakes are withheld, no coordinate of slab or stake is in the file, and the reason is."""
    content = read(oregon, STOP, NOTE, withheld=True)
    assert (content["stakes_withheld"], content["withheld_because"]) == (True, ["margin-setback"])
    shown = set(_numbers(content))
    for stake in oregon.stakes:
        at = oregon.frame.to_file(stake.at)
        assert not {round(at.north / 0.3048, 6), round(at.east / 0.3048, 6)} & shown
    assert [stake["name"] for stake in content["stakes"]][:1] == ["101"]
    assert (content["ties"], content["double_ties"], content["batter_boards"]) == ([], [], [])


def test_only_stops_that_stand_withhold(local: Layout) -> None:
    """Of two stops, the one that was overruled is no reason to withhold."""
    content = read(local, STOP, replace(STOP, code="outside-lot"), withheld=True, despite=["outside-lot"])
    assert content["withheld_because"] == ["margin-setback"]


def test_overruled_stops_are_on_record(local: Layout) -> None:
    """What was overruled is named, and the stakes are there."""
    content = read(local, STOP, despite=("margin-setback",))
    assert (content["despite"], content["withheld_because"]) == (["margin-setback"], [])
    assert content["stakes"][0]["north"] is not None


def test_a_site_without_lot_or_area(local: Layout) -> None:
    """Without a lot there is null for it, and no ring for an area that is not there."""
    content = read(replace(local, lot=None, buildable=None))
    assert (content["lot"], content["buildable_area"]) == (None, [])
    assert read(replace(local, buildable=shapely.Polygon()))["buildable_area"] == []


def test_numbers_that_are_none_are_refused(local: Layout) -> None:
    """A number that is not finite never becomes a token that JSON does not know."""
    broken = replace(local, sides=(replace(local.sides[0], length=float("nan")),))
    with pytest.raises(ValueError, match="nan"):
        layout_json(broken, ())
