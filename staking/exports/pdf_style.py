"""With which letters a page in PDF is set: the embedded font, the sizes, and safe paragraphs."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

from reportlab.lib.enums import TA_CENTER, TA_RIGHT
from reportlab.lib.styles import ParagraphStyle
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from staking.exports.pdf_kept import Lines
from staking.exports.unbroken import parts

REGULAR = "Staking Sans"
BOLD = "Staking Sans Bold"

BODY_SIZE = 10.0
TABLE_SIZE = 9.5  # figures are read at arm's length: 9 to 10 points, common practice, no source


@cache
def register_fonts() -> None:
    """Make the two faces known to reportlab; once for the whole program."""
    folder = Path(__file__).parent / "fonts"
    pdfmetrics.registerFont(TTFont(REGULAR, str(folder / "StakingSans-Regular.ttf")))
    pdfmetrics.registerFont(TTFont(BOLD, str(folder / "StakingSans-Bold.ttf")))
    # Slanted text does not exist here; every combination leads to an embedded face.
    pdfmetrics.registerFontFamily(REGULAR, normal=REGULAR, bold=BOLD, italic=REGULAR, boldItalic=BOLD)


def _style(name: str, size: float, *, bold: bool = False, line: float = 1.3, **more: Any) -> ParagraphStyle:
    face = BOLD if bold else REGULAR
    return ParagraphStyle(
        name,
        fontName=face,
        bulletFontName=face,
        fontSize=size,
        bulletFontSize=size,
        leading=size * line,
        embeddedHyphenation=1,
        allowWidows=0,  # no line of a paragraph stands alone at the foot or head of a page
        allowOrphans=0,
        **more,
    )


TITLE = _style("title", 18, bold=True, line=1.2, spaceAfter=6)
LARGE = _style("large", 17, bold=True, line=1.2, spaceAfter=6)
HEADING = _style("heading", 13, bold=True, line=1.25, spaceBefore=12, spaceAfter=5)
BODY = _style("body", BODY_SIZE, spaceAfter=4)
STRONG = _style("strong", BODY_SIZE, bold=True, spaceAfter=4)
BULLET = _style("bullet", BODY_SIZE, leftIndent=13, bulletIndent=2, spaceAfter=2.5)
CAPTION = _style("caption", 8.5, spaceBefore=2, spaceAfter=6)
STEP_TITLE = _style("step title", 12.5, bold=True, line=1.2)
CELL = _style("cell", TABLE_SIZE, line=1.22)
CELL_RIGHT = _style("cell right", TABLE_SIZE, line=1.22, alignment=TA_RIGHT)
CELL_HEAD = _style("cell head", TABLE_SIZE, bold=True, line=1.22)
CELL_HEAD_RIGHT = _style("cell head right", TABLE_SIZE, bold=True, line=1.22, alignment=TA_RIGHT)
FACT_LABEL = _style("fact label", 8.5, line=1.25)
FACT_VALUE = _style("fact value", 9.5, bold=True, line=1.25)
FRAME_TITLE = _style("frame title", 11.5, bold=True, line=1.25)
WARNING = _style("warning", 13, bold=True, line=1.2, alignment=TA_CENTER)
SMALL_WARNING = _style("small warning", 8.5, bold=True, line=1.2)
SMALL = _style("small", 8, line=1.25)
SMALL_RIGHT = _style("small right", 8, line=1.25, alignment=TA_RIGHT)


def paragraph(text: str, style: ParagraphStyle = BODY, *, bullet: str | None = None) -> Lines:
    """A paragraph of plain text: nothing in it is taken for markup, lengths stay on one line.

    Words longer than the line are broken.
    """
    glued = "".join(part.replace(" ", "\xa0") if whole else part for part, whole in parts(text))
    return Lines(escape(glued), style, bulletText=bullet)
