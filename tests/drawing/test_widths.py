"""The table of widths and the font beside the exports belong together."""

from __future__ import annotations

from pathlib import Path

import pytest
from reportlab.pdfbase.ttfonts import TTFontFile

import staking.exports
from staking.drawing.widths import BOLD, EM, REGULAR, text_width
from staking.letters import RUNS, missing_letters

FONTS = Path(staking.exports.__path__[0]) / "fonts"
NEEDED = "'\"′″°⅛¼⅜½⅝¾⅞☐☑→←↑↓–—‘’“”×±²≤≥≈•·∠√ÅéßŁ"


@pytest.mark.parametrize(("face", "table"), [("Regular", REGULAR), ("Bold", BOLD)])
def test_widths_are_those_of_the_font(face: str, table: dict[str, int]) -> None:
    """Every letter of the table is as wide as the same letter of the embedded font."""
    font = TTFontFile(str(FONTS / f"StakingSans-{face}.ttf"))
    # reportlab gives widths in thousandths of the height of the font, rounded.
    assert {letter: round(width * 1000 / EM) for letter, width in table.items()} == {
        chr(code): round(width) for code, width in font.charWidths.items() if chr(code) in table
    }


@pytest.mark.parametrize("table", [REGULAR, BOLD])
def test_letters_said_to_print_do_print(table: dict[str, int]) -> None:
    """What the check of names takes for printable is what the font has, no more and no less."""
    printed = {chr(code) for first, last in RUNS for code in range(first, last + 1)}
    assert printed == set(table)
    assert missing_letters("".join(table)) == ""
    assert missing_letters("a\u4e2db\U0001f6a7\u4e2d") == "\u4e2d\U0001f6a7"


@pytest.mark.parametrize("table", [REGULAR, BOLD])
def test_every_glyph_the_sheets_need_is_there(table: dict[str, int]) -> None:
    """Eighths, primes, boxes, arrows and the letters of Western names are in both faces."""
    assert set(NEEDED) <= table.keys()


def test_fonts_do_not_carry_the_reserved_names() -> None:
    """The licence asks that changed fonts be renamed."""
    names = [TTFontFile(str(path)).name for path in sorted(FONTS.glob("*.ttf"))]
    assert [str(name, "ascii") for name in names] == ["StakingSans-Bold", "StakingSans"]


def test_text_width_adds_up() -> None:
    """Three figures of 1303/2048 em at 10 points; an unknown letter is as wide as the empty box."""
    assert text_width("103", 10.0) == pytest.approx(3 * 1303 / 2048 * 10)
    assert text_width("漢", 10.0) == pytest.approx(1229 / 2048 * 10)
