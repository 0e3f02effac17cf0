"""What a fitted drawing is as SVG: a picture with real text that stands alone or inside a page.

Source: W3C, Scalable Vector Graphics (SVG) 1.1, second edition; only its basic shapes, text and title are used.
The numbers of the drawing are points; y is turned here, because SVG counts it downwards.
"""

from __future__ import annotations

from collections.abc import Mapping
from html import escape
from types import MappingProxyType

from staking.drawing.paper import (
    Anchor,
    Fitted,
    PaperCircle,
    PaperLine,
    PaperPolygon,
    PaperText,
    Shape,
    Spot,
    Stroke,
)

FONTS = "Staking Sans, DejaVu Sans, sans-serif"

_ANCHORS: Mapping[Anchor, str] = MappingProxyType({"left": "start", "middle": "middle", "right": "end"})


def svg(fitted: Fitted) -> str:
    """The picture as one SVG element with its title for screen readers; size in points, scaled by its viewBox.

    The text can be put into an XML file or an HTML page as it is; everything in it is escaped.
    """
    width, height = _number(fitted.width), _number(fitted.height)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}pt" '
        f'height="{height}pt" role="img" font-family="{FONTS}" fill="none" stroke-linejoin="round">',
        f"<title>{_safe(fitted.title)}</title>",
        *(_shape(shape, fitted.height) for shape in fitted.shapes),
        *(_text(text, fitted.height) for text in fitted.texts),
        "</svg>",
    ]
    return "\n".join(parts)


def _shape(shape: Shape, top: float) -> str:
    match shape:
        case PaperLine(start=start, end=end, stroke=stroke):
            return f'<path d="M{_spot(start, top)} L{_spot(end, top)}"{_stroke(stroke)}/>'
        case PaperPolygon(corners=corners, closed=closed, stroke=edge, fill=fill):
            chain = " L".join(_spot(corner, top) for corner in corners)
            return f'<path d="M{chain}{" Z" if closed else ""}"{_stroke(edge)}{_fill(fill)}/>'
        case PaperCircle(centre=centre, radius=radius, stroke=edge, fill=fill):
            place = f'cx="{_number(centre.x)}" cy="{_number(top - centre.y)}" r="{_number(radius)}"'
            return f"<circle {place}{_stroke(edge)}{_fill(fill)}/>"


def _text(text: PaperText, top: float) -> str:
    x, y = _number(text.at.x), _number(top - text.at.y)
    turn = f' transform="rotate({_number(-text.rotation)} {x} {y})"' if text.rotation else ""
    weight = ' font-weight="bold"' if text.bold else ""
    anchor = "" if text.anchor == "left" else f' text-anchor="{_ANCHORS[text.anchor]}"'
    look = f'font-size="{_number(text.size)}" fill="{text.colour}"{weight}{anchor}{turn}'
    return f'<text x="{x}" y="{y}" {look}>{_safe(text.text)}</text>'


def _stroke(stroke: Stroke | None) -> str:
    if stroke is None:
        return ""
    dash = f' stroke-dasharray="{" ".join(map(_number, stroke.dash))}"' if stroke.dash else ""
    return f' stroke="{stroke.colour}" stroke-width="{_number(stroke.width)}"{dash}'


def _fill(colour: str | None) -> str:
    return f' fill="{colour}"' if colour else ""


def _spot(spot: Spot, top: float) -> str:
    return f"{_number(spot.x)} {_number(top - spot.y)}"


def _number(value: float) -> str:
    # A hundredth of a point cannot be seen; no minus before zero, so that the same picture is the same text.
    short = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if short == "-0" else short


def _safe(text: str) -> str:
    # Control characters other than white space may not stand in XML at all, not even escaped.
    return escape("".join(letter if letter >= " " else " " for letter in text))
