"""QR codes: the squares that are printed are those of the text."""

from __future__ import annotations

import re

import pypdfium2
import pytest
import segno
import zxingcpp
from making import PLACED_RECTANGLE, layout_of, sample
from pypdfium2 import raw

from staking import Layout
from staking.exports.html import html
from staking.exports.pdf import pdf
from staking.exports.qr import QUIET, runs, squares
from staking.layout.setups import SetUp, setup_of
from staking.sheets.page import QrCode, Sheet
from staking.sheets.setup import MOST_BYTES, setup_sheet, stakes_fingerprint, stakes_text

TEXT = "101,5000.0000,2000.0000\n"
SIZE = 150.0
SETUP = '[setup]\nstation = "A"\nbacksight = "B"\ncheck = "C"\n'


def _sheet(text: str) -> Sheet:
    return Sheet("x", (), (QrCode(text, "c", SIZE),), "f")


def test_a_printed_code_has_the_squares_of_its_text() -> None:
    """The rectangles on the page, as another library reads them, cover what is black and nothing else."""
    page = pypdfium2.PdfDocument(pdf(_sheet(TEXT), "letter"))[0]
    rows = squares(TEXT)
    step = SIZE / (len(rows) + 2 * QUIET)
    boxes = [found.get_bounds() for found in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH])]
    filled = [box for box in boxes if abs(box[3] - box[1] - step) < 0.01]
    left, top = min(box[0] for box in filled), max(box[3] for box in filled)
    drawn = {(round((top - y2) / step), round((x1 - left) / step), round((x2 - x1) / step)) for x1, _, x2, y2 in filled}
    assert drawn == set(runs(rows))


def test_a_reader_of_codes_reads_the_text_off_the_page() -> None:
    """A library that knows nothing of how it was made, on the page as a picture."""
    page = pypdfium2.PdfDocument(pdf(_sheet(TEXT), "letter"))[0]
    (found,) = zxingcpp.read_barcodes(page.render(scale=2).to_numpy())
    assert found.text == TEXT


def test_runs_are_the_black_squares() -> None:
    """Each black square once, none of the white ones."""
    rows = squares("any text")
    black = {(down, at + n) for down, at, count in runs(rows) for n in range(count)}
    assert black == {(r, c) for r, row in enumerate(rows) for c, square in enumerate(row) if square}


def test_the_page_for_a_telephone_draws_the_same_squares() -> None:
    """The path of the picture covers what is black."""
    page = html(_sheet(TEXT))
    drawn = re.findall(r"M(\d+) (\d+)h(\d+)v1", page)
    assert {(int(y) - QUIET, int(x) - QUIET, int(n)) for x, y, n in drawn} == set(runs(squares(TEXT)))


def test_a_short_list_is_in_the_code_itself() -> None:
    """Four corners: name, north and east as in the list of stakes."""
    layout = layout_of(PLACED_RECTANGLE + '[[stakes]]\nkind = "corners"\n' + SETUP)
    code = _code(layout)
    assert code.text == stakes_text(layout)
    assert code.text.startswith("101,40.0000,30.0000\n")


def test_a_long_list_is_named_by_its_fingerprint() -> None:
    """More than a code that reads well holds: the words say so."""
    layout = sample("metric_hall")
    code = _code(layout)
    assert code.text == f"sha256:{stakes_fingerprint(layout)}"
    assert "too long" in code.caption


@pytest.mark.parametrize(("more", "version"), [(0, 20), (1, 21)])
def test_the_longest_list_fills_a_code_of_97_squares(more: int, version: int) -> None:
    """ISO/IEC 18004, table of capacities (from memory): version 20-M holds 666 bytes."""
    assert segno.make(b"a" * (MOST_BYTES + more), error="m", micro=False, boost_error=False).version == version


def _code(layout: Layout) -> QrCode:
    setup = setup_of(layout)
    assert isinstance(setup, SetUp)
    return next(block for block in setup_sheet(layout, setup, ()).blocks if isinstance(block, QrCode))
