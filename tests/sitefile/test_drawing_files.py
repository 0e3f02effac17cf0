"""A slab whose outline a drawing gives: what is taken, what is told, and what is refused."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import pytest
from drawings import BAY, SQUARE, blank, drawn, polyline, saved
from making import sample

from staking import read_site, solve
from staking.drawing.draw import plan
from staking.errors import InputError, SolveError
from staking.exports.dxf import dxf
from staking.sitefile.declared import Site
from staking.survey.polygons import sides_of
from staking.survey.projected_systems import system
from staking.survey.projections import to_lonlat

SITE = """[site]
name = "Drawn"
unit = "m"
[points]
P1 = [0, 0]
[slab]
kind = "drawing"
path = "house.dxf"
front = "south"
{extra}
[placement]
kind = "at_point"
corner = 1
at = "P1"
side = "front"
bearing = 90
"""


def _site(folder: Path, data: bytes, extra: str = "", name: str = "house.dxf") -> Site:
    (folder / name).write_bytes(data)
    text = SITE.format(extra=extra).replace("house.dxf", name)
    (folder / "site.toml").write_text(text, encoding="utf-8")
    return read_site(folder / "site.toml")


def _refusal(folder: Path, data: bytes, extra: str = "", name: str = "house.dxf") -> str:
    with pytest.raises(InputError) as refused:
        _site(folder, data, extra, name)
    return "\n".join(f"{finding.message}\n{finding.remedy}" for finding in refused.value.findings)


def test_the_outline_stands_in_its_own_axes_with_names_and_arcs(tmp_path: Path) -> None:
    """Corner 1 is the left end of the front side; sides are named by direction and the arc stays an arc."""
    outline = _site(tmp_path, drawn()).outline()
    assert [(c.east, c.north) for c in outline.corners] == [(0, 0), (12, 0), (12, 3), (12, 6), (12, 9), (0, 9)]
    assert outline.side_names == ("front", "", "", "", "back", "left")
    assert outline.bulges == (0, 0, 0.5, 0, 0, 0)


@pytest.mark.parametrize(
    ("front", "first"), [("south", (0, 0)), ("north", (12, 9)), ("west", (0, 9)), ("east", (12, 0))]
)
def test_front_says_which_side_is_the_front(tmp_path: Path, front: str, first: tuple[float, float]) -> None:
    """Whatever way the front faces, it begins at its left end as one stands before it; parallel sides: the leftmost."""
    (tmp_path / "house.dxf").write_bytes(drawn())
    text = SITE.format(extra="").replace('front = "south"', f'front = "{front}"')
    (tmp_path / "site.toml").write_text(text, encoding="utf-8")
    outline = read_site(tmp_path / "site.toml").outline()
    width = {"south": 12, "north": 12, "west": 9, "east": 3}[front]
    assert (outline.corners[1].east, outline.corners[1].north) == (width, 0)
    assert first in [(x, y) for x, y, _ in BAY]


def test_the_slab_is_solved_with_the_drawing_on_record(tmp_path: Path) -> None:
    """The job is laid out as with any outline; area and perimeter are those of the drawing, its SHA-256 is kept."""
    data = drawn(SQUARE)
    site = _site(tmp_path, data, 'ledge = "5 cm"')
    assert solve(site).slab.area == pytest.approx(4.1**2)
    assert site.sources["house.dxf"] == hashlib.sha256(data).hexdigest()
    assert [note.code for note in site.notes] == ["drawing-read"]


@pytest.mark.parametrize(("unit", "metres"), [("in", 0.0254), ("ft", 0.3048), ("ftUS", 1200 / 3937), ("mm", 0.001)])
def test_the_unit_is_asked_for_where_the_drawing_has_none(tmp_path: Path, unit: str, metres: float) -> None:
    """Without a unit the refusal shows the size in each; with one in the site file it counts in that."""
    big = [(x * 1000, y * 1000, b) for x, y, b in SQUARE]
    assert "4000.000 m by 4000.000 m" in _refusal(tmp_path, drawn(big, units=0))
    outline = _site(tmp_path, drawn(big, units=0), f'unit = "{unit}"').outline()
    assert outline.corners[2].east == pytest.approx(4000 * metres)


def test_a_unit_against_that_of_the_drawing_is_followed_with_a_warning(tmp_path: Path) -> None:
    """The site file has the last word about the unit, and the difference is said."""
    site = _site(tmp_path, drawn(units=6), 'unit = "ft"')
    assert site.outline().corners[1].east == pytest.approx(12 * 0.3048)
    assert "drawing-unit" in [note.code for note in site.notes]


def test_several_outlines_are_refused_until_one_is_chosen(tmp_path: Path) -> None:
    """Two outlines are refused, each with its size; a layer or pick chooses, and what lies inside is told."""
    document = blank()
    polyline(document.modelspace(), BAY, "OUT")
    polyline(document.modelspace(), [(x + 1, y + 1, b) for x, y, b in SQUARE], "IN")
    data = saved(document)
    assert "2 closed outlines in it; one lies inside another: a hole?" in _refusal(tmp_path, data)
    assert len(_site(tmp_path, data, 'layer = "IN"').outline().corners) == 4
    site = _site(tmp_path, data, 'pick = "largest"')
    assert len(site.outline().corners) == 6
    assert "drawing-inner" in [note.code for note in site.notes]


def test_gaps_are_listed_and_joined_only_when_asked(tmp_path: Path) -> None:
    """Lines that do not quite meet are refused with their gap; join closes it, with a warning."""
    document = blank()
    for start, end in (((0, 0), (4, 0)), ((4, 0.01), (4, 4)), ((4, 4), (0, 4)), ((0, 4), (0, 0))):
        document.modelspace().add_line(start, end)
    assert "an end stops 0.010 m short of the nearest other one" in _refusal(tmp_path, saved(document))
    site = _site(tmp_path, saved(document), 'join = "2 cm"')
    assert "drawing-joined" in [note.code for note in site.notes]
    assert solve(site).slab.area == pytest.approx(16, abs=0.03)


@pytest.mark.parametrize(
    ("extra", "words"),
    [
        ('layer = "SLABS"', 'did you mean "SLAB"?'),
        ('colour = "red"', "colour"),
        ('unit = "yd"', "yd"),
    ],
)
def test_wrong_keys_get_a_sentence(tmp_path: Path, extra: str, words: str) -> None:
    """A layer that is not there and keys that are none are refused with what was meant."""
    assert words in _refusal(tmp_path, drawn(), extra)


def test_files_that_cannot_be_used_get_a_sentence(tmp_path: Path) -> None:
    """Empty and foreign files, drawings without lines, and a free curve are refused."""
    spline = blank()
    spline.modelspace().add_spline([(0, 0), (1, 1), (2, 0), (0, 0)])
    assert "the drawing is empty" in _refusal(tmp_path, b"")
    assert "no closed outline" in _refusal(tmp_path, saved(blank()))
    assert "SPLINE: a free curve has no radius" in _refusal(tmp_path, saved(spline))
    with pytest.raises(SolveError, match="cross"):
        solve(_site(tmp_path, drawn([(0, 0, 0), (4, 0, 0), (1, 4, 0), (4, 5, 0), (0, 1, 0)])))


def test_paths_out_of_the_folder_and_absent_files_are_refused(tmp_path: Path) -> None:
    """A drawing lies in the folder of the site file or below it."""
    (tmp_path / "site.toml").write_text(SITE.format(extra="").replace("house", "../house"), encoding="utf-8")
    with pytest.raises(InputError, match="folder of the site file"):
        read_site(tmp_path / "site.toml")
    (tmp_path / "site.toml").write_text(SITE.format(extra=""), encoding="utf-8")
    with pytest.raises(InputError, match=r"house\.dxf|no such file"):
        read_site(tmp_path / "site.toml")


def test_two_sides_that_face_alike_leave_the_front_open(tmp_path: Path) -> None:
    """A square that stands on its corner has no front to the south."""
    assert "two sides face that way alike" in _refusal(tmp_path, drawn([(0, -4, 0), (4, 0, 0), (0, 4, 0), (-4, 0, 0)]))


def test_a_circle_has_no_front(tmp_path: Path) -> None:
    """An outline without a straight side cannot be placed by its front."""
    document = blank()
    document.modelspace().add_circle((0, 0), 3)
    assert "no straight side faces that way" in _refusal(tmp_path, saved(document))


def test_geojson_gives_the_same_outline_as_the_drawing(tmp_path: Path) -> None:
    """A polygon, even clockwise, is the outline that a polyline is; without a unit it is refused."""
    ring = [[0, 0], [0, 4], [4, 4], [4, 0], [0, 0]]
    data = json.dumps({"type": "Polygon", "coordinates": [ring]}).encode()
    assert "longitude and latitude" in _refusal(tmp_path, data, name="house.geojson")
    site = _site(tmp_path, data, 'unit = "m"', name="house.geojson")
    assert site.outline() == _site(tmp_path, drawn(SQUARE)).outline()


def test_our_own_drawing_comes_back(tmp_path: Path) -> None:
    """The slab's layer of layout.dxf reads back as the slab, within half a tenth of a millimetre."""
    layout = sample("tape_only_shed")
    unit = f'unit = "{layout.site.unit.name}"'
    data = dxf(layout, plan(layout))
    site = _site(tmp_path, data, f'layer = "SLAB"\n{unit}')
    own = sorted(side.length for side in layout.slab.form.sides)
    assert [side.length for side in sorted(sides_of(site.outline().corners), key=lambda s: s.length)] == [
        pytest.approx(length, abs=5e-5) for length in own
    ]


GRID = (
    '[coordinates]\ncrs = "EPSG:26917"\nvalues = "grid"\ncombined_factor = 0.9997\n[points]\nP1 = [4428000, 500100]\n'
)


def _lonlat(*places: tuple[float, float]) -> bytes:
    """A polygon in longitude and latitude of places on the grid of UTM 17."""
    ring = [list(place) for place in to_lonlat(system("EPSG:26917"), [*places, places[0]])[0]]
    return json.dumps({"type": "Polygon", "coordinates": [ring]}).encode()


def test_longitude_and_latitude_become_lengths_on_the_ground(tmp_path: Path) -> None:
    """By the system and the factor of the site: 40 by 20 m on the grid are larger by 1/0.9997 on the ground."""
    e, n = 500100.0, 4428000.0
    data = _lonlat((e, n), (e + 40, n), (e + 40, n + 20), (e, n + 20))
    (tmp_path / "house.geojson").write_bytes(data)
    text = SITE.format(extra="").replace("house.dxf", "house.geojson").replace("[points]\nP1 = [0, 0]\n", GRID)
    (tmp_path / "site.toml").write_text(text, encoding="utf-8")
    outline = read_site(tmp_path / "site.toml").outline()
    lengths = [side.length for side in sides_of(outline.corners)]
    assert lengths == pytest.approx([40 / 0.9997, 20 / 0.9997] * 2, abs=1e-4)


def test_lengths_taken_for_degrees_are_refused(tmp_path: Path) -> None:
    """Numbers beyond 180 and 90 are no longitude and latitude."""
    ring = [[0, 0], [400, 0], [400, 200], [0, 200], [0, 0]]
    (tmp_path / "house.geojson").write_text(json.dumps({"type": "Polygon", "coordinates": [ring]}), encoding="utf-8")
    text = SITE.format(extra="").replace("house.dxf", "house.geojson").replace("[points]\nP1 = [0, 0]\n", GRID)
    (tmp_path / "site.toml").write_text(text, encoding="utf-8")
    with pytest.raises(InputError, match="beyond 180 and 90"):
        read_site(tmp_path / "site.toml")
