"""What the tables beside the plan say."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import pytest
from making import PLACED_RECTANGLE, layout_of, sample

from staking.drawing.marks import TextMark
from staking.drawing.plan_marks import plan_marks
from staking.drawing.plan_tables import PlanWords, blocks_of, notes_block
from staking.drawing.plan_text import Block, Sample
from staking.layout.computed import Layout
from staking.survey.paths import Arc

WORDS = PlanWords((("Job", "square lot"), ("Owner", "A. Nobody")), (), ("Caution.",), "", "")
PLAN = """
[plan]
street = "Front Street, 60 ft"
floor_elevation = 104.5
impervious = "40 %"
drainage = "to the street"
none = ["easements"]
notes = ["Garage 6 in lower."]
[[revisions]]
mark = "B"
date = 2026-05-01
what = "moved"
[[features]]
kind = "drive"
name = "drive"
outline = ["A", "V", "W"]
"""
PLANNED = PLACED_RECTANGLE.replace("[lot]", "V = [0, 20]\nW = [20, 0]\n[lot]", 1) + PLAN


def tables(layout: Layout, *, stakes: bool = True) -> dict[str, Block]:
    """The blocks by their titles."""
    return {it.title: it for it in blocks_of(layout, plan_marks(layout, stakes=stakes), WORDS, stakes=stakes)}


def plain(block: Block) -> list[tuple[str, ...]]:
    """The rows without pieces of line and bullets."""
    return [tuple(cell for cell in row if isinstance(cell, str) and cell != "•") for row in block.rows]


def test_facts_leave_out_what_is_empty() -> None:
    """The job is in the title; street and floor are added, zoning is not known and not there."""
    facts = plain(tables(layout_of(PLANNED))[""])
    assert ("STREET", "Front Street, 60 ft") in facts
    assert ("FLOOR", "104.50") in facts
    assert ("LOT LINES", "by a surveyor") in facts
    assert not {"JOB", "ZONING"} & {label for label, _ in facts}


def test_room_has_distance_figure_and_margin() -> None:
    """One row a lot line: what it is, what is required, what is to spare."""
    rows = plain(tables(layout_of(PLACED_RECTANGLE))["Room from the slab, least distance"])
    assert rows[0] == ("front setback", "40' 0\"", "25' 0\"", "15' 0\"")


def test_a_crossed_line_is_said_in_words() -> None:
    """A minus alone is easily overlooked."""
    rows = plain(
        tables(layout_of(PLACED_RECTANGLE.replace("distance = 40", "distance = 20")))[
            "Room from the slab, least distance"
        ]
    )
    assert rows[0] == ("TOO NEAR: front setback", "20' 0\"", "25' 0\"", "-5' 0\"")


def test_a_line_without_a_figure_says_so() -> None:
    """No figure is not a figure of 0."""
    rows = plain(tables(layout_of(PLACED_RECTANGLE.replace("rear = 20\n", "")))["Room from the slab, least distance"])
    assert rows[2][2:] == ("no figure", "-")


def test_curves_have_all_five_figures() -> None:
    """Radius, arc, delta, chord and its bearing, as plats list them."""
    layout = layout_of(PLACED_RECTANGLE)
    assert layout.lot is not None
    sides = list(layout.lot.sides)
    sides[2] = replace(sides[2], piece=Arc.through_bulge(sides[2].line.start, sides[2].line.end, 1.0))
    block = tables(replace(layout, lot=replace(layout.lot, sides=tuple(sides))))["Curves of the lot"]
    assert block.head == ("curve", "C1")
    assert [row[1] for row in plain(block)] == ["50.00'", "157.08'", "180°00'00\"", "100.00'", "N 90°00'00\" W"]


def test_notes_hold_areas_and_what_the_file_says() -> None:
    """Covered ground is computed: slab 864 and half of 20 by 20 of drive, of 12000 sq ft."""
    notes = " ".join(row[0] for row in plain(tables(layout_of(PLANNED))["Notes"]))
    assert "cover 1064.0 sq ft, 8.9 % of the lot. Limit: 40 %." in notes
    assert all(text in notes for text in ("to the street", "as stated by the maker of this sheet: easements", "Garage"))


def test_points_have_coordinates() -> None:
    """Lot corners and corners of the slab; those of the slab only while stakes are given out."""
    known, withheld = (plain(tables(layout_of(PLANNED), stakes=stakes)["Points"]) for stakes in (True, False))
    assert ("C", "120.0000", "100.0000") in withheld
    assert len(known) - len(withheld) == 4


def test_elevations_have_a_column_where_one_is_known() -> None:
    """A point without one leaves it empty."""
    text = PLACED_RECTANGLE.replace("A = [0, 0]", "A = [0, 0, 101.25]")
    block = tables(layout_of(text))["Points"]
    assert block.head[-1] == "elevation"
    assert [row[3] for row in plain(block)[:2]] == ["101.25", ""]


def test_the_legend_shows_what_is_drawn_and_nothing_else() -> None:
    """No fence, no line for fences; each entry has its sample."""
    block = tables(layout_of(PLACED_RECTANGLE))["Legend"]
    words = [cell for row in plain(block) for cell in row]
    assert "lot lines" in words
    assert "fences" not in words
    assert sum(isinstance(cell, Sample) for row in block.rows for cell in row) == len(words)


def test_revisions_are_listed() -> None:
    """Mark, date and what changed."""
    assert plain(tables(layout_of(PLANNED))["Revisions"]) == [("B", "2026-05-01", "moved")]


@pytest.mark.parametrize(("notes", "unplaced", "rows"), [(("a", "b"), (), 2), ((), ("c",), 1), ((), (), 0)])
def test_notes_of_the_drawing_are_numbered(notes: tuple[str, ...], unplaced: tuple[str, ...], rows: int) -> None:
    """Numbers in brackets as on the drawing; what was not placed is said too."""
    assert len(notes_block(notes, unplaced).rows) == rows
    assert not notes or notes_block(notes, unplaced).rows[0] == ("[1]", "a")


def test_the_rule_for_names_left_out_is_a_note() -> None:
    """It stands below what was moved off the drawing, and alone where nothing was."""
    assert notes_block(("a",), (), "Every tenth corner is named.").rows[-1] == ("-", "Every tenth corner is named.")
    assert len(notes_block((), (), "Every tenth corner is named.").rows) == 1


def stairs(steps: int) -> Layout:
    """A slab on the lot of the rectangle, one edge of which goes down in equal steps of 1 ft."""
    down = [place for n in range(1, steps + 1) for place in ((steps - n + 1, n), (steps - n, n))]
    corners = ", ".join(f"[{right}, {away}]" for right, away in [(0, 0), (steps, 0), *down])
    slab = f'[slab]\nkind = "traced"\nvertices = [{corners}]\n'
    return layout_of(re.sub(r"\[slab\].*?(?=\n\[)", slab, PLACED_RECTANGLE, flags=re.DOTALL))


@pytest.mark.parametrize("steps", [4, 11, 12, 20])
def test_lengths_of_many_sides_stand_in_a_table(steps: int) -> None:
    """Up to 24 sides have their lengths on the drawing; those of more are listed, equal ones in one row."""
    layout = stairs(steps)
    found, drawn = tables(layout), [mark.text for mark in plan_marks(layout, stakes=True) if isinstance(mark, TextMark)]
    each = layout.notation.length(layout.sides[1].length)
    assert (each in drawn, "Sides of the slab" in found) == (steps <= 11, steps > 11)
    if steps > 11:
        assert (
            plain(found["Sides of the slab"])[1][1]
            == f"{2 * steps} sides of {layout.notation.both(layout.sides[1].length)}"
        )


def test_lines_with_a_head_have_it_in_the_legend() -> None:
    """On a copier colour is gone: only the head tells a fall from a dimension or the edge of a part."""
    block = tables(sample("flag_lot"))["Legend"]
    cells = [cell for row in block.rows for cell in row]
    lines = {words: len(drawn.shapes) for drawn, words in pairwise(cells) if isinstance(drawn, Sample)}
    assert lines["falls this way"] == lines["way water runs off"] == 3
    assert lines["dimensions"] == lines["parts of the slab"] == 1
