"""The sheet as a page: one offline file, well-formed, escaped, usable with a thumb."""

from __future__ import annotations

import re

import pytest
from lxml import etree

from staking.drawing.marks import Drawing, PathMark, SymbolMark
from staking.exports.html import html
from staking.sheets.page import (
    Bullets,
    Cautions,
    Heading,
    Paragraph,
    Picture,
    Sheet,
    Signatures,
    Step,
    Table,
)
from staking.survey.points import Point

XHTML = "{http://www.w3.org/1999/xhtml}"
EVIL = '<script>alert("x")</script>'
OUTLINE = PathMark("SLAB", (Point(0, 0), Point(9, 0), Point(9, 6), Point(0, 6)), closed=True)
PICTURE = Picture(Drawing((OUTLINE, SymbolMark("CORNER", Point(0, 0), EVIL)), f"slab {EVIL}"), "figure 1")
TABLE = Table(("stake", "tie", "found"), (("101", "12'-3⅛\"", ""), (EVIL, "8'-0\"", "")), to_fill=frozenset({2}))
SHEET = Sheet(
    f"Tape sheet {EVIL}",
    (("Job", EVIL), ("Revision", "B")),
    (
        Cautions(("call before you dig", EVIL)),
        Heading(EVIL),
        Paragraph("level & plumb", strong=True),
        Bullets(("tape", EVIL)),
        PICTURE,
        Step(1, f"set {EVIL}", ("measure", EVIL), TABLE, PICTURE),
        Step(2, "no picture", ("look",)),
        TABLE,
        Signatures(("Set by",)),
    ),
    "not a boundary survey",
    "stop overruled",
)


def _parsed(sheet: Sheet = SHEET) -> etree._Element:
    return etree.fromstring(html(sheet).encode())


def _all(tag: str, sheet: Sheet = SHEET) -> list[etree._Element]:
    return list(_parsed(sheet).iter(f"{XHTML}{tag}"))


def test_page_is_well_formed() -> None:
    """The page is XML as well as HTML, with its language and a width for telephones."""
    page = _parsed()
    assert page.get("lang") == "en"
    assert any(meta.get("name") == "viewport" for meta in page.iter(f"{XHTML}meta"))


def test_names_cannot_become_markup() -> None:
    """A script in a name stays a text, wherever the name stands."""
    assert _all("script") == []
    assert "<script" not in html(SHEET)
    assert "".join(_parsed().itertext()).count(EVIL) >= 10


def test_page_needs_nothing_from_elsewhere() -> None:
    """No address is named but those of the XML namespaces, and the page forbids itself to load any."""
    addresses = set(re.findall(r"https?://[^\"' )]+", html(SHEET)))
    assert addresses == {"http://www.w3.org/1999/xhtml", "http://www.w3.org/2000/svg"}
    assert "default-src 'none'" in html(SHEET)
    assert not re.search(r"url\((?!data:)", html(SHEET))


def test_every_box_is_a_field_with_a_name() -> None:
    """Empty cells to fill are inputs that a screen reader can name: column and row."""
    names = [field.get("aria-label") for field in _all("input") if field.get("type") == "text"]
    assert names.count("found: 101") == 2
    assert f"found: {EVIL}" in names


def test_filled_cell_keeps_its_figure() -> None:
    """A cell of a column to fill that holds a text is printed, not asked for."""
    table = Table(("stake", "found"), (("101", "12'-3\""),), to_fill=frozenset({1}))
    fields = _all("input", Sheet("t", (), (table,), ""))
    assert fields == []


def test_every_step_has_a_box_to_tick() -> None:
    """One large checkbox a step, named by its number."""
    boxes = [field.get("aria-label") for field in _all("input") if field.get("type") == "checkbox"]
    assert boxes == ["step 1 done", "step 2 done"]


def test_tables_say_what_heads_what() -> None:
    """Heads have a scope: columns above, the first cell of each row for its row."""
    assert {head.get("scope") for head in _all("th")} == {"col", "row"}
    assert len(_all("table")) == 2


def test_pictures_are_inside_the_page() -> None:
    """Both pictures are drawn in place, each with its title."""
    titles = [title.text for title in _parsed().iter("{http://www.w3.org/2000/svg}title")]
    assert titles == [f"slab {EVIL}"] * 2


def test_wide_table_becomes_cards_on_a_telephone() -> None:
    """Seven columns do not fit a telephone: their rows are stacked; three short ones stay a table."""
    wide = Table(tuple(f"column {n}" for n in range(7)), (tuple("1234567"),))
    kinds = [table.get("class") for table in _all("table", Sheet("t", (), (wide, TABLE), ""))]
    assert kinds[0] == "stack"
    assert _all("table", Sheet("t", (), (Table(("a", "b"), (("1", "2"),)),), ""))[0].get("class") == "plain"


def test_short_cells_of_a_card_stand_side_by_side() -> None:
    """A cell with a long text, or of a column that has one, takes a line of its own; figures and boxes share theirs."""
    heads = ("stake", "what it is", "moved", "toward", "old pulled", "new set")
    rows = (("101", "5' 0\" beyond corner 1 on the line of front side 1-2", '6"', "north", "", ""),)
    table = Table(heads, rows, right=frozenset({2}), to_fill=frozenset({4, 5}))
    cells = [cell.get("class") for cell in _all("td", Sheet("t", (), (table,), ""))]
    assert cells == ["long", "right", None, "fill", "fill"]


def test_crowded_picture_is_drawn_wider() -> None:
    """Where labels would lie on one another at the width of a telephone, the picture is made wider."""
    stakes = tuple(SymbolMark("OFFSET", Point(n % 8, n // 8), f"stake {n}") for n in range(64))
    few, many = (
        float(etree.fromstring(re.search(r"<svg.*?</svg>", page, re.DOTALL)[0]).get("viewBox").split()[2])  # type: ignore[index]
        for page in (html(Sheet("t", (), (Picture(Drawing(marks, "")),), "")) for marks in (stakes[:2], stakes))
    )
    assert few < many


def test_a_picture_wider_than_a_telephone_says_so() -> None:
    """What is pushed sideways looks cut off; a sentence above it tells."""
    stakes = tuple(SymbolMark("OFFSET", Point(n % 8, n // 8), f"offset stake {n}") for n in range(64))
    said = [
        "push it sideways" in html(Sheet("t", (), (Picture(Drawing(marks, "")),), "")) for marks in (stakes[:2], stakes)
    ]
    assert said == [False, True]


@pytest.mark.parametrize("text", ["stop overruled", "not a boundary survey", "call before you dig", "Set by"])
def test_words_of_the_sheet_are_on_the_page(text: str) -> None:
    """Warning, foot, cautions and signatures are all there."""
    assert text in "".join(_parsed().itertext())


def test_same_sheet_gives_same_page() -> None:
    """Nothing in the page depends on the time or on chance."""
    assert html(SHEET) == html(SHEET)


def test_sheet_without_boxes_says_nothing_about_writing() -> None:
    """The warning that what is written is not kept stands only where something can be written."""
    assert "gone when the page is closed" in html(SHEET)
    assert "gone when the page is closed" not in html(Sheet("t", (), (Paragraph("x"),), ""))


def test_length_is_never_torn_apart() -> None:
    """Feet and inches stay on one line of the screen."""
    spans = [it.text for it in _all("span", Sheet("t", (), (Paragraph("pull 9' 2-1/2\" & tie"),), ""))]
    assert spans == ["9' 2-1/2\""]


@pytest.mark.parametrize("caption", ["", "the ring"])
def test_names_left_out_are_told_below_the_picture(caption: str) -> None:
    """The rule by which names were left out stands before the caption, in one figcaption."""
    stakes = tuple(SymbolMark("OFFSET", Point(n / 100, 0), f"stake {n}") for n in range(300))
    (below,) = _all("figcaption", Sheet("t", (), (Picture(Drawing(stakes, ""), caption),), ""))
    words = "".join(below.itertext())
    assert words.startswith("Every ")
    assert words.endswith(f"files.{caption}")
