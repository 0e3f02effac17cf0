"""A text as the black and white squares of a QR code (ISO/IEC 18004); the only door to segno."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

import segno

Squares = tuple[tuple[bool, ...], ...]

QUIET = 4  # squares of white on every side; ISO/IEC 18004 asks for four, from memory


def squares(text: str) -> Squares:
    """The rows of squares, True where black, without the white border. UTF-8; a tenth and more may be unreadable."""
    code = segno.make(text.encode(), error="m", micro=False, boost_error=False)
    return tuple(tuple(bool(square) for square in row) for row in code.matrix)


def runs(rows: Squares) -> Iterator[tuple[int, int, int]]:
    """Black squares side by side as one: row and column of the first, and how many."""
    for down, row in enumerate(rows):
        at = 0
        for black, group in groupby(row):
            count = len(list(group))
            if black:
                yield down, at, count
            at += count


def qr_svg(text: str, width: float) -> str:
    """The code with its white border as SVG, so wide [CSS pixels]; crisp on a telephone."""
    rows = squares(text)
    size = len(rows) + 2 * QUIET
    path = "".join(f"M{QUIET + at} {QUIET + down}h{count}v1h-{count}z" for down, at, count in runs(rows))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:g}" height="{width:g}" viewBox="0 0 {size} {size}" '
        f'shape-rendering="crispEdges" role="img"><title>QR code</title><rect width="{size}" height="{size}" '
        f'fill="#ffffff"/><path d="{path}" fill="#000000"/></svg>'
    )
