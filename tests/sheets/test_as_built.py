"""What the as-built report says: the answer first, then figures, then how it was measured and how sure that is."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from making import layout_of, sample
from measuring import INCH, as_designed, carried, off, turned

from staking import HowMeasured, Layout, MeasuredPoint, compare
from staking.field.compared import Allowed, Comparison, LevelsSet, RaiseOrLower
from staking.field.design_points import design_points
from staking.sheets.as_built import SIGNED, as_built_sheet, overall
from staking.sheets.as_built_tables import MOST
from staking.sheets.page import Block, Bullets, Cautions, Heading, Paragraph, Picture, Sheet, Signatures, Table, Verdict
from staking.survey.points import Point, Vector

HOW = HowMeasured("as_set.csv", "3fa9" * 16, "total station", "No. 7", "the crew", "2026-05-06", 0.001, 0.001)


@pytest.fixture(scope="module")
def shed() -> Layout:
    """A rectangle of 40'-3 by 30'-3."""
    return sample("tape_only_shed")


def _moved(layout: Layout, east: float, *names: str, how: HowMeasured = HOW) -> Comparison:
    """All corners measured, those named so far east of their place [m]."""
    points = [off(each, east) if each.name in names else each for each in as_designed(layout)]
    return compare(layout, points, how)


def _texts(sheet: Sheet) -> str:
    """All running text of a sheet."""
    found: list[str] = []
    for block in sheet.blocks:
        match block:
            case Paragraph(text=text) | Heading(text=text):
                found.append(text)
            case Bullets(items=items):
                found.extend(items)
            case _:
                pass
    return "\n".join(found)


def _under(sheet: Sheet, heading: str) -> list[Block]:
    """The blocks below a heading."""
    at = sheet.blocks.index(Heading(heading))
    below = sheet.blocks[at + 1 :]
    return list(below[: next((i for i, block in enumerate(below) if isinstance(block, Heading)), len(below))])


def _table(sheet: Sheet, heading: str) -> Table:
    (found,) = [block for block in _under(sheet, heading) if isinstance(block, Table)]
    return found


def _large(found: Comparison) -> str:
    first = as_built_sheet(found).blocks[0]
    assert isinstance(first, Verdict)
    return first.text


def test_the_answer_comes_first_in_large_words(shed: Layout) -> None:
    """How far out, where, and what to do; nothing is ever approved."""
    assert _large(_moved(shed, 1.125 * INCH, "103")) == "OUT by 1-1/8 in at 103: settle it before concrete"
    assert _large(_moved(shed, 0.0)) == "Within what is allowed"


def test_what_to_do_first_stands_in_the_answer(shed: Layout) -> None:
    """The remedy of what is grave, beside the sentences of the verdict."""
    found = _moved(shed, 0.2, "103")
    first = as_built_sheet(found).blocks[0]
    assert isinstance(first, Verdict)
    assert [word for word, _ in first.lines][-1] == "do first"
    assert first.lines[-1][1] == "; ".join(found.findings[0].remedy.splitlines())
    assert len(first.lines) == len(found.verdict) + 1


def test_points_measured_wrongly_are_named_where_it_says_what_to_do() -> None:
    """The answer is read without the finding it comes from: what is to be measured again must stand in it."""
    layout = sample("ell_house_on_grid")
    wrong = {"102": (0.3, -0.1), "105": (-0.1, -0.4)}
    found = compare(layout, [off(each, *wrong.get(each.name, (0, 0))) for each in as_designed(layout)], HOW)
    sheet = as_built_sheet(found)
    assert isinstance(sheet.blocks[0], Verdict)
    do = " ".join(text for word, text in sheet.blocks[0].lines if word == "do first")
    assert "measure 102 again" in do
    assert "measure 105 again" in do
    assert "102, 105 do not belong with the others and took no part in shift and turn." in _texts(sheet)


def test_a_corner_that_was_not_measured_is_in_the_answer(shed: Layout) -> None:
    """Three of four corners in order are no slab in order."""
    found = compare(shed, as_designed(shed, "101", "102", "103"), HOW)
    assert _large(found) == "Within what is allowed, but 1 of 4 corners not measured"
    assert "Not measured, so nothing is said about it: 104 (corner 4 (back-left))." in _texts(as_built_sheet(found))


def test_a_height_alone_can_be_out() -> None:
    """A rod set at a wrong height, or a form that is too high."""
    layout = sample("sloping_lot")
    found = compare(layout, [off(p, up=0.1 * (p.name == "102")) for p in as_designed(layout)], HOW)
    assert _large(found) == "OUT: 102 3-15/16 in high: settle it before concrete"
    rows = _table(as_built_sheet(found), "Corners, measured less computed").rows
    assert [row[-1] for row in rows] == ["within", "within; height OUT", "within", "within"]
    assert [row[4] for row in rows] == ["0 in", "+3-15/16 in", "0 in", "0 in"]


LONG = """
[site]
name = "long"
unit = "ft"
[points]
P = [0, 0]
[slab]
width = "400'"
depth = "120'"
[placement]
kind = "at_point"
corner = 1
at = "P"
side = "front"
bearing = 90
[[stakes]]
kind = "corners"
[[stakes]]
kind = "along"
spacing = "2'"
"""


def test_without_a_tolerance_nothing_is_within() -> None:
    """The handbook's figure ends at 100 ft: corners of longer sides are not judged, whatever their diagonals are."""
    found = _moved(layout_of(LONG), 0.0)
    assert overall(found) == "not judged"
    assert _large(found) == "Not judged: nothing says what is allowed"


def test_doubt_about_the_measuring_is_no_within(shed: Layout) -> None:
    """Where only a last sentence says out, nothing was found out of tolerance, but it is no pass."""
    found = _moved(shed, 0.0)
    doubtful = replace(found, verdict=(*found.verdict[:-1], replace(found.verdict[-1], answer="out")))
    assert _large(doubtful) == "IN DOUBT: settle it before concrete"


def test_no_sheet_approves_anything(shed: Layout) -> None:
    """The word stands in the cautions alone, which say that nothing does."""
    sheet = as_built_sheet(_moved(shed, 0.0))
    assert "approv" not in _texts(sheet).lower()
    assert any(isinstance(block, Cautions) for block in sheet.blocks)
    assert Signatures(SIGNED) in sheet.blocks


def test_who_measured_what_is_in_the_head(shed: Layout) -> None:
    """The list with its fingerprint, who, when; what nobody said is not stated."""
    facts = dict(as_built_sheet(_moved(shed, 0.0)).facts)
    assert facts["Measured list"] == "as_set.csv, SHA-256 begins 3fa93fa93fa9"
    assert facts["Measured by"] == "the crew, 2026-05-06"
    bare = dict(as_built_sheet(_moved(shed, 0.0, how=HowMeasured("a.csv", "0" * 64))).facts)
    assert bare["Measured by"] == "not stated"
    half = dict(as_built_sheet(_moved(shed, 0.0, how=HowMeasured("a.csv", "0" * 64, by="Kim"))).facts)
    assert half["Measured by"] == "Kim, not stated when"


def test_corners_are_told_by_wall_and_by_north_and_east(shed: Layout) -> None:
    """The row of a corner half an inch east of its place on a slab that is turned a little."""
    row = _table(as_built_sheet(_moved(shed, INCH / 2, "103")), "Corners, measured less computed").rows[2]
    assert row == ("103", "on back, 1/2 in outside right", "0 in", "+1/2 in", "1/2 in", "1/4 in", "OUT")


def test_a_point_known_by_its_place_says_as_what_it_was_measured(shed: Layout) -> None:
    """A name that the layout does not know stands beside the one it was taken for."""
    points = [replace(each, name="X7") if each.name == "102" else each for each in as_designed(shed)]
    rows = _table(as_built_sheet(compare(shed, points, HOW)), "Corners, measured less computed").rows
    assert [row[0] for row in rows] == ["101", "102 (as X7)", "103", "104"]


def test_every_figure_that_judges_has_its_source(shed: Layout) -> None:
    """Below the tables of corners and lengths stands what is allowed, and who says so."""
    sheet = as_built_sheet(_moved(shed, 0.0))
    for heading in ("Corners, measured less computed", "Sides, diagonals and ties"):
        words = " ".join(block.text for block in _under(sheet, heading) if isinstance(block, Paragraph))
        assert "1/4 in" in words
        assert "Ballast, Handbook of Construction Tolerances" in words


def test_placement_is_told_apart_from_shape() -> None:
    """A slab turned a tenth of a degree about its middle is in its place and of its shape."""
    layout = sample("tape_only_shed")
    middle = layout.slab.form.shape.centroid
    points = carried(as_designed(layout), turned(Point(middle.x, middle.y), 0.1))
    sheet = as_built_sheet(compare(layout, points, HOW))
    words = _texts(sheet)
    far = 50.35 / 2 * 12 * math.radians(0.1)  # half the diagonal [in] times the turn
    assert far == pytest.approx(0.527, abs=0.001)
    assert "stands in its place. It is turned 0°06'00\" clockwise, which is 1/2 in at the corner farthest" in words
    assert "out of shape by 0 in" in words
    assert "The larger part is placement" in words


def test_sides_and_diagonals_by_the_measured_points(shed: Layout) -> None:
    """A back corner half an inch east makes the back side longer, one diagonal longer, and leaves the front alone."""
    rows = _table(as_built_sheet(_moved(shed, INCH / 2, "103")), "Sides, diagonals and ties").rows
    found = {row[0] if row[0] != "diagonal" else f"{row[1]}-{row[2]}": row[5:8:2] for row in rows if row[0] != "tie"}
    assert found["front side 1-2"] == ("0 in", "within")
    assert found["back side 3-4"] == ("+1/2 in", "OUT")
    assert found["101-103"][0].startswith("+")
    assert found["102-104"] == ("0 in", "within")


def test_margins_now_stand_beside_those_drawn(shed: Layout) -> None:
    """Room that is less by what the slab moved; not known where a corner is missing."""
    rows = _table(as_built_sheet(_moved(shed, INCH, *shed.corner_names)), "Room to every line and area, now").rows
    assert all(row[-1] == "clears" for row in rows)
    sheet = as_built_sheet(compare(shed, as_designed(shed, "101", "102"), HOW))
    assert {row[3] for row in _table(sheet, "Room to every line and area, now").rows} == {"not known"}


def test_two_corners_tell_nothing_of_the_shape(shed: Layout) -> None:
    """They tell a shift, a turn and one distance."""
    words = _texts(as_built_sheet(compare(shed, as_designed(shed, "101", "103"), HOW)))
    assert "Two corners tell of the shape no more than the distance between them." in words


def test_nothing_measured_is_no_table(shed: Layout) -> None:
    """A sheet of a list without a corner says so, and draws the design."""
    sheet = as_built_sheet(compare(shed, as_designed(shed, "P1"), HOW))
    assert "No corner of the slab was measured." in _texts(sheet)
    assert any(isinstance(block, Picture) for block in sheet.blocks)


def test_long_lists_stay_a_sane_number_of_rows() -> None:
    """Of 520 marks the table shows a page: what is out first, then what is farthest off; the rest is in the CSV."""
    layout = layout_of(LONG.replace('width = "400\'"', 'width = "99\'"').replace("120'", "90'").replace("2'", "0.8'"))
    places = as_designed(layout, *(each.name for each in design_points(layout)))
    points = [off(each, INCH if at == 231 else 0.001 * (at % 5)) for at, each in enumerate(places)]
    assert len(points) > 400
    table = _table(as_built_sheet(compare(layout, points, HOW)), "Other stakes and marks")
    assert len(table.rows) == MOST
    assert [row[0] for row in table.rows if row[-1] == "OUT"] == [points[231].name]
    assert {row[-3] for row in table.rows} == {"1 in", "3/16 in"}


def test_strangers_are_named(shed: Layout) -> None:
    """What is no point of the design is neither lost nor held against anything."""
    stranger = MeasuredPoint("MH3", off(as_designed(shed)[0], 9.0).at)
    sheet = as_built_sheet(compare(shed, [*as_designed(shed), stranger], HOW))
    assert "MH3. They are in as_built.csv" in _texts(sheet)


def test_heights_of_the_form_say_what_to_raise(shed: Layout) -> None:
    """Marks that lie low are raised, those that lie high are lowered, the rest is left."""
    at, allowed = shed.slab.form.corners, Allowed(INCH / 4, "by hand")
    marks = tuple(
        RaiseOrLower(name, "top of form", place, up, 0.0, -up, allowed, "out" if abs(up) > INCH / 4 else "within")
        for name, place, up in zip(("a", "b", "c"), at, (0.5 * INCH, -0.375 * INCH, 0.0), strict=False)
    )
    levels = LevelsSet(
        marks,
        0.125 * INCH / 3,
        Vector(0.001, 0.0),
        "a",
        "b",
        0.875 * INCH,
        ((3.048, INCH, "a", "b"),),
        flat=((allowed, "out"),),
    )
    sheet = as_built_sheet(replace(_moved(shed, 0.0), levels=levels))
    rows = _table(sheet, "Heights of the form").rows
    assert [row[3] for row in rows] == ["lower 1/2 in", "raise 3/8 in", "leave"]
    assert [row[5] for row in rows] == ["OUT", "OUT", "within"]
    assert "highest a (+0.042), lowest b (-0.031), 7/8" in _texts(sheet)
    assert 'level over 10\' 0": 1" (0.083 ft) between a and b, OUT' in _texts(sheet)
    assert _large(replace(_moved(shed, 0.0), levels=levels)) == "OUT: a 1/2 in high: settle it before concrete"
