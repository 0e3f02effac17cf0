"""Pictures as SVG: well-formed, escaped, with real text."""

from __future__ import annotations

from lxml import etree

from staking.drawing.fit import fit
from staking.drawing.marks import CircleMark, Drawing, LineMark, Mark, PathMark, SymbolMark, TextMark
from staking.drawing.paper import Fitted, PaperLine, PaperText, Spot, Stroke
from staking.exports.svg import svg
from staking.survey.points import Point

SVG = "{http://www.w3.org/2000/svg}"
MARKS: tuple[Mark, ...] = (
    PathMark("SLAB", (Point(0, 0), Point(9, 0), Point(9, 6)), closed=True, filled=True),
    LineMark("LOT", Point(-2, -2), Point(12, -2)),
    CircleMark("KEEP-CLEAR", Point(4, 4), 2.0),
    SymbolMark("OFFSET", Point(0, 0), '<script>alert("1")</script> & co'),
    TextMark("DIMENSION", Point(4, -2), "36'-0⅛\"", along=90.0),
)


def _parsed(*marks: Mark, title: str = "a slab") -> etree._Element:
    return etree.fromstring(svg(fit(Drawing(marks, title), 300, 200)))


def test_picture_is_well_formed_and_keeps_every_text() -> None:
    """Names with signs that mean something in XML come through as they are."""
    texts = [element.text for element in _parsed(*MARKS).iter(f"{SVG}text")]
    assert sorted(texts) == sorted(['<script>alert("1")</script> & co', "36'-0⅛\""])


def test_title_is_there_for_screen_readers() -> None:
    """The title is the first thing in the picture, and the picture has the role of an image."""
    picture = _parsed(*MARKS, title="stakes <1> & 2")
    assert picture[0].tag == f"{SVG}title"
    assert (picture[0].text, picture.get("role")) == ("stakes <1> & 2", "img")


def test_up_on_paper_is_up_in_the_picture() -> None:
    """SVG counts y downwards: 10 points above the lower edge of 200 is 190."""
    line = PaperLine(Spot(0, 10), Spot(5, 200), Stroke(1.0, "#000000", (2, 3)))
    assert 'd="M0 190 L5 0"' in svg(Fitted(300, 200, 1.0, "t", (line,), ()))


def test_text_turns_the_same_way() -> None:
    """A text that rises on paper by 30 degrees is turned by -30 in SVG, about its own place."""
    text = PaperText(Spot(40, 50), "tie", 8.0, rotation=30.0, anchor="middle")
    written = svg(Fitted(300, 200, 1.0, "t", (), (text,)))
    assert 'transform="rotate(-30 40 150)"' in written
    assert 'text-anchor="middle"' in written


def test_dashes_of_the_layer_are_kept() -> None:
    """A setback line is dashed as the table of layers says."""
    picture = _parsed(LineMark("SETBACK", Point(0, 0), Point(9, 0)))
    assert [path.get("stroke-dasharray") for path in picture.iter(f"{SVG}path")] == ["6 3"]


def test_control_characters_do_not_break_the_picture() -> None:
    """A name with a bell in it still gives well-formed XML."""
    picture = etree.fromstring(svg(Fitted(9, 9, 1.0, "a\x07b", (), ())))
    assert picture[0].text == "a b"


def test_font_comes_first_and_falls_back() -> None:
    """The picture asks for the embedded font and names what to take where it is missing."""
    assert _parsed().get("font-family") == "Staking Sans, DejaVu Sans, sans-serif"
