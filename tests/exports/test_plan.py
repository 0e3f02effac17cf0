"""The plan as a PDF and as an SVG."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from itertools import pairwise

import pypdfium2
import pytest

from staking.drawing.paper import Fitted
from staking.exports.plan import plan_pdf, plan_svg
from staking.layout.computed import Layout
from staking.sheets.plan import plan_pages

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture
def pages(local: Layout) -> tuple[Fitted, ...]:
    """The plan of a shed."""
    return plan_pages(local, ())


def test_text_can_be_selected(pages: tuple[Fitted, ...]) -> None:
    """Every text of the page is text of the PDF."""
    text = pypdfium2.PdfDocument(plan_pdf(pages))[0].get_textpage().get_text_bounded()
    assert all(word in text for word in ("NOT A SURVEY", "Room from the slab", "Scale 1 in", "Inspector"))


def test_the_page_has_the_size_of_its_paper(pages: tuple[Fitted, ...]) -> None:
    """So that it is printed to scale."""
    document = pypdfium2.PdfDocument(plan_pdf((*pages, *pages)))
    assert [page.get_size() for page in document] == [(pages[0].width, pages[0].height)] * (2 * len(pages))


def test_only_embedded_fonts_are_used(pages: tuple[Fitted, ...]) -> None:
    """No face that a reader would have to have: every font is a subset in the file."""
    data = plan_pdf(pages)
    assert data.count(b"/FontFile2") == 2
    assert b"Helvetica" not in data


def test_the_same_pages_give_the_same_bytes(pages: tuple[Fitted, ...]) -> None:
    """No date, no random number."""
    assert plan_pdf(pages) == plan_pdf(pages)
    assert plan_svg(pages) == plan_svg(pages)


def test_the_picture_is_xml_with_its_text(pages: tuple[Fitted, ...]) -> None:
    """Any reader of XML takes it; all words are there as text on a white ground."""
    root = ET.fromstring(plan_svg(pages))  # noqa: S314 - our own file
    assert [text.text for text in root.iter(f"{SVG}text")] == [text.text for text in pages[0].texts]
    assert next(root.iter(f"{SVG}path")).attrib["fill"] == "#ffffff"


def test_further_pages_stand_below(pages: tuple[Fitted, ...]) -> None:
    """Two pages make one picture of twice the height, the first on top."""
    root = ET.fromstring(plan_svg((*pages, *pages)))  # noqa: S314 - our own file
    assert float(root.attrib["viewBox"].split()[3]) == pytest.approx(2 * pages[0].height, abs=0.01)
    titles = [float(text.attrib["y"]) for text in root.iter(f"{SVG}text") if text.text == "NOT A SURVEY"]
    assert all(upper + pages[0].height == pytest.approx(lower, abs=0.02) for upper, lower in pairwise(titles))
