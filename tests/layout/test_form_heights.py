"""A form stands as high as the concrete needs, from its top down to the ground or to its underside."""

from __future__ import annotations

import csv
import io
import tempfile
from pathlib import Path

import pytest
from making import PLACED_RECTANGLE, layout_of, sample

from staking import Layout, read_site, solve
from staking.layout.form_heights import FormHeight, tiers_of

FOOT = 0.3048
FORMS = '[forms]\nboard = "2x6"\n'
EDGE = '[[slab.thickened]]\nname = "edge"\nwidth = 1\ndepth = 1.5\n'
FLOOR = "[floor]\nelevation = 100\n"


def _text(slab: str = "", more: str = "") -> str:
    return PLACED_RECTANGLE.replace("[placement]", f"thickness = 0.5\n{slab}[placement]") + FORMS + more


def _on_ground(slope: float, level: float, text: str) -> Layout:
    """The ground rises along north by the slope, and has its level at the front of the lot."""
    rows = [("name", "north", "east", "elevation")]
    rows += [(f"g{n}{e}", str(n), str(e), str(level + slope * n)) for n in (-5, 130) for e in (-5, 110)]
    out = io.StringIO()
    csv.writer(out).writerows(rows)
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "ground.csv").write_text(out.getvalue(), encoding="utf-8")
        (Path(folder) / "site.toml").write_text(f'{text}[[ground]]\npath = "ground.csv"\n', encoding="utf-8")
        return solve(read_site(Path(folder) / "site.toml"))


def _heights(layout: Layout) -> dict[str, FormHeight]:
    assert layout.takeoff is not None
    return {each.label.split()[0]: each for each in layout.takeoff.heights}


def _feet(layout: Layout) -> dict[str, float]:
    return {side: each.need / FOOT for side, each in _heights(layout).items()}


def test_without_ground_the_thickness_counts() -> None:
    """Half a foot everywhere, a deeper edge or not: its trench holds what is deeper."""
    for slab in ("", EDGE):
        assert _feet(layout_of(_text(slab))) == pytest.approx(dict.fromkeys(("front", "right", "back", "left"), 0.5))


def test_without_a_thickness_nothing_is_told() -> None:
    """No side has a height."""
    assert _heights(layout_of(PLACED_RECTANGLE + FORMS)) == {}


def test_down_to_ground_that_is_higher_than_the_underside() -> None:
    """The edge is 1.5 ft deep, the floor at 100; the ground is at 99.25 everywhere."""
    found = _heights(_on_ground(0.0, 99.25, _text(EDGE, FLOOR)))
    assert [each.need / FOOT for each in found.values()] == pytest.approx([0.75] * 4)
    assert all(each.ground for each in found.values())


def test_down_to_the_underside_where_the_ground_is_lower() -> None:
    """The ground lies at 97, below the edge."""
    found = _heights(_on_ground(0.0, 97.0, _text(EDGE, FLOOR)))
    assert [each.need / FOOT for each in found.values()] == pytest.approx([1.5] * 4)
    assert not any(each.ground for each in found.values())


def test_on_a_slope_the_low_end_tells() -> None:
    """Ground at 98.7 + 0.01 north: front at 40 ft, 99.1; back at 64, 99.34; sides have their worst at the front."""
    found = _heights(_on_ground(0.01, 98.7, _text(EDGE, FLOOR)))
    need = {side: each.need / FOOT for side, each in found.items()}
    assert need == pytest.approx({"front": 0.9, "right": 0.9, "back": 0.66, "left": 0.9}, abs=1e-3)
    assert found["right"].along == pytest.approx(0.0, abs=0.001)
    assert found["left"].along / FOOT == pytest.approx(24.0, abs=0.001)


def test_where_all_is_dug_the_form_goes_down_to_the_underside() -> None:
    """Nothing stands beside the concrete in an excavation."""
    dug = _on_ground(0.0, 99.25, _text(EDGE, f'{FLOOR}[overdig]\nsoil = "B"\ndepth = 2\n'))
    assert list(_feet(dug).values()) == pytest.approx([1.5] * 4)


def test_ground_above_the_floor_needs_no_form() -> None:
    """The earth itself holds it."""
    assert list(_feet(_on_ground(0.0, 101.0, _text(EDGE, FLOOR))).values()) == pytest.approx([0.0] * 4)


def test_edges_of_parts_have_their_own() -> None:
    """Apron and ramp of a sample are as thick as the slab, their edges not thickened."""
    takeoff = sample("sloping_lot").takeoff
    assert takeoff is not None
    parts = [each.need / FOOT for each in takeoff.heights if each.label.startswith(("apron", "ramp"))]
    assert parts == pytest.approx([5 / 12] * 6)


def test_a_rounded_side_has_one_height() -> None:
    """Its chords count as one side."""
    text = (Path(__file__).parents[2] / "sample_sites" / "triangle_lot" / "site.toml").read_text(encoding="utf-8")
    layout = layout_of(text + FORMS)
    assert layout.takeoff is not None
    assert len({each.label for each in layout.takeoff.heights}) == len(layout.takeoff.heights)
    thickness = layout.slab.thickness
    sides = [each.need for each in layout.takeoff.heights if "side" in each.label]
    assert sides == pytest.approx([thickness] * len(layout.sides))


@pytest.mark.parametrize(("need", "boards"), [(0.3, 1), (0.5, 2), (0.9, 2), (9.0, 3)])
def test_as_many_boards_as_are_needed_and_no_more_than_declared(need: float, boards: int) -> None:
    """Boards of 5-1/2 in one above another: one at the least, three as declared at the most."""
    forms = layout_of(_text(more="tiers = 3\n")).site.declared.forms
    assert forms is not None
    assert tiers_of(forms, FormHeight("front", need * FOOT, 0.0, ground=False)) == pytest.approx(
        (5.5 * FOOT / 12,) * boards
    )
