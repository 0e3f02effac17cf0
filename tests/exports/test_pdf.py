"""The sheet on paper: every word there, only embedded fonts, the same bytes every time."""

from __future__ import annotations

import ctypes
import re
from functools import cache

import pypdfium2
import pytest
from pypdfium2 import raw

from staking.drawing.marks import CircleMark, Drawing, LineMark, PathMark, SymbolMark, TextMark
from staking.exports.pdf import Paper, pdf
from staking.sheets.page import (
    Block,
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

LONG = "Northeastern-Extraordinarily-Long-Equipment-Shed-Foundation"
OUTLINE = PathMark("SLAB", (Point(0, 0), Point(9, 0), Point(9, 6), Point(0, 6)), closed=True, filled=True)
DRAWING = Drawing(
    (
        OUTLINE,
        SymbolMark("CORNER", Point(0, 0), "101", emphasis=True),
        LineMark("SETBACK", Point(-1, -1), Point(10, -1)),
        CircleMark("KEEP-CLEAR", Point(6, 3), 1.0),
        TextMark("DIMENSION", Point(9, 3), "19'-8¼\"", along=0.0, side=90.0),
    ),
    "the slab",
)
TABLE = Table(("stake", "tie", "found"), (("102", "12'-3⅛\"", ""), ("103", "8'-0\"", "")), to_fill=frozenset({2}))
BLOCKS: tuple[Block, ...] = (
    Cautions(("Call before you dig.", "Cap <every> bar & stake.")),
    Heading("The slab"),
    Paragraph("Hold the tape level.", strong=True),
    Bullets(("steel tape", "two plumb bobs")),
    Picture(DRAWING, "Figure 1, north is up", 150),
    Step(1, "Set corner 101", ("Measure from the curb.",), TABLE, Picture(DRAWING, "Figure 2", 120)),
    Step(2, "Check", ("Stop if more than ½ inch.",)),
    Signatures(("Set by", "Checked by")),
)
FACTS = (("Job", "Tamarack Road shed"), ("Lot", "Lot 7, Block 2"), ("Datum", "local, ±⅛″"))


def _sheet(*blocks: Block, warning: str = "") -> Sheet:
    return Sheet("Tape and string sheet", FACTS, blocks, "Not a boundary survey.", warning)


@cache
def _pages(sheet: Sheet, paper: Paper = "letter") -> tuple[str, ...]:
    document = pypdfium2.PdfDocument(pdf(sheet, paper))
    return tuple(page.get_textpage().get_text_bounded() for page in document)


def _words(text: str) -> str:
    # A wrapped line ends where the paper ends, not where the text does; the reader shows a hyphen there as \x02.
    return "".join(text.replace("\x02", "-").split())


def test_same_sheet_gives_same_bytes() -> None:
    """Neither time nor chance gets into the file."""
    assert pdf(_sheet(*BLOCKS), "letter") == pdf(_sheet(*BLOCKS), "letter")


@pytest.mark.parametrize(("paper", "size"), [("letter", (612, 792)), ("a4", (595.28, 841.89))])
def test_page_has_the_size_of_its_paper(paper: Paper, size: tuple[float, float]) -> None:
    """Letter is 8-1/2 by 11 in, A4 210 by 297 mm (ISO 216), in points of 1/72 in."""
    page = pypdfium2.PdfDocument(pdf(_sheet(*BLOCKS), paper))[0]
    assert page.get_size() == pytest.approx(size, abs=0.01)


@pytest.mark.parametrize(
    "text",
    [
        *("Tape and string sheet", "Tamarack Road shed", "local, ±⅛″", "Not a boundary survey.", "page 1 of 1"),
        *("Cautions", "Call before you dig.", "Cap <every> bar & stake.", "The slab", "Hold the tape level."),
        *("two plumb bobs", "Figure 1, north is up", "101", "19'-8¼\"", "Set corner 101", "Measure from the curb."),
        *("12'-3⅛\"", "found", "Stop if more than ½ inch.", "Checked by", "Figure 2"),
    ],
)
def test_every_text_of_the_sheet_can_be_selected(text: str) -> None:
    """All words, those of the pictures too, come out of the file as text."""
    assert _words(text) in _words("".join(_pages(_sheet(*BLOCKS))))


def test_all_fonts_are_embedded() -> None:
    """Every letter of every page is set in a font that the file carries; no other font is named."""
    content = pdf(_sheet(*BLOCKS), "letter")
    assert content.count(b"/FontFile2") == content.count(b"/BaseFont") == 2
    assert b"Helvetica" not in content


def test_letters_drawn_use_only_our_font() -> None:
    """Asked letter by letter, the reader finds the embedded family only."""
    text = pypdfium2.PdfDocument(pdf(_sheet(*BLOCKS), "letter"))[0].get_textpage()
    assert {_font(text, index) for index in range(text.count_chars())} - {""} == {"StakingSans", "StakingSans-Bold"}


def _font(text: pypdfium2.PdfTextPage, index: int) -> str:
    name, flags = ctypes.create_string_buffer(64), ctypes.c_int()
    raw.FPDFText_GetFontInfo(text, index, name, 64, flags)
    return name.value.decode().split("+")[-1]


def test_metadata_names_the_sheet() -> None:
    """Title, author and facts can be read without opening the file."""
    found = pypdfium2.PdfDocument(pdf(_sheet(*BLOCKS), "letter")).get_metadata_dict()
    assert (found["Title"], found["Author"]) == ("Tape and string sheet", "staking")
    assert "Job: Tamarack Road shed" in found["Subject"]


def test_long_table_repeats_its_head() -> None:
    """A table of 500 rows goes over many pages, each with head, number of pages and the name of the job."""
    rows = tuple((f"s{n}", f"{n}'-6⅛\"", "") for n in range(500))
    pages = _pages(_sheet(Table(("stake", "distance", "found"), rows, to_fill=frozenset({2}))))
    assert all("distance" in page and "Tamarack Road shed" in page for page in pages)
    assert [f"page {n + 1} of {len(pages)}" in pages[n] for n in range(len(pages))] == [True] * len(pages)
    assert all(f"s{n}" in "".join(pages).split() for n in range(500))


def test_warning_stands_on_every_page() -> None:
    """A stop that was overruled cannot be lost with the first page."""
    pages = _pages(_sheet(*BLOCKS * 3, warning="STOP OVERRULED: front setback"))
    assert len(pages) > 1
    assert all("STOP OVERRULED: front setback" in page for page in pages)


def test_step_is_not_torn_apart() -> None:
    """Head, text and table of each of a dozen steps stand on one page."""
    steps = [
        Step(n, f"Title{n}.", (f"Text{n}.",), Table(("x",), ((f"Row{n}.",),)), Picture(DRAWING)) for n in range(1, 13)
    ]
    pages = _pages(_sheet(*steps))
    whole = [all(f"{word}{n}." in page for word in ("Title", "Text", "Row")) for n in range(1, 13) for page in pages]
    assert whole.count(True) == 12


FOLLOWERS: tuple[tuple[Block, str], ...] = (
    (Step(1, "First.", ("Text.",), TABLE, Picture(DRAWING)), "First."),
    (Picture(DRAWING, "Below."), "Below."),
    (Table(("x",), (("Row.",),)), "Row."),
    (Bullets(("Point.",)), "Point."),
)


@pytest.mark.parametrize(("follower", "words"), FOLLOWERS)
def test_heading_stands_with_what_follows(follower: Block, words: str) -> None:
    """However far down a page it comes, a heading is on the page on which its step, picture or table begins."""
    for lines in range(16, 42, 2):
        pages = _pages(_sheet(Bullets(("filler",) * lines), Heading("Headed."), follower))
        assert [words in page for page in pages] == ["Headed." in page for page in pages]


def test_heading_over_more_than_a_page_stands_with_its_beginning() -> None:
    """A table or a step of many pages begins below its heading."""
    table = Table(("stake",), tuple((f"s{n}.",) for n in range(100)))
    for block in (table, Step(1, "s0.", ("Text.",), table)):
        pages = _pages(_sheet(Bullets(("filler",) * 38), Heading("Headed."), block))
        assert ["s0." in page for page in pages][:2] == ["Headed." in page for page in pages][:2]
        assert len(pages) > 2


def test_last_heading_is_printed() -> None:
    """A heading with nothing below it is not lost."""
    assert "Headed." in _pages(_sheet(Heading("Headed.")))[0]


@pytest.mark.parametrize("picture", [None, Picture(DRAWING)])
def test_step_longer_than_a_page_goes_over_pages(picture: Picture | None) -> None:
    """A step with a table of a hundred rows is broken, not lost."""
    table = Table(("stake",), tuple((f"s{n}",) for n in range(100)))
    pages = _pages(_sheet(Step(1, "Long", ("Text.",), table, picture)))
    assert len(pages) > 1
    assert all(f"s{n}" in "".join(pages).split() for n in range(100))


def test_long_names_wrap_inside_their_cells() -> None:
    """A name of sixty letters is broken over lines; its right end stays left of the next column's text."""
    table = Table(("name", "length"), ((LONG, "12'-3½\""),), widths=(1, 6))
    text = pypdfium2.PdfDocument(pdf(_sheet(table), "letter"))[0].get_textpage()
    left = text.get_charbox(text.get_text_range().index("12'-3½"))[0]
    start = text.get_text_range().index("Northeastern")
    assert max(text.get_charbox(n)[2] for n in range(start, start + 12)) < left
    assert _words(LONG) in _words(text.get_text_bounded())


@pytest.mark.parametrize(
    "block",
    [
        Table(("a", "b"), (("1", "word " * 3000),)),
        Cautions(("word " * 3000,)),
        Step(1, "long", ("word " * 3000,), None, Picture(DRAWING)),
        Heading("word " * 200),
        Signatures(("x" * 300,)),
    ],
)
def test_huge_text_is_printed_all_the_same(block: Block) -> None:
    """A text longer than a page goes over pages instead of stopping the program."""
    count = "".join(_pages(_sheet(block))).count("word")
    assert count in {3000, 200, 0}
    assert count or isinstance(block, Signatures)


@pytest.mark.parametrize(
    "sheet", [Sheet("t", (), (), ""), Sheet("t " * 900, (("a", "word " * 3000),), (), "", "w " * 900)]
)
def test_head_alone_makes_a_page(sheet: Sheet) -> None:
    """A sheet without blocks, or with a head longer than a page, is still a file."""
    assert len(_pages(sheet)) >= 1


def test_odd_letters_do_no_harm() -> None:
    """Control characters, markup and letters outside the font stop nothing."""
    odd = Sheet("T\x07<b>&", (("Job\x01", "漢字"),), (Paragraph("a\x0b</para>漢"), TABLE), "f\x02")
    assert _words("</para>") in _words(_pages(odd)[0])


def test_empty_cells_to_fill_are_boxes() -> None:
    """Each empty cell of a column to fill has a drawn box at least 16 points high; a filled cell has none."""
    assert _boxes(TABLE) == 2
    assert _boxes(Table(TABLE.head, (("102", "x", "y"),), to_fill=frozenset({2}))) == 0


def _boxes(table: Table) -> int:
    page = pypdfium2.PdfDocument(pdf(_sheet(table), "letter"))[0]
    heights = [it.get_bounds()[3] - it.get_bounds()[1] for it in page.get_objects(filter=(raw.FPDF_PAGEOBJ_PATH,))]
    return sum(height >= 16 for height in heights)


def test_head_of_a_narrow_column_wraps() -> None:
    """A head longer than its column is set on two lines, none of it lost."""
    table = Table(
        ("distance from the first lot corner", "b"), (("1", "word " * 60),), right=frozenset({0}), widths=(1, 9)
    )
    assert _words(table.head[0]) in _words(_pages(_sheet(table))[0])


def test_drawing_without_marks_leaves_its_place() -> None:
    """An empty picture, even one with an empty path, is a blank with its caption."""
    picture = Picture(Drawing((PathMark("LOT", ()),), ""), "nothing to see")
    assert "nothing to see" in _pages(_sheet(picture))[0]


def test_length_is_never_torn_apart() -> None:
    """Feet and inches stay on one line, wherever in the line they come."""
    texts = [Paragraph("x" * n + " pull 9' 2-1/2\" " * 12) for n in range(1, 40)]
    lines = "\n".join(_pages(_sheet(*texts))).splitlines()
    assert not any(line.rstrip().endswith("9'") for line in lines)
    assert sum(line.replace("\xa0", " ").count("9' 2-1/2\"") for line in lines) == 39 * 12


def test_names_left_out_are_told_below_the_picture() -> None:
    """The rule by which names were left out stands before the caption."""
    stakes = tuple(SymbolMark("OFFSET", Point(n / 100, 0), f"stake {n}") for n in range(300))
    words = " ".join("".join(_pages(_sheet(Picture(Drawing(stakes, ""), "the row")))).split())
    assert re.search(r"Every \w+ stake is named, .* files\. the row", words)


@pytest.mark.parametrize("lines", range(20, 48))
def test_words_over_a_table_stand_with_its_first_rows(lines: int) -> None:
    """Wherever the page ends: heading, sentence and two rows are never apart."""
    table = Table(("corner", "tie"), tuple((f"row {n}", "9") for n in range(30)))
    sheet = _sheet(*(Paragraph("word") for _ in range(lines)), Heading("Ties"), Paragraph("No plus."), table)
    page = next(page for page in _pages(sheet) if "Ties" in page)
    assert all(words in page for words in ("No plus.", "row 0", "row 1"))


def test_no_line_of_a_paragraph_stands_alone() -> None:
    """A sentence of four lines is parted in the middle or not at all."""
    long = " ".join(f"w{number:03}" for number in range(90))
    for lines in range(20, 40):
        first, *later = _pages(_sheet(*(Paragraph("word") for _ in range(lines)), Paragraph(long)))
        counts = [len([line for line in page.splitlines() if re.search(r"w\d{3}", line)]) for page in (first, *later)]
        assert 1 not in counts


@pytest.mark.parametrize("lines", range(28, 44))
def test_signatures_take_the_last_words_along(lines: int) -> None:
    """Wherever the page ends, there is something on the page that is signed."""
    words: tuple[Block, ...] = (*(Paragraph("word") for _ in range(lines)), Bullets(("first note", "last note")))
    page = next(page for page in _pages(_sheet(*words, Signatures(("Set by", "Checked by")))) if "Set by" in page)
    assert "last note" in page
