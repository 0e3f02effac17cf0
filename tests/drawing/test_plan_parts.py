"""What stands round the drawing."""

from __future__ import annotations

import pytest
from making import PLACED_RECTANGLE, layout_of

from staking.drawing.paper import PaperPolygon
from staking.drawing.plan_flow import Area
from staking.drawing.plan_parts import NOT_A_SURVEY, ROLES, border, head, sheet_number, shortened, signatures, strip
from staking.drawing.widths import text_width

LAYOUT = layout_of(PLACED_RECTANGLE)
FEET = 72 / (20 * 0.3048)  # points a metre at 1 in = 20 ft


@pytest.mark.parametrize("width", [90.0, 20.0, 4.0])
def test_a_text_is_shortened_to_its_room(width: float) -> None:
    """What is left is a beginning of it with an ellipsis, at the least the ellipsis."""
    kept = shortened("a name that is rather long", width, 8.0)
    assert text_width(kept, 8.0) <= width or len(kept) == 1
    assert shortened("short", 90.0, 8.0) == "short"


def test_the_bar_measures_what_it_says() -> None:
    """Each step of the bar is as long as its figure at the stated scale."""
    found = strip(LAYOUT, Area(0, 100, 500, 40), "1 in = 20 ft", FEET)
    boxes = [shape for shape in found.shapes if isinstance(shape, PaperPolygon) and len(shape.corners) == 4]
    (first, *_) = [box for box in boxes if box.fill == "#000000"]
    figures = [text.text for text in found.texts]
    step = float(figures[figures.index("0") + 1])
    assert first.corners[1].x - first.corners[0].x == pytest.approx(step * 0.3048 * FEET)


def test_the_strip_says_scale_north_and_what_it_is_not() -> None:
    """A local site has an assumed north."""
    texts = [text.text for text in strip(LAYOUT, Area(0, 100, 500, 40), "1 in = 20 ft", FEET).texts]
    assert {"Scale 1 in = 20 ft", "N", "assumed", NOT_A_SURVEY} <= set(texts)


def test_there_is_a_box_for_everyone_who_signs() -> None:
    """Contractor, surveyor and inspector, with name and date."""
    texts = [text.text for text in signatures(Area(0, 50, 500, 42)).texts]
    assert set(ROLES) <= set(texts)
    assert texts.count("date") == 3


def test_a_warning_makes_the_head_higher() -> None:
    """It stands above the title."""
    plain, warned = (head(LAYOUT, band, 500.0) for band in ("", "STAKE FILES WITHHELD: setback-crossed"))
    assert warned.height > plain.height
    assert warned.texts[0].text.startswith("STAKE FILES WITHHELD")
    assert warned.texts[0].at.y > warned.texts[1].at.y


def test_the_sheet_number_stays_in_its_corner() -> None:
    """Even with a revision of two hundred letters."""
    long = layout_of(PLACED_RECTANGLE.replace('unit = "ft"', f'unit = "ft"\nrevision = "{"R" * 200}"'))
    texts = sheet_number(long, 500.0, 1, 2).texts
    assert texts[0].text == "sheet 1 of 2"
    assert min(text.box.x - text.box.half_length for text in texts) > 400


def test_the_foot_stays_on_its_line() -> None:
    """A long foot is shortened."""
    (foot,) = border((300.0, 400.0), "a long foot " * 30).texts
    assert foot.box.x + foot.box.half_length < 280
