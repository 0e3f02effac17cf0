"""`staking room`: its statuses, what it says in words and in JSON, and the plan it draws."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner, Result
from making import PLACED_RECTANGLE, SAMPLES, layout_of

from staking.app.cli import main

OVER = PLACED_RECTANGLE.replace("distance = 40", "distance = 20")
DEEP = PLACED_RECTANGLE.replace("depth = 24", 'depth = "78\'-6"')


def _room(folder: Path, text: str, *words: object) -> Result:
    site = folder / "site.toml"
    site.write_text(text, encoding="utf-8")
    return CliRunner().invoke(main, ["room", str(site), *map(str, words)])


@pytest.mark.parametrize(
    ("text", "status"),
    [(PLACED_RECTANGLE, 0), (OVER, 1), (DEEP, 1), (PLACED_RECTANGLE.replace("width", "widht"), 2)],
    ids=["clears", "does not clear here", "fits nowhere", "unreadable"],
)
def test_statuses(tmp_path: Path, text: str, status: int) -> None:
    """0 where it clears, 1 where it does not or cannot, 2 where the file cannot be read; nothing is written."""
    assert _room(tmp_path, text).exit_code == status
    assert [path.name for path in tmp_path.iterdir()] == ["site.toml"]


def test_how_far_it_can_go_in_words(tmp_path: Path) -> None:
    """Size of the region, every way with what stops it, and the place with most room."""
    said = _room(tmp_path, PLACED_RECTANGLE).output
    for words in (
        "clears everything where it is: 15' 0\" (15.000 ft) to spare at the least, from the front setback",
        "places for corner 1 where it clears: 2499.0 sq ft",
        "right  26' 6\" (26.500 ft), up to the right setback",
        "toward 15' 0\" (15.000 ft), up to the front setback",
        "most room: 2' 0\" to the right and 10' 6\" away; 24' 6\" (24.500 ft) to spare at the least",
    ):
        assert words in said


def test_a_limit_is_never_rounded_up(tmp_path: Path) -> None:
    """26.499 ft is 26' 5-15/16", not the nearer 26' 6", which would cross the setback."""
    said = _room(tmp_path, PLACED_RECTANGLE.replace("right = 7.5", "right = 7.501")).output
    assert "right  26' 5-15/16\"" in said


def test_which_rules_collide_in_words(tmp_path: Path) -> None:
    """Both rules with their figures, what they leave, what the slab needs, and what is missing."""
    said = _room(tmp_path, DEEP).output
    assert "front setback 25' 0\" and rear setback 20' 0\" leave 75' 0\"; the slab is 78' 6\" deep: 3' 6\" too" in said
    assert said.splitlines()[-1] == "stop: stake files would be withheld"


def test_three_rules_in_words(tmp_path: Path) -> None:
    """In a triangle three are named, with what is missing at each."""
    text = PLACED_RECTANGLE.replace('"A", "B", "C", "D"', '"A", "B", "C"').replace("C = [120, 100]", "C = [100, 50]")
    text = text.replace('"right", "rear", "left"]', '"right", "left"]').replace("rear = 20\n", "")
    said = _room(tmp_path, text.replace("width = 36", "width = 60")).output
    assert "together leave too little: at best" in said


def test_how_far_it_must_go_in_words(tmp_path: Path) -> None:
    """A slab 5 ft over the front setback: what is crossed, and which ways lead out of it."""
    said = _room(tmp_path, OVER).output
    assert "  front setback: 5' 0\" (5.000 ft) too near" in said
    assert "  away   5' 0\" (5.000 ft)" in said
    assert "right  " not in said


def test_a_site_without_a_lot_has_nothing_to_clear(tmp_path: Path) -> None:
    """It says so, and answers 0."""
    start, end = PLACED_RECTANGLE.index("[lot]"), PLACED_RECTANGLE.index("[slab]")
    at = '[placement]\nkind = "at_point"\ncorner = 1\nat = "A"\nside = "front"\nbearing = 90\n'
    text = PLACED_RECTANGLE[:start] + PLACED_RECTANGLE[end : PLACED_RECTANGLE.index("[placement]")] + at
    result = _room(tmp_path, text)
    assert result.exit_code == 0
    assert "there is nothing to clear" in result.output


@pytest.mark.parametrize("text", [PLACED_RECTANGLE, OVER])
def test_the_placement_can_be_pasted(tmp_path: Path, text: str) -> None:
    """The table that is printed, put in place of the old one, solves and has the room that was promised."""
    said = json.loads(_room(tmp_path, text, "--json").output)
    table = said["best"]["toml"]
    assert tomllib.loads(table)["placement"]["kind"] == "from_lines"
    there = layout_of(text[: text.index("[placement]")] + table + "\n")
    rooms = [margin.room / 0.3048 for margin in there.margins]
    assert rooms == pytest.approx([margin["room"]["value"] for margin in said["best"]["margins"]], abs=0.005)


def test_json_says_the_same() -> None:
    """Every sample: ways with what stops them, the region's corners in the file's frame, and the best place."""
    for folder in SAMPLES:
        result = CliRunner().invoke(main, ["room", str(folder), "--json"])
        said = json.loads(result.output)
        assert (result.exit_code, said["clears"], said["fits"]) == (0, True, True)
        assert [way["way"] for way in said["ways"]][:4] == ["right", "left", "away", "toward"]
        assert all(way["stopped_by"]["of"] for way in said["ways"])
        assert said["best"]["least"]["value"] >= min(margin["room"]["value"] for margin in said["margins"])


def test_json_of_a_collision(tmp_path: Path) -> None:
    """Rules, size, what is left and what is missing as numbers."""
    (collision,) = json.loads(_room(tmp_path, DEEP, "--json").output)["collisions"]
    assert [collision[key]["value"] for key in ("size", "left", "short")] == pytest.approx([78.5, 75.0, 3.5], abs=1e-4)


@pytest.mark.parametrize("text", [PLACED_RECTANGLE, OVER, DEEP])
def test_the_plan_is_an_svg(tmp_path: Path, text: str) -> None:
    """--out writes a picture with the present corner, and the region and best place where there are any."""
    _room(tmp_path, text, "--out", tmp_path / "room.svg")
    words = [each.text for each in ElementTree.parse(tmp_path / "room.svg").iter() if each.text]  # noqa: S314 - our own
    assert "corner 1 now" in words
    assert ("places for corner 1" in words) == ("corner 1 with most room" in words) == (text != DEEP)


def test_the_plan_goes_into_no_other_file(tmp_path: Path) -> None:
    """A slip of the pen cannot overwrite the site file; a folder that is not there is named."""
    site = tmp_path / "site.toml"
    result = _room(tmp_path, PLACED_RECTANGLE, "--out", site)
    assert (result.exit_code, site.read_text(encoding="utf-8")) == (2, PLACED_RECTANGLE)
    assert "ends in .svg" in result.output
    assert _room(tmp_path, PLACED_RECTANGLE, "--out", tmp_path / "none" / "room.svg").exit_code == 2
