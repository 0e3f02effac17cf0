"""What stands round the drawing of a plan: title, warning band, north arrow, bar scale, boxes to sign, foot."""

from __future__ import annotations

from staking.drawing.paper import PaperLine, PaperPolygon, PaperText, Shape, Spot, Stroke
from staking.drawing.plan_flow import Area
from staking.drawing.plan_frame import EDGE, FOOT, INSET
from staking.drawing.plan_text import LEAST, SetRow, lines_set
from staking.drawing.widths import text_width
from staking.layout.computed import Layout

NOT_A_SURVEY = "NOT A SURVEY"
ROLES = ("Contractor", "Surveyor", "Inspector")

_HEAVY, _FINE = Stroke(1.4), Stroke(0.6)
_BLACK = "#000000"
_TITLE, _JOB, _BAND = 15.0, 9.0, 10.5
_SHEET_WIDTH = 88.0  # points kept for "sheet n of m"
_BAR = 200.0  # points: the bar scale is not longer
_BAR_AT = 62.0  # points from the left end of its strip
_SURVEY_WIDTH = 170.0


def head(layout: Layout, band: str, width: float) -> SetRow:
    """Warning band and title over a page so wide [points]; its upper left corner at the origin."""
    inner = width - 2 * INSET
    shapes: list[Shape] = []
    texts: list[PaperText] = []
    y = -INSET
    if band:
        words = lines_set(band, inner - 12, _BAND, bold=True, middle=True)
        shapes.append(_box(Area(INSET + 1.5, y, inner - 3, words.height + 9), Stroke(3.0)))
        texts += words.moved(INSET + 6, y - 4.5).texts
        y -= words.height + 9 + INSET
    for text, size in ((layout.site.declared.plan.heading, _TITLE), (layout.site.declared.site.name, _JOB)):
        words = lines_set(text, inner - _SHEET_WIDTH, size, bold=True)
        texts += words.moved(INSET, y).texts
        y -= words.height
    y -= INSET / 2
    shapes.append(PaperLine(Spot(0, y), Spot(width, y), _HEAVY))
    return SetRow(-y, tuple(shapes), tuple(texts))


def sheet_number(layout: Layout, width: float, number: int, count: int) -> SetRow:
    """At the right end of the title."""
    words = (f"sheet {number} of {count}", f"revision {layout.site.revision}")
    return _right_lines(words, width - INSET, 9.0)


def _right_lines(words: tuple[str, ...], right: float, size: float) -> SetRow:
    texts = []
    for n, text in enumerate(words):
        shown = size * min(1.0, max(LEAST / size, _SHEET_WIDTH / max(text_width(text, size, bold=True), 1.0)))
        kept = shortened(text, _SHEET_WIDTH, shown, bold=True)
        texts.append(PaperText(Spot(right, -(n + 1) * size * 1.3), kept, shown, True, anchor="right"))
    return SetRow(0.0, texts=tuple(texts))


def shortened(text: str, width: float, size: float, *, bold: bool = False) -> str:
    """The text, or as much of its beginning as fits a width [points], with an ellipsis."""
    kept = text
    while text_width(kept, size, bold=bold) > width and len(kept) > 1:
        kept = f"{kept[:-2]}…"
    return kept


def strip(layout: Layout, area: Area, scale_words: str, points: float) -> SetRow:
    """North arrow, stated scale with its bar, and what the sheet is not."""
    shapes: list[Shape] = [_box(area, _FINE)]
    middle = area.top - area.height / 2
    arrow = _north(layout).moved(area.x + 22, middle + 1)
    wide = min(_SURVEY_WIDTH, area.width * 0.4)
    bar = _bar(layout, scale_words, points, area.width - wide - _BAR_AT - 22).moved(area.x + _BAR_AT, middle)
    left = area.x + area.width - wide
    box = Area(left, area.top, wide, area.height)
    large = lines_set(NOT_A_SURVEY, wide - 8, 15.0 if wide > 140 else 11.0, bold=True, middle=True)
    small = lines_set("Only a licensed surveyor locates a property line.", wide - 8, LEAST, middle=True)
    y = middle + (large.height + small.height) / 2
    parts = (arrow, bar, large.moved(left + 4, y), small.moved(left + 4, y - large.height))
    shapes.append(_box(box, Stroke(2.2)))
    return SetRow(
        area.height,
        (*shapes, *(shape for part in parts for shape in part.shapes)),
        tuple(text for part in parts for text in part.texts),
    )


def _north(layout: Layout) -> SetRow:
    """An arrow about the origin; what its north is stands beside it."""
    known = layout.site.declared.coordinates
    words = "grid" if known and known.crs else "assumed"
    if layout.site.system == "measured":
        words = "measured"
    shapes: tuple[Shape, ...] = (
        PaperPolygon((Spot(0, 17), Spot(-5.5, -8), Spot(0, -3)), fill=_BLACK, stroke=_FINE),
        PaperPolygon((Spot(0, 17), Spot(5.5, -8), Spot(0, -3)), stroke=_FINE),
        PaperLine(Spot(0, -3), Spot(0, -9), _FINE),
    )
    texts = (
        PaperText(Spot(8, 4), "N", 11.0, True),
        PaperText(Spot(0, -16), words, LEAST, anchor="middle"),
    )
    return SetRow(0.0, shapes, texts)


def _bar(layout: Layout, words: str, points: float, room: float) -> SetRow:
    """Three steps in black and white with figures below, the scale in words above; left end at the origin."""
    unit = float(layout.site.unit.metres)
    usual = (n * 10.0**power for power in range(6, -4, -1) for n in (5, 2, 1))
    step = next((n for n in usual if 3 * n * unit * points <= min(_BAR, room)), 0.001)
    long = step * unit * points
    shapes = tuple(
        PaperPolygon(
            (Spot(long * n, -3), Spot(long * (n + 1), -3), Spot(long * (n + 1), 3), Spot(long * n, 3)),
            stroke=_FINE,
            fill=_BLACK if n % 2 == 0 else "#ffffff",
        )
        for n in range(3)
    )
    name = "m" if layout.site.unit.name == "m" else "ft"
    figures = [PaperText(Spot(long * n, -12), f"{step * n:g}", 7.0, anchor="middle") for n in range(3)]
    figures.append(PaperText(Spot(long * 3, -12), f"{step * 3:g} {name}", 7.0, anchor="middle"))
    return SetRow(0.0, shapes, (PaperText(Spot(0, 8), f"Scale {words}", 9.0, True), *figures))


def signatures(area: Area) -> SetRow:
    """Three boxes side by side."""
    wide = area.width / len(ROLES)
    shapes: list[Shape] = []
    texts: list[PaperText] = []
    for n, role in enumerate(ROLES):
        left, bottom = area.x + n * wide, area.top - area.height
        shapes.append(_box(Area(left, area.top, wide, area.height), Stroke(0.9)))
        shapes.append(PaperLine(Spot(left + 5, bottom + 11), Spot(left + wide - 5, bottom + 11), Stroke(0.5)))
        texts.append(PaperText(Spot(left + 5, area.top - 9), role, 7.5, True))
        texts.append(PaperText(Spot(left + 5, bottom + 3.5), "name, signature", LEAST))
        texts.append(PaperText(Spot(left + wide - 5, bottom + 3.5), "date", LEAST, anchor="right"))
    return SetRow(area.height, tuple(shapes), tuple(texts))


def border(size: tuple[float, float], foot: str) -> SetRow:
    """The frame of a page and the line at its foot."""
    width, height = size[0] - 2 * EDGE, size[1] - 2 * EDGE
    line = EDGE + FOOT
    text = shortened(foot, width - 2 * INSET, LEAST)
    return SetRow(
        0.0,
        (
            _box(Area(EDGE, EDGE + height, width, height), _HEAVY),
            PaperLine(Spot(EDGE, line), Spot(EDGE + width, line), _FINE),
        ),
        (PaperText(Spot(EDGE + INSET, EDGE + 3.5), text, LEAST),),
    )


def _box(area: Area, stroke: Stroke) -> PaperPolygon:
    right, bottom = area.x + area.width, area.top - area.height
    corners = (Spot(area.x, bottom), Spot(right, bottom), Spot(right, area.top), Spot(area.x, area.top))
    return PaperPolygon(corners, stroke=stroke)
