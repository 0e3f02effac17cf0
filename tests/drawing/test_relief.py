"""Heights at the corners, arrows of falls, break lines: what the plan says of ground and floor."""

from __future__ import annotations

from dataclasses import replace

import pytest
from making import PLACED_RECTANGLE, layout_of, sample

from staking import Layout, check
from staking.drawing.height_notes import height_notes
from staking.drawing.marks import LineMark, PathMark, TextMark
from staking.drawing.paper import boxes_meet
from staking.drawing.plan_marks import plan_marks
from staking.drawing.plan_sheet import overlaps
from staking.drawing.relief import fall_marks, ground_marks, height_marks
from staking.sheets.plan import plan_pages

FLOOR = "[floor]\nelevation = 102\n"


def _without(key: str) -> Layout:
    layout = sample("sloping_lot")
    declared = layout.site.declared
    plan = declared.plan.model_copy(update={key: False})
    return replace(layout, site=replace(layout.site, declared=declared.model_copy(update={"plan": plan})))


def test_heights_at_the_corners_are_those_of_the_surfaces() -> None:
    """Floor and ground, as the design surface and the triangles have them; the highest and lowest ground are told."""
    layout = sample("sloping_lot")
    assert layout.design
    assert layout.earth
    texts = [mark.text for mark in height_marks(layout, joined=True)]
    write, wanted = layout.notation.decimal, []
    for at in layout.slab.form.corners:
        top, ground = layout.design.top(at.east, at.north), layout.earth.triangles.height(at)
        assert top is not None
        assert ground is not None
        wanted.append(f"F {write(top, 2)} / G {write(ground, 2)}")
    assert sorted(text.split(" high")[0].split(" low")[0] for text in texts) == sorted(wanted)
    assert [word for text in texts for word in ("high", "low") if word in text] == ["low", "high"]
    assert {"high", "low"} >= {text.split()[-1] for text in texts[:2]}


def test_of_a_level_floor_only_the_ground_is_written() -> None:
    """The word in the middle of the slab says the height of a level floor; without ground there is nothing to add."""
    assert list(height_marks(layout_of(PLACED_RECTANGLE + FLOOR))) == []
    fell = layout_of(PLACED_RECTANGLE + FLOOR + "fall = '1 %'\ntoward = 'front'\n")
    assert [mark.text for mark in height_marks(fell)] == ["F 101.76 low", "F 102.00 high", "F 101.76", "F 102.00"]


def test_no_form_can_be_set_by_a_plan_whose_stakes_are_withheld() -> None:
    """Then the heights of the ground remain, those of the floor at the corners do not."""
    marks = plan_marks(sample("sloping_lot"), stakes=False)
    texts = [mark.text for mark in marks if isinstance(mark, TextMark) and mark.layer == "HEIGHT"]
    assert all(text.startswith("G ") for text in texts)
    assert len(texts) == 4


def test_arrows_point_downhill() -> None:
    """The floor's, the apron's, the ramp's and the drive's: each ends where its surface is lower."""
    layout = sample("sloping_lot")
    assert layout.design
    shafts = [mark for mark in fall_marks(layout) if isinstance(mark, LineMark)][::3]
    assert len(shafts) == 4
    for mark in shafts[:3]:
        up, down = (layout.design.top(at.east, at.north) for at in (mark.start, mark.end))
        assert up is not None
        assert down is not None
        assert up > down
    drive = shafts[3]
    assert drive.start.north > drive.end.north


def test_break_lines_are_drawn() -> None:
    """Top and toe of the bank, cut where the plan ends."""
    lines = [mark for mark in ground_marks(sample("sloping_lot")) if mark.layer == "BREAK-LINE"]
    assert len(lines) == 2
    assert all(isinstance(mark, PathMark) and mark.up is None for mark in lines)


@pytest.mark.parametrize(
    ("key", "gone"), [("contours", {"CONTOUR", "CONTOUR-FIFTH", "BREAK-LINE"}), ("heights", {"HEIGHT", "FALL"})]
)
def test_contours_and_heights_can_be_left_out(key: str, gone: set[str]) -> None:
    """Each by its own key of [plan]; the other stays."""
    every = {"CONTOUR", "CONTOUR-FIFTH", "BREAK-LINE", "HEIGHT", "FALL"}
    shown = {mark.layer for mark in plan_marks(_without(key), stakes=True)}
    assert shown & every == every - gone
    words = [mark.text for mark in plan_marks(_without(key), stakes=True) if isinstance(mark, TextMark)]
    assert any("falls" in text for text in words) is (key == "contours")


def test_the_notes_say_where_heights_are_from() -> None:
    """Interval, ground as measured, high and low corner, the floor's fall, and that no datum is stated."""
    notes = list(height_notes(sample("sloping_lot")))
    assert notes[0].startswith(
        "Contours every 1' 0\", every 5' 0\" heavier, are of the ground as measured, 128 points on"
    )
    assert notes[1] == (
        "Ground at the corners (G): 101 100.23, low; 102 100.40; 103 101.30, high; 104 101.09; 1' 0-13/16\" apart."
    )
    assert notes[2] == 'Floor falls 1/8" per ft (1.04 %).'
    assert notes[3].startswith("No vertical datum is stated")
    assert list(height_notes(layout_of(PLACED_RECTANGLE))) == []


def test_no_contour_runs_through_a_text() -> None:
    """On the sheet every text that a contour would run through has white ground, and no two texts meet."""
    layout = sample("sloping_lot")
    (page,) = plan_pages(layout, check(layout))
    labels = [
        text for text in page.texts if text.text in {"99.0", "100.0", "101.0", "102.0", "103.0", "104.0", "105.0"}
    ]
    assert len(labels) >= 3
    assert overlaps(page) == 0
    others = [text for text in page.texts if text not in labels]
    assert not any(boxes_meet(label.box, other.box) for label in labels for other in others)


def test_the_legend_explains_the_letters() -> None:
    """F and G stand in the legend in words, contours with a line."""
    layout = sample("sloping_lot")
    (page,) = plan_pages(layout, check(layout))
    words = " ".join(text.text for text in page.texts)
    for each in ("floor at a corner", "ground at a", "contours of", "break lines of", "falls this way"):
        assert each in words
