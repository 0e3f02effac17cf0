"""How does a list of points of any length go into a table, block by block?

The table is that of points.csv: the same columns, header, line ends, decimals and care for spreadsheets.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import repeat
from pathlib import Path
from typing import IO

from staking.exports.points_csv import COLUMNS, harmless
from staking.exports.rows import GIVEN
from staking.notation import COORDINATE_DECIMALS, Notation
from staking.sitefile.new_file import new_file
from staking.sitefile.pointlists.blocks import Block

_BARE = re.compile(r"(?:[A-Za-z0-9][A-Za-z0-9 ._+/()-]*)?")  # needs neither quotes nor an apostrophe


def write_points(path: Path, blocks: Iterable[Block], notation: Notation) -> int:
    """Blocks into a new file, in the unit of a notation; the number of points.

    The file is whole or absent. Raises OutputError for one that is there already or cannot be written, and passes on
    whatever the blocks raise.
    """
    with new_file(path) as file:
        return _written(file, blocks, notation)


def _written(file: IO[bytes], blocks: Iterable[Block], notation: Notation) -> int:
    count = -1  # the header is no point
    for part in table_parts(blocks, notation):
        file.write(part)
        count += part.count(b"\r\n")
    return count


def table_parts(blocks: Iterable[Block], notation: Notation) -> Iterator[bytes]:
    """The table piece by piece: its header, then each block."""
    yield (",".join(COLUMNS) + "\r\n").encode("ascii")
    for block in blocks:
        lengths = (block.north, block.east, block.elevation)
        columns = [notation.decimals_column(column, COORDINATE_DECIMALS) for column in lengths]
        rows = zip(_cells(block.names), *columns, repeat(GIVEN), _cells(block.notes), strict=False)
        yield "".join(map("%s,%s,%s,%s,%s,%s\r\n".__mod__, rows)).encode("utf-8")


def _cells(texts: Sequence[str]) -> Sequence[str]:
    """Texts as cells of the table."""
    if all(map(_BARE.fullmatch, texts)):
        return texts
    return [text if _BARE.fullmatch(text) else _quoted(harmless(text)) for text in texts]


def _quoted(text: str) -> str:
    """One cell as RFC 4180 has it, quoted where it must be."""
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="").writerow([text, ""])
    return out.getvalue()[:-1]
