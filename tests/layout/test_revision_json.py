"""Our own layout.json read back: whole, and every mistake of it in a sentence."""

from __future__ import annotations

import json
from typing import Any

import pytest
from making import SAMPLES, layout_of, sample
from revised import STAKED, revision

from staking import check
from staking.app.revisions import revision_of
from staking.errors import InputError
from staking.exports.layout_json import layout_json
from staking.layout.revision_json import read_revision, says_withheld

GOOD: dict[str, Any] = json.loads(layout_json(layout_of(STAKED), ()))


@pytest.mark.parametrize("folder", SAMPLES, ids=lambda folder: str(folder.name))
def test_every_sample_is_read_back(folder: Any) -> None:
    """Stakes, outline, points and margins of a layout are those of its file, to a thousandth of a millimetre."""
    layout = sample(folder.name)
    found = revision_of(layout, check(layout), "layout.json")
    assert [stake.name for stake in found.stakes] == [stake.name for stake in layout.stakes]
    for read, made in zip(found.stakes, layout.stakes, strict=True):
        at = found.system.frame.to_ground(read.at)
        assert abs(at.east - made.at.east) + abs(at.north - made.at.north) < 2e-6
    assert tuple(corner.name for corner in found.outline) == layout.corner_names
    assert tuple(corner.bulge for corner in found.outline if corner.bulge) == tuple(
        round(bulge, 9) for bulge in layout.slab.form.outline.bulges if bulge
    )
    assert [room.room for room in found.rooms] == pytest.approx([it.room for it in layout.margins], abs=2e-6)
    assert found.area == pytest.approx(layout.slab.area, abs=1e-5)
    assert set(found.points) == set(layout.points)


def spoiled(**changes: Any) -> str:
    """A good file with some of its keys changed; None takes one out."""
    return json.dumps({key: value for key, value in (GOOD | changes).items() if value is not None})


def _stakes(**changes: Any) -> list[Any]:
    return [GOOD["stakes"][0], GOOD["stakes"][1] | changes, *GOOD["stakes"][2:]]


@pytest.mark.parametrize(
    ("text", "key", "said"),
    [
        ("", "", "the file is empty"),
        ("  \n", "", "the file is empty"),
        (json.dumps(GOOD)[:2000], "", "cut short"),
        ("name,north,east\n", "", "no JSON"),
        ('{"format": 1, oops}', "", "no JSON"),
        ("[1, 2]", "", "no layout that staking wrote"),
        ('{"type": "FeatureCollection"}', "", "this is GeoJSON, but no layout that staking wrote"),
        ("[" * 100_000, "", "no layout that staking wrote"),
        (spoiled(format=2), "", "reads format 1"),
        (spoiled(format=True), "", "reads format 1"),
        (json.dumps(GOOD)[:-1] + ', "format": 1}', "", 'the key "format" is there twice'),
        (spoiled(stakes_withheld=True, withheld_because=["setback-crossed"]), "", "withheld (setback-crossed)"),
        (spoiled(slab=None), "slab", "is missing"),
        (spoiled(stakes={}), "stakes", "is no list"),
        (spoiled(stakes=_stakes(north="12")), "stakes#2.north", "is no number"),
        (spoiled(stakes=_stakes(north=True)), "stakes#2.north", "is no number"),
        (spoiled(stakes=_stakes(name=7)), "stakes#2.name", "is no text"),
        (spoiled(stakes=_stakes(corner="the near one")), "stakes#2.corner", "is not as staking writes it"),
        (spoiled(frame=GOOD["frame"] | {"unit": "yd"}), "", "the unit is yd"),
        (spoiled(frame=GOOD["frame"] | {"combined_factor": 0}), "frame.combined_factor", "is less than can be"),
        (spoiled(stakes=_stakes(north=1e308)).replace("1e+308", "NaN"), "", "NaN is no number"),
        (spoiled(stakes=_stakes(north=1e308)).replace("1e+308", "1e999"), "stakes#2.north", "no number that could be"),
    ],
)
def test_what_cannot_be_read(text: str, key: str, said: str) -> None:
    """Not ours, newer, cut short, changed by hand: where, what, and what to do."""
    with pytest.raises(InputError) as refused:
        read_revision(text, "layout.json")
    finding = refused.value.findings[0]
    assert finding.place is not None
    assert (finding.code, finding.place.key) == ("bad-layout", key)
    assert said in finding.message
    assert finding.remedy


def _point(number: int, **changes: Any) -> list[Any]:
    points: list[Any] = GOOD["points"]
    return [*points[: number - 1], points[number - 1] | changes, *points[number:]]


def _slab(**changes: Any) -> str:
    return spoiled(slab=GOOD["slab"] | changes)


def _corners(**changes: Any) -> list[Any]:
    corners: list[Any] = GOOD["slab"]["corners"]
    return [corners[0] | changes, *corners[1:]]


def _sides(**changes: Any) -> str:
    return spoiled(sides=[GOOD["sides"][0] | changes, *GOOD["sides"][1:]])


def _at(**changes: Any) -> dict[str, Any]:
    """The first margin with some of its lengths changed."""
    margin: dict[str, Any] = GOOD["margins"][0]
    return margin | {key: {"value": value} for key, value in changes.items()}


@pytest.mark.parametrize(
    ("text", "key", "said"),
    [
        (spoiled(points=[]), "points", "holds no given point"),
        (spoiled(points=_point(2, name="A")), "points#2.name", '"A" is the name of points#1 too'),
        (spoiled(points=_point(2, name="a")), "points#2.name", '"a" is the name of points#1 too'),
        (spoiled(points=_point(1, name="")), "points#1.name", "is empty"),
        (spoiled(points=_point(1, north=1e12)), "points#1.north", "is more than can be"),
        (spoiled(points=_point(1, name="A\u202e")), "points#1.name", "holds a sign that cannot be seen"),
        (spoiled(stakes=[*GOOD["stakes"], GOOD["stakes"][0]]), "stakes#13.name", '"101" is the name of stakes#1 too'),
        (spoiled(stakes=_stakes(name="A")), "stakes#2", "is not the corner 2 (front-right) that the outline has"),
        (spoiled(stakes=_stakes(north=0.0)), "stakes#2", "is not the corner 2 (front-right) that the outline has"),
        (spoiled(stakes=_stakes(corner="corner 9")), "stakes#2.corner", 'the slab has no "corner 9"'),
        (spoiled(stakes=_stakes(side="side 8-9")), "stakes#2.side", 'the slab has no "side 8-9"'),
        (spoiled(stakes=_stakes(part="porch")), "stakes#2.part", 'the slab has no part "porch"'),
        (_slab(corners=[]), "slab.corners", "holds 0, and an outline has three at least"),
        (_slab(corners=_corners(label="corner 3")), "slab.corners#1.label", '"corner 3" stands where corner 1 belongs'),
        (
            _slab(corners=_corners(**GOOD["slab"]["corners"][1] | {"label": "corner 1", "name": "101"})),
            "slab.corners#1",
            "lies where the next corner lies",
        ),
        (_slab(area={"value": 0}), "slab.area.value", "is less than can be"),
        (_slab(parts=[{"name": "porch", "corners": []}]), "slab.parts#1.corners", "holds 0, and porch has three"),
        (_sides(length={"value": 35.0}), "sides#1.length", "35' 0\", but 36' 0\" between its corners"),
        (_sides(label="side 2-3"), "sides#1.label", '"side 2-3" stands where side 1-2 belongs'),
        (spoiled(sides=[]), "sides", "holds 0, and the slab has 4 corners"),
        (spoiled(margins=[_at(room=99)]), "margins#1.room", "is not the distance less what is required"),
        (spoiled(margins=[_at() | {"severity": "fine"}]), "margins#1.severity", "is not as staking writes it"),
        (spoiled(site=GOOD["site"] | {"date": "last week"}), "site.date", "is not as staking writes it"),
        (spoiled(site=GOOD["site"] | {"fingerprint": "?"}), "site.fingerprint", "is not as staking writes it"),
        (spoiled(frame=GOOD["frame"] | {"values": "local"}), "frame.values", "is not as staking writes it"),
    ],
)
def test_what_does_not_hang_together(text: str, key: str, said: str) -> None:
    """Names twice, nothing where something must be, figures that contradict one another: each by its key."""
    with pytest.raises(InputError) as refused:
        read_revision(text, "layout.json")
    found = {finding.place.key: finding.message for finding in refused.value.findings if finding.place}
    assert said in found[key], found


def test_every_mistake_at_once() -> None:
    """Several spoiled values are all named."""
    text = spoiled(stakes=_stakes(north="x", east="y"), sides=7)
    with pytest.raises(InputError) as refused:
        read_revision(text, "layout.json")
    assert len(refused.value.findings) == 3


def test_keys_of_later_versions_are_passed_over() -> None:
    """What a newer program adds without another format is no mistake."""
    read = read_revision(spoiled(weather="rain"), "layout.json")
    assert read.stakes == revision(STAKED).stakes


def test_whether_stakes_were_withheld() -> None:
    """Said of a layout after a stop only, whatever else the bytes are."""
    held = layout_json(layout_of(STAKED), (), withheld=True)
    assert [says_withheld(it) for it in (held, layout_json(layout_of(STAKED), ()), b"x", b"[]")] == [True, *[False] * 3]


def test_ends_of_diagonals_that_are_no_corners_are_named_so() -> None:
    """No stake stands where strings cross, and nobody has a point S1."""
    layout = sample("ell_house_on_grid")
    ends = " ".join(words for words, _ in revision_of(layout, check(layout), "x").diagonals)
    assert "S1 (crossing of strings)" in ends
    assert "101 (crossing" not in ends
