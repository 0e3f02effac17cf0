"""What the pages need that reportlab has not: a fitted picture, the head of a step, a box to write into."""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from reportlab.lib.colors import HexColor
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from staking.drawing.fit import fit
from staking.drawing.marks import Drawing
from staking.drawing.paper import Anchor, Fitted, PaperCircle, PaperLine, PaperPolygon, PaperText, Shape, Stroke
from staking.drawing.widths import text_width
from staking.exports.pdf_style import BOLD, REGULAR, STEP_TITLE, paragraph
from staking.exports.qr import QUIET, runs, squares

BOX_HEIGHT = 17.0  # points: room for handwriting

_colour = cache(HexColor)  # the same few for every line
_BEFORE: Mapping[Anchor, float] = MappingProxyType({"left": 0.0, "middle": 0.5, "right": 1.0})


class FittedPicture(Flowable):
    """A drawing as vectors, fitted into width by height [points] and no higher than it needs."""

    def __init__(self, drawing: Drawing, width: float, height: float) -> None:
        super().__init__()
        self.fitted = fit(drawing, width, height, trim=True)
        self.width, self.height = width, self.fitted.height

    def wrap(self, *_: float) -> tuple[float, float]:
        """Its size; it does not change."""
        return self.width, self.height

    def draw(self) -> None:
        """Put it on the page."""
        draw_fitted(self.canv, self.fitted)


class QrSquares(Flowable):
    """A QR code with its white border, so wide and high [points]; black side by side is one rectangle without seams."""

    def __init__(self, text: str, size: float) -> None:
        super().__init__()
        self.rows = squares(text)
        self.width = self.height = size

    def wrap(self, *_: float) -> tuple[float, float]:
        """Its size; it does not change."""
        return self.width, self.height

    def draw(self) -> None:
        """Put it on the page."""
        step = self.height / (len(self.rows) + 2 * QUIET)
        self.canv.setFillColorRGB(0, 0, 0)
        for down, at, count in runs(self.rows):
            self.canv.rect((QUIET + at) * step, self.height - (QUIET + down + 1) * step, count * step, step, 0, 1)


class StepHead(Flowable):
    """Number in a heavy ring, title, and a box to tick at the right end, under a thin rule."""

    RING = 11.0  # radius
    TICK = 15.0

    def __init__(self, number: int, title: str) -> None:
        super().__init__()
        self.spaceBefore = 8
        self.number = str(number)
        self.title = paragraph(title, STEP_TITLE)

    def wrap(self, available_width: float, available_height: float) -> tuple[float, float]:
        """As wide as there is room; as high as ring and title need."""
        self.width = available_width
        room = available_width - 2 * self.RING - self.TICK - 24
        self.title_height = self.title.wrap(room, available_height)[1]
        self.height = max(2 * self.RING, self.title_height) + 10
        return self.width, self.height

    def draw(self) -> None:
        """Put it on the page."""
        canvas, middle = self.canv, (self.height - 10) / 2 + 3
        canvas.setLineWidth(0.7)
        canvas.line(0, self.height, self.width, self.height)
        canvas.setLineWidth(2.2)
        canvas.circle(self.RING + 1.1, middle, self.RING - 1.1, fill=0)
        size = min(12.5, 12.5 * 16 / max(text_width(self.number, 12.5, bold=True), 1))
        canvas.setFont(BOLD, size)
        canvas.drawCentredString(self.RING + 1.1, middle - 0.365 * size, self.number)
        canvas.setLineWidth(1.4)
        canvas.rect(self.width - self.TICK - 1, middle - self.TICK / 2, self.TICK, self.TICK, fill=0)
        # The capitals of the first line stand a little above the middle of their line.
        self.title.drawOn(canvas, 2 * self.RING + 10, middle - self.title_height / 2 + 1)


class FillBox(Flowable):
    """An empty box to write into, as wide as its cell."""

    def wrap(self, available_width: float, _: float) -> tuple[float, float]:
        """As wide as there is room."""
        self.width, self.height = available_width, BOX_HEIGHT
        return self.width, self.height

    def draw(self) -> None:
        """Put it on the page."""
        self.canv.setLineWidth(0.9)
        self.canv.rect(0, 0, self.width, self.height, fill=0)


def draw_fitted(canvas: Canvas, fitted: Fitted) -> None:
    """Draw a fitted picture with its lower left corner at the origin of the canvas."""
    canvas.saveState()
    canvas.setLineJoin(1)
    for shape in fitted.shapes:
        _draw_shape(canvas, shape)
    for text in fitted.texts:
        _draw_text(canvas, text)
    canvas.restoreState()


def _draw_shape(canvas: Canvas, shape: Shape) -> None:
    edge, fill = shape.stroke, None if isinstance(shape, PaperLine) else shape.fill
    if edge is not None:
        _set_stroke(canvas, edge)
    if fill is not None:
        canvas.setFillColor(_colour(fill))
    drawn = {"stroke": int(edge is not None), "fill": int(fill is not None)}
    match shape:
        case PaperLine(start=start, end=end):
            canvas.line(start.x, start.y, end.x, end.y)
        case PaperCircle(centre=centre, radius=radius):
            canvas.circle(centre.x, centre.y, radius, **drawn)
        case PaperPolygon():
            _draw_chain(canvas, shape, drawn)


def _set_stroke(canvas: Canvas, stroke: Stroke) -> None:
    canvas.setStrokeColor(_colour(stroke.colour))
    canvas.setLineWidth(stroke.width)
    canvas.setDash(list(stroke.dash))


def _draw_chain(canvas: Canvas, chain: PaperPolygon, drawn: Mapping[str, int]) -> None:
    if not chain.corners:
        return
    path = canvas.beginPath()
    path.moveTo(*chain.corners[0])
    for corner in chain.corners[1:]:
        path.lineTo(*corner)
    if chain.closed:
        path.close()
    canvas.drawPath(path, **drawn)


def _draw_text(canvas: Canvas, text: PaperText) -> None:
    angle = math.radians(text.rotation)
    right, up = math.cos(angle), math.sin(angle)
    back = text_width(text.text, text.size, bold=text.bold) * _BEFORE[text.anchor]
    drawn = canvas.beginText()
    drawn.setTextTransform(right, up, -up, right, text.at.x - right * back, text.at.y - up * back)
    drawn.setFont(BOLD if text.bold else REGULAR, text.size)
    drawn.setFillColor(_colour(text.colour))
    drawn.textOut(text.text)
    canvas.drawText(drawn)
