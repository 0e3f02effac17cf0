"""Draws the pictures of the documents from the sample sites, so that they show what the program really prints.

python docs/pictures/make_pictures.py
"""

from __future__ import annotations

from pathlib import Path

import pypdfium2
from PIL import Image

from staking import check, read_site, solve
from staking.exports.pdf import pdf
from staking.sheets.tape_and_string import tape_and_string

HERE = Path(__file__).parent
SHED = HERE.parents[1] / "sample_sites" / "tape_only_shed" / "site.toml"
DOTS = 1.25  # dots a point of paper


def main() -> None:
    """The first three pages of the shed's tape sheet, side by side."""
    layout = solve(read_site(SHED))
    document = pypdfium2.PdfDocument(pdf(tape_and_string(layout, check(layout)), "letter"))
    pages = [document[index].render(scale=DOTS, grayscale=True).to_pil() for index in range(3)]
    width, height = pages[0].size
    picture = Image.new("L", (width * len(pages), height), 255)
    for index, page in enumerate(pages):
        picture.paste(page, (index * width, 0))
    picture.quantize(16).save(HERE / "tape_and_string.png", optimize=True)


if __name__ == "__main__":
    main()
