"""How the faces of Staking Sans and the table of their widths are made from DejaVu Sans (see README.md)."""

from __future__ import annotations

import argparse
from collections import defaultdict
from pathlib import Path

from fontTools import subset  # type: ignore[import-untyped]  # fonttools has no types
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]  # the same

from staking.letters import RUNS

FAMILY = "Staking Sans"
FACES = (("DejaVuSans.ttf", "Regular"), ("DejaVuSans-Bold.ttf", "Bold"))
GLYPHS = ",".join(f"U+{first:04X}-{last:04X}" for first, last in RUNS)
TABLES = "FFTM,GDEF,GPOS,GSUB,MATH,gasp,kern"
KEPT_NAMES = (0, 13, 14)  # copyright, licence, where the licence stands

HEAD = '''"""How wide the letters of the embedded font are, so that a drawing knows where its texts end.

Made by exports/fonts/make_fonts.py from the fonts beside that script; not edited by hand.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

EM = {em}  # units of the tables below in the height of the font


def _by_letter(table: tuple[tuple[int, str], ...]) -> Mapping[str, int]:
    return MappingProxyType({{letter: width for width, letters in table for letter in letters}})


'''

FOOT = '''
_OTHER = 1229  # a letter that the font has not: the width of its empty box


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Width of a text [points] set in `size` [points].

    >>> round(text_width("103", 10.0), 2)
    19.09
    """
    return _units(text, bold) * size / EM


@lru_cache(maxsize=16384)  # each text is measured for its column, its label and its page
def _units(text: str, bold: bool) -> int:
    table = BOLD if bold else REGULAR
    return sum([table.get(letter, _OTHER) for letter in text])
'''


def made(source: Path, style: str, target: Path) -> None:
    """Write the subset of one face under its new name."""
    subset.main(
        [
            str(source),
            f"--unicodes={GLYPHS}",
            "--no-hinting",
            "--layout-features=",
            "--notdef-outline",
            "--name-IDs=*",
            f"--drop-tables+={TABLES}",
            f"--output-file={target}",
        ]
    )
    font = TTFont(target, recalcTimestamp=False)
    names = font["name"]
    names.names = [record for record in names.names if record.nameID in KEPT_NAMES]
    postscript = FAMILY.replace(" ", "") + ("" if style == "Regular" else f"-{style}")
    own = {
        1: FAMILY,
        2: style,
        3: f"{FAMILY} {style} 1",
        4: f"{FAMILY} {style}",
        5: "Version 1.0",
        6: postscript,
    }
    for number, text in own.items():
        names.setName(text, number, 3, 1, 0x409)
    font.save(target)


def table(path: Path, name: str) -> str:
    """The widths of one face as lines of Python: letters of the same width share a line."""
    font = TTFont(path)
    letters = defaultdict(list)
    for code, glyph in sorted(font.getBestCmap().items()):
        letters[font["hmtx"][glyph][0]].append(chr(code))
    lines = "".join(f"        ({width}, {''.join(these)!a}),\n" for width, these in sorted(letters.items()))
    return f"{name}: Mapping[str, int] = _by_letter(\n    (\n{lines}    )\n)\n"


def main() -> None:
    """Make both faces beside this script, and the table of widths for the drawings."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path, help="folder that holds DejaVuSans.ttf and DejaVuSans-Bold.ttf")
    folder, here = parser.parse_args().folder, Path(__file__).parent
    targets = {style: here / f"StakingSans-{style}.ttf" for _, style in FACES}
    for file, style in FACES:
        made(folder / file, style, targets[style])
    tables = [table(targets[style], style.upper()) for _, style in FACES]
    head = HEAD.format(em=TTFont(targets["Regular"])["head"].unitsPerEm)
    module = here.parent.parent / "drawing" / "widths.py"
    module.write_text(head + "".join(tables) + FOOT, encoding="utf-8")


if __name__ == "__main__":
    main()
