"""How do the pages of the plan become one PDF and one SVG?

Text is real text: in the PDF in an embedded font, in the SVG in the reader's. The same pages give the same bytes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from io import BytesIO
from itertools import accumulate
from typing import Any

from reportlab.pdfgen.canvas import Canvas

from staking.drawing.paper import Fitted, PaperPolygon, Spot
from staking.drawing.plan_text import moved_shape
from staking.exports.pdf_parts import draw_fitted
from staking.exports.pdf_style import REGULAR, register_fonts
from staking.exports.svg import svg


def plan_pdf(pages: Sequence[Fitted], subject: str = "") -> bytes:
    """The pages as a PDF file, each on paper of its own size."""
    register_fonts()
    stream = BytesIO()
    settings: dict[str, Any] = {"invariant": 1, "initialFontName": REGULAR, "lang": "en"}
    canvas = Canvas(stream, **settings)
    canvas.setTitle(pages[0].title)
    canvas.setSubject(subject)
    canvas.setAuthor("staking")
    canvas.setCreator("staking")
    for page in pages:
        canvas.setPageSize((page.width, page.height))
        draw_fitted(canvas, page)
        canvas.showPage()
    canvas.save()
    return stream.getvalue()


def plan_svg(pages: Sequence[Fitted]) -> bytes:
    """The pages as one picture on white, one below the other."""
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{svg(_stacked(pages))}\n'.encode()


def _stacked(pages: Sequence[Fitted]) -> Fitted:
    height, width = sum(page.height for page in pages), max(page.width for page in pages)
    ends = accumulate(page.height for page in pages)
    corners = (Spot(0, 0), Spot(width, 0), Spot(width, height), Spot(0, height))
    shapes = [PaperPolygon(corners, fill="#ffffff")]
    lifted = [(page, height - end) for page, end in zip(pages, ends, strict=True)]
    more = [moved_shape(shape, 0, up) for page, up in lifted for shape in page.shapes]
    texts = [replace(text, at=text.at.moved(0, up)) for page, up in lifted for text in page.texts]
    return replace(pages[0], width=width, height=height, shapes=(*shapes, *more), texts=tuple(texts))
