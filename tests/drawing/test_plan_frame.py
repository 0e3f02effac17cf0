"""How the page is divided."""

from __future__ import annotations

import pytest

from staking.drawing import plan_frame
from staking.drawing.plan_flow import Area
from staking.drawing.plan_frame import EDGE, LABELS, Frame, divided
from staking.drawing.plan_paper import Scale
from staking.drawing.plan_text import LEAST, Block

LETTER = (612.0, 792.0)
SCALES = tuple(Scale(f"1 in = {n} ft", 72 / (n * 0.3048)) for n in (10, 20, 30, 40, 50, 100, 200))
FEW = tuple(Block(title, tuple((f"row {n}", "12' 6\"") for n in range(8))) for title in ("one", "two", "three"))
MANY = tuple(Block(f"table {n}", tuple((f"row {n} {k}", "12' 6\"") for k in range(30)), first=n < 3) for n in range(12))
LOT = (0.0, 0.0, 30.0, 45.0)


def frame(blocks: tuple[Block, ...], extent: tuple[float, float, float, float] = LOT, *, upright: bool = True) -> Frame:
    """One paper, a head of 60 points."""
    size = LETTER if upright else LETTER[::-1]
    return divided(blocks, SCALES, extent, [size], [60.0])


def apart(one: Area, other: Area) -> bool:
    """Whether two areas share no room."""
    return (
        one.x + one.width <= other.x
        or other.x + other.width <= one.x
        or one.top - one.height >= other.top
        or other.top - other.height >= one.top
    )


@pytest.mark.parametrize("upright", [True, False])
def test_areas_of_a_page_do_not_meet(upright: bool) -> None:
    """Drawing, strip and boxes to sign lie apart, inside the frame, and no table reaches into them."""
    found = frame(FEW, upright=upright)
    areas = (found.drawing, found.strip, found.sign)
    assert all(apart(a, b) for a in areas for b in areas if a is not b)
    assert all(area.x >= EDGE and area.top - area.height >= EDGE for area in areas)
    spots = [Area(text.at.x, text.at.y, 0, 0) for put in found.rows for text in put.moved().texts]
    assert all(apart(spot, area) for spot in spots for area in areas)


def test_the_ground_fits_into_the_drawing() -> None:
    """With the room that the outermost texts need."""
    found = frame(FEW)
    assert 30 * found.scale.points <= found.drawing.width - 2 * LABELS
    assert 45 * found.scale.points <= found.drawing.height - 2 * LABELS


def test_the_scale_is_the_largest_usual_one() -> None:
    """The next larger one would not fit."""
    found = frame(FEW)
    larger = SCALES[SCALES.index(found.scale) - 1]
    assert (
        45 * larger.points > found.drawing.height - 2 * LABELS or 30 * larger.points > found.drawing.width - 2 * LABELS
    )


def test_a_site_too_large_for_any_usual_scale_is_still_drawn() -> None:
    """It says that its scale is no usual one."""
    assert frame(FEW, (0.0, 0.0, 9e5, 9e5)).scale.words == "not to a usual scale"


@pytest.mark.parametrize("upright", [True, False])
@pytest.mark.parametrize("count", [1, 3, 5, 7, 9])
@pytest.mark.parametrize("rows", [2, 9, 24])
def test_no_way_that_is_not_tried_is_cheaper(
    upright: bool, count: int, rows: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The division found is the one that trying every way would find, and costs no less than was foretold."""
    blocks = tuple(Block(f"table {n}", tuple((f"row {n} {k}", "12'-6") for k in range(rows))) for n in range(count))
    found = divided(blocks, SCALES, LOT, [LETTER, LETTER[::-1]] if upright else [LETTER[::-1], LETTER], [60.0, 60.0])

    def every(ways: list[plan_frame._Way]) -> Frame | None:
        tried = [(way, way.tried()) for way in ways]
        assert all(way.least <= it.cost for way, it in tried if it is not None)
        return min((it for _, it in tried if it is not None), key=lambda it: it.cost, default=None)

    monkeypatch.setattr(plan_frame, "_cheapest", every)
    again = divided(blocks, SCALES, LOT, [LETTER, LETTER[::-1]] if upright else [LETTER[::-1], LETTER], [60.0, 60.0])
    assert (found.size, found.scale, found.cost, found.drawing) == (again.size, again.scale, again.cost, again.drawing)


def test_few_tables_stay_on_one_page() -> None:
    """Nothing is put off, and the type is as large as it can be."""
    found = frame(FEW)
    assert found.later == ()
    assert {text.size for put in found.rows for text in put.moved().texts} == {7.5, 8.3}


def test_many_tables_are_set_smaller_and_then_put_off() -> None:
    """What belongs on the first page stays there; no type is below the least."""
    found = frame(MANY)
    assert found.later
    assert min(text.size for put in found.rows for text in put.moved().texts) >= LEAST
    assert {"table 0", "table 2"} <= {text.text for put in found.rows for text in put.moved().texts}


def test_of_two_papers_the_one_that_shows_more_is_taken() -> None:
    """A wide site lies on wide paper."""
    wide = divided(FEW, SCALES, (0.0, 0.0, 70.0, 20.0), [LETTER, LETTER[::-1]], [60.0, 60.0])
    tall = divided(FEW, SCALES, (0.0, 0.0, 10.0, 90.0), [LETTER, LETTER[::-1]], [60.0, 60.0])
    assert wide.drawing.width > wide.drawing.height
    assert tall.scale.points >= wide.scale.points * 0.5
