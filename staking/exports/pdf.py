"""How a sheet becomes a PDF that a copier, a pocket and wet hands cannot spoil.

The same sheet gives the same bytes. All text is real text in an embedded font.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from io import BytesIO
from itertools import chain
from types import MappingProxyType
from typing import Any, Literal

from reportlab.lib import colors
from reportlab.lib.pagesizes import A4, LETTER
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, NextPageTemplate, PageTemplate, Paragraph
from reportlab.platypus.tables import TableStyle

from staking.exports.pdf_blocks import Room, flowables
from staking.exports.pdf_kept import Grid
from staking.exports.pdf_style import (
    FACT_LABEL,
    FACT_VALUE,
    REGULAR,
    SMALL,
    SMALL_RIGHT,
    SMALL_WARNING,
    TITLE,
    WARNING,
    paragraph,
    register_fonts,
)
from staking.exports.pdf_table import split_inside
from staking.sheets.page import Sheet

Paper = Literal["letter", "a4"]

SIZES: Mapping[Paper, tuple[float, float]] = MappingProxyType({"letter": LETTER, "a4": A4})
SIDE = 42.0  # points of margin left and right

_TOP = 34.0
_BOTTOM = 30.0
_NUMBER = 70.0  # points kept for "page n of m"
_FRAME = 7.0  # points between the frame of the warning and its words
_WARNING_SHARE = 0.2  # of the page; a longer warning is set smaller
_RUNNING = 100  # letters of the running head


def pdf(sheet: Sheet, paper: Paper) -> bytes:
    """The sheet as a PDF file on letter or A4 paper."""
    register_fonts()
    page = _Page(sheet, SIZES[paper])
    stream = BytesIO()
    document = BaseDocTemplate(
        stream,
        pagesize=SIZES[paper],
        pageTemplates=page.templates(),
        title=sheet.title,
        subject="; ".join(f"{label}: {value}" for label, value in sheet.facts),
        author="staking",
        creator="staking",
        lang=sheet.language,
        invariant=1,
        initialFontName=REGULAR,
    )
    story = [NextPageTemplate("later"), *_head(sheet, page.room), *flowables(sheet.blocks, page.room)]
    document.build(story, canvasmaker=partial(_CountedCanvas, draw_number=page.number))
    return stream.getvalue()


def _head(sheet: Sheet, room: Room) -> list[Flowable]:
    pieces: list[Flowable] = [paragraph(sheet.title, TITLE)]
    if sheet.facts:
        pieces.append(_facts(sheet.facts, room.width))
    return pieces


def _facts(facts: tuple[tuple[str, str], ...], width: float) -> Grid:
    # Two pairs a row, read across.
    pairs = [[paragraph(label, FACT_LABEL), paragraph(value, FACT_VALUE)] for label, value in facts]
    if len(pairs) % 2:
        pairs.append([paragraph(""), paragraph("")])
    rows = [first + second for first, second in zip(pairs[::2], pairs[1::2], strict=True)]
    widths = [width * part for part in (0.14, 0.36, 0.14, 0.36)]
    inside = split_inside(chain.from_iterable(facts))
    grid = Grid(rows, colWidths=widths, splitInRow=inside, spaceAfter=10)
    grid.setStyle(
        TableStyle(
            [
                ("FONT", (0, 0), (-1, -1), REGULAR, 9),
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("LEFTPADDING", (0, 0), (-1, -1), 2),
                ("RIGHTPADDING", (0, 0), (-1, -1), 5),
                ("TOPPADDING", (0, 0), (-1, -1), 2),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 3),
                ("LINEABOVE", (0, 0), (-1, 0), 1.4, colors.black),
                ("LINEBELOW", (0, 0), (-1, -2), 0.4, colors.HexColor("#777777")),
                ("LINEBELOW", (0, -1), (-1, -1), 1.4, colors.black),
            ]
        )
    )
    return grid


def _running(sheet: Sheet) -> str:
    # One line: whose page this is, when it lies alone in the mud.
    words = " · ".join([sheet.title, *(value for _, value in sheet.facts[:2] if value not in ("", "-"))])
    return words if len(words) <= _RUNNING else words[: _RUNNING - 1] + "…"


class _Page:
    """What stands round the text of every page, and the room that is left between."""

    def __init__(self, sheet: Sheet, size: tuple[float, float]) -> None:
        self.width, self.height = size
        self.inner = self.width - 2 * SIDE
        self.warning = self._warning(sheet.warning) if sheet.warning else None
        self.running = paragraph(_running(sheet), SMALL)
        self.foot = paragraph(sheet.foot, SMALL)
        self.warning_height = self._needed(self.warning, self.inner - 2 * _FRAME, 2 * _FRAME + 8)
        self.running_height = self._needed(self.running, self.inner, 9)
        self.foot_height = max(self._needed(self.foot, self.inner - _NUMBER, 0), 10)
        # Every page has the room of the fullest one, so that what fits one page fits each.
        self.bottom = _BOTTOM + self.foot_height + 8
        top = _TOP + self.warning_height + self.running_height
        self.room = Room(self.inner, self.height - self.bottom - top, self.inner / (LETTER[0] - 2 * SIDE))

    def _warning(self, text: str) -> Paragraph:
        # Large, unless so many words would then leave no room for the sheet itself.
        large = paragraph(text, WARNING)
        fits = large.wrap(self.inner - 2 * _FRAME, self.height)[1] <= self.height * _WARNING_SHARE
        return large if fits else paragraph(text, SMALL_WARNING)

    def _needed(self, text: Flowable | None, width: float, more: float) -> float:
        return text.wrap(width, self.height)[1] + more if text else 0.0

    def templates(self) -> list[PageTemplate]:
        """The first page, which carries the large head, and all later ones, which carry a short one."""
        first = self._frame(self.room.height + self.running_height)
        return [
            PageTemplate("first", [first], onPage=partial(self.draw, first=True), pagesize=(self.width, self.height)),
            PageTemplate(
                "later", [self._frame(self.room.height)], onPage=self.draw, pagesize=(self.width, self.height)
            ),
        ]

    def _frame(self, height: float) -> Frame:
        return Frame(
            SIDE, self.bottom, self.inner, height, leftPadding=0, rightPadding=0, topPadding=0, bottomPadding=0
        )

    def draw(self, canvas: Canvas, _: object, *, first: bool = False) -> None:
        """Draw the warning, the running head and the foot."""
        canvas.saveState()
        top = self.height - _TOP
        if self.warning:
            self._draw_warning(canvas, top)
        if not first:
            self.running.drawOn(canvas, SIDE, top - self.warning_height - self.running.height)
        canvas.setLineWidth(0.7)
        canvas.line(SIDE, self.bottom - 5, SIDE + self.inner, self.bottom - 5)
        self.foot.drawOn(canvas, SIDE, self.bottom - 8 - self.foot.height)
        canvas.restoreState()

    def _draw_warning(self, canvas: Canvas, top: float) -> None:
        height = self.warning_height - 8
        canvas.setLineWidth(3)
        canvas.rect(SIDE + 1.5, top - height, self.inner - 3, height, fill=0)
        if self.warning:
            self.warning.drawOn(canvas, SIDE + _FRAME, top - height + _FRAME)

    def number(self, canvas: Canvas, page: int, pages: int) -> None:
        """Draw "page n of m"."""
        text = paragraph(f"page {page} of {pages}", SMALL_RIGHT)
        height = text.wrapOn(canvas, _NUMBER, 20)[1]
        text.drawOn(canvas, SIDE + self.inner - _NUMBER, self.bottom - 8 - height)


class _CountedCanvas(Canvas):
    """A canvas that numbers its pages once it knows how many there are."""

    def __init__(self, *args: Any, draw_number: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self._draw_number = draw_number
        self._pages: list[dict[str, Any]] = []

    def showPage(self) -> None:  # noqa: N802  # the name is reportlab's
        """Keep the page until the last one is done."""
        self._pages.append(dict(self.__dict__))
        self._startPage()  # type: ignore[attr-defined]  # the stubs do not know it

    def save(self) -> None:
        """Number and write all pages."""
        pages = list(self._pages)
        for number, page in enumerate(pages, start=1):
            self.__dict__.update(page)
            self._draw_number(self, number, len(pages))
            super().showPage()
        super().save()
