"""Draws the pictures of the documents from the sample sites, so that they show what the program really prints.

python docs/pictures/make_pictures.py
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pypdfium2
from PIL import Image

from staking import check, compare, read_site, solve
from staking.exports.pdf import pdf
from staking.exports.plan import plan_pdf
from staking.field.compared import Comparison, HowMeasured
from staking.field.measured import read_measured
from staking.layout.computed import Layout
from staking.sheets.as_built import as_built_sheet
from staking.sheets.plan import plan_pages
from staking.sheets.tape_and_string import tape_and_string
from staking.sitefile.pointlists.opening import Asked

HERE = Path(__file__).parent
SAMPLES = HERE.parents[1] / "sample_sites"


def main() -> None:
    """Plan and tape sheet of the shed, together and apart; its as-built report; the plan of the corner lot."""
    shed = _layout("tape_only_shed")
    plan, tape = _plan(shed), pdf(tape_and_string(shed, check(shed)), "letter")
    _save("plan_and_tape", [*_pages(plan, 1, high=990), *_pages(tape, 2, high=990)[1:]])
    _save("tape_and_string", _pages(tape, 3, high=990))
    _save("plan", _pages(_plan(_layout("corner_lot")), 1, high=1224))
    _save("as_built", _pages(pdf(as_built_sheet(_compared(shed, "tape_only_shed")), "letter"), 2, high=990))


def _layout(sample: str) -> Layout:
    """A sample site, solved."""
    return solve(read_site(SAMPLES / sample / "site.toml"))


def _compared(layout: Layout, sample: str) -> Comparison:
    """What was set on a sample site, as its list has it, against its layout."""
    asked = Asked("", "", "", layout.site.unit, "the picture")
    told = HowMeasured("", "", "total station", "No. 7", "the crew", "2026-05-06", error=0.0016)
    points, how = read_measured(layout, SAMPLES / sample / "as_set.csv", asked, told)
    return compare(layout, points, how)


def _plan(layout: Layout) -> bytes:
    """The plan sheet as a PDF."""
    return plan_pdf(plan_pages(layout, check(layout)))


def _pages(document: bytes, count: int, *, high: int) -> list[Image.Image]:
    """The first pages of a PDF, so many dots high."""
    source = pypdfium2.PdfDocument(document)
    return [source[n].render(scale=high / source[n].get_height(), grayscale=True).to_pil() for n in range(count)]


def _save(name: str, pages: Sequence[Image.Image]) -> None:
    """Pages side by side as a picture in 16 greys."""
    picture = Image.new("L", (sum(page.width for page in pages), max(page.height for page in pages)), 255)
    left = 0
    for page in pages:
        picture.paste(page, (left, 0))
        left += page.width
    picture.quantize(16).save(HERE / f"{name}.png", optimize=True)


if __name__ == "__main__":
    main()
