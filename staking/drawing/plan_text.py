"""How are words and tables set in a column of a page, measured before anything is drawn?

Everything set here has its upper left corner at the origin: x right, y up, so what it holds lies below 0.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache, partial
from typing import NamedTuple

from staking.drawing.paper import Anchor, PaperCircle, PaperLine, PaperPolygon, PaperText, Shape, Spot, Stroke
from staking.drawing.widths import text_width

LEAST = 6.5  # points; no text on a plan is smaller

_LINE = 1.24  # distance of lines / size
_RISE = 0.92  # from the top of a line to its baseline / size
_GAP = 6.0  # points between columns of a table
_NARROWEST = 16.0  # points of a column
_LONGEST = 70.0  # points of a word that a column is kept wide enough for
_HAIR = 0.01  # points that a column is wider than its widest text
_RULE = Stroke(0.9)
_THIN = Stroke(0.4, "#444444")
_TALL = 150.0  # points; a row that is higher is broken between its lines
_APART = 2.2  # points above and below a row of two lines: its name must not be read with other figures
_BEFORE = 5.0  # points above the rule over a title
_NEARLY = 1e-6  # of a line


@dataclass(frozen=True, slots=True)
class Sample:
    """A piece of line or a symbol in a table; shapes about an origin in its middle, width and height [points]."""

    shapes: tuple[Shape, ...]
    width: float
    height: float


Cell = str | Sample


@dataclass(frozen=True, slots=True)
class Block:
    """A table with a title. right: columns set flush right. strong: those in bold. first: belongs on the first page.

    over: a text of the first column that is too long for it stands over the rest of its row.
    """

    title: str
    rows: tuple[tuple[Cell, ...], ...]
    head: tuple[str, ...] = ()
    right: frozenset[int] = frozenset()
    strong: frozenset[int] = frozenset()
    first: bool = True
    over: bool = False


@dataclass(frozen=True, slots=True)
class SetRow:
    """Something set: how high it is [points], and what it is made of."""

    height: float
    shapes: tuple[Shape, ...] = ()
    texts: tuple[PaperText, ...] = ()

    def moved(self, x: float, y: float) -> SetRow:
        """The same at another place."""
        return SetRow(
            self.height,
            tuple(moved_shape(shape, x, y) for shape in self.shapes),
            tuple(moved_text(text, x, y) for text in self.texts),
        )


@dataclass(frozen=True)
class Measured:
    """Something whose height [points] is known: it is measured for many a column, drawn in one, and made then."""

    height: float
    make: Callable[[], SetRow]

    @cached_property
    def drawn(self) -> SetRow:
        """What it is made of."""
        return self.make()

    @property
    def shapes(self) -> tuple[Shape, ...]:
        """Its lines and samples."""
        return self.drawn.shapes

    @property
    def texts(self) -> tuple[PaperText, ...]:
        """Its words."""
        return self.drawn.texts

    def moved(self, x: float, y: float) -> SetRow:
        """The same at another place."""
        return self.drawn.moved(x, y)


@dataclass(frozen=True, slots=True)
class SetBlock:
    """A block set in a width: title and head, which stand again where it goes on in another column, and its rows."""

    top: Measured
    rows: tuple[SetRow | Measured, ...]

    @property
    def height(self) -> float:
        """Of all of it, in one column [points]."""
        return self.top.height + sum(row.height for row in self.rows)


def moved_shape(shape: Shape, x: float, y: float) -> Shape:
    """The same shape at another place."""
    match shape:
        case PaperLine():
            return PaperLine(shape.start.moved(x, y), shape.end.moved(x, y), shape.stroke)
        case PaperPolygon():
            corners = tuple(corner.moved(x, y) for corner in shape.corners)
            return PaperPolygon(corners, shape.closed, shape.stroke, shape.fill)
        case PaperCircle():
            return PaperCircle(shape.centre.moved(x, y), shape.radius, shape.stroke, shape.fill)


def moved_text(text: PaperText, x: float, y: float) -> PaperText:
    """The same text at another place."""
    return PaperText(text.at.moved(x, y), text.text, text.size, text.bold, text.rotation, text.anchor, text.colour)


def wrapped(text: str, width: float, size: float, *, bold: bool = False) -> tuple[str, ...]:
    """The text in lines no longer than a width [points]; words longer than a line are broken."""
    lines: list[str] = []
    space, filled = text_width(" ", 1.0, bold=bold), 0.0  # at a size of 1, where widths of words are added exactly
    for word in text.split():
        wide = text_width(word, 1.0, bold=bold)
        if lines and (filled + space + wide) * size <= width:
            lines[-1] = f"{lines[-1]} {word}"
            filled += space + wide
        else:
            lines.extend(_broken(word, width, size, bold=bold))
            filled = text_width(lines[-1], 1.0, bold=bold)
    return tuple(lines)


def _whole(text: str) -> tuple[str, ...]:
    words = " ".join(text.split())
    return (words,) if words else ()


def _broken(word: str, width: float, size: float, *, bold: bool) -> Iterator[str]:
    if text_width(word, size, bold=bold) <= width:
        yield word
        return
    piece = ""
    for letter in word:
        if piece and text_width(piece + letter, size, bold=bold) > width:
            yield piece
            piece = ""
        piece += letter
    yield piece


def lines_set(text: str, width: float, size: float, *, bold: bool = False, middle: bool = False) -> SetRow:
    """Running text in a width; middle: each line centred."""
    lines = wrapped(text, width, size, bold=bold)
    return _lines(lines, size, bold=bold, at=width / 2 if middle else 0.0, anchor="middle" if middle else "left")


def _lines(lines: Sequence[str], size: float, *, bold: bool, at: float = 0.0, anchor: Anchor = "left") -> SetRow:
    texts = tuple(
        PaperText(Spot(at, -(n * _LINE + _RISE) * size), line, size, bold, anchor=anchor)
        for n, line in enumerate(lines)
    )
    return SetRow(len(lines) * _LINE * size, texts=texts)


def block_set(block: Block, width: float, size: float) -> SetBlock:
    """A block in a width, set in a size [points], or smaller where its figures would not stay on one line."""
    columns, unbroken = _columns(block, width, size)
    if not unbroken and size > LEAST:
        return block_set(block, width, max(LEAST, size - 0.25))
    rows = (_block_row(block, row, columns, width, size) for row in block.rows)
    return SetBlock(_top(block, width, columns, size), tuple(part for row in rows for part in _parts(row, size)))


def least_high(block: Block, width: float) -> float:
    """A height [points] below which a block in a width never comes, found quickly: each text alone in its row."""
    space = text_width(" ", LEAST)
    longest = (
        max((text_width(" ".join(it.split()), LEAST) for it in row if isinstance(it, str)), default=0.0)
        for row in block.rows
    )
    lines = sum(math.ceil((long + space) / (width + space) - _NEARLY) for long in longest if long)
    return (_BEFORE if block.title else 0.0) + lines * _LINE * LEAST


def _top(block: Block, width: float, columns: Sequence[_Column], size: float) -> Measured:
    """Title and head."""
    title = wrapped(block.title, width, size + 0.8, bold=True)
    high = len(title) * _LINE * (size + 0.8)
    head = _row(block.head, columns, size, bold=frozenset(range(len(block.head))), right=block.right)
    height = _BEFORE + 3.5 + high
    return Measured(
        height + head.height + 1.5 if block.head else height,
        partial(_top_drawn, title, size + 0.8, head if block.head else None, (width, height)),
    )


def _top_drawn(title: Sequence[str], size: float, head: Measured | None, area: tuple[float, float]) -> SetRow:
    # area: width of the column, height of the title
    width, height = area
    pieces = [_lines(title, size, bold=True).moved(0, -_BEFORE - 2.5)]
    shapes: list[Shape] = [PaperLine(Spot(0, -_BEFORE), Spot(width, -_BEFORE), _RULE)]
    if head is not None:
        pieces.append(head.moved(0, -height))
        height += head.height + 1.5
        shapes.append(PaperLine(Spot(0, -height + 1), Spot(width, -height + 1), _THIN))
    return _joined(height, pieces, shapes)


def _joined(height: float, pieces: Sequence[SetRow], shapes: Sequence[Shape] = ()) -> SetRow:
    more = (shape for piece in pieces for shape in piece.shapes)
    return SetRow(height, (*shapes, *more), tuple(text for piece in pieces for text in piece.texts))


def _parts(row: Measured, size: float) -> Iterator[SetRow | Measured]:
    """The row, or its lines one by one where it is so high that it might fit into no column."""
    if row.height <= _TALL:
        yield row
        return
    for line in sorted({text.at.y for text in row.texts}, reverse=True):
        rise = -_RISE * size - line
        texts = tuple(moved_text(text, 0, rise) for text in row.texts if text.at.y == line)
        yield SetRow(_LINE * size, texts=texts)


class _Column(NamedTuple):
    """Left end and width [points], and whether nothing in it has to be broken."""

    start: float
    width: float
    fits: bool


class _Widest(NamedTuple):
    """The widest things of a column: samples [points], texts and words [points at a size of 1]; None: there is none."""

    samples: float
    text: float | None
    word: float | None

    def wanted(self, size: float) -> float:
        """The width [points] in which nothing of the column is broken."""
        return self.samples if self.text is None else max(self.samples, self.text * size + _HAIR)

    def word_wide(self, size: float) -> float:
        """The width [points] in which none of its words is broken, unless the word is very long."""
        return min(_LONGEST, (_NARROWEST if self.word is None else self.word * size) + _HAIR)


@lru_cache(maxsize=64)  # a block is set in columns of many widths
def _widest(block: Block) -> tuple[_Widest, ...]:
    rows = [*block.rows, block.head] if block.head else list(block.rows)
    return tuple(
        _widest_of([(row[i], row is block.head or i in block.strong) for row in rows if i < len(row)])
        for i in range(max((len(row) for row in rows), default=1))
    )


def _widest_of(cells: Sequence[tuple[Cell, bool]]) -> _Widest:
    texts = [(cell.split(), bold) for cell, bold in cells if isinstance(cell, str)]
    return _Widest(
        max((cell.width for cell, _ in cells if isinstance(cell, Sample)), default=0.0),
        max((text_width(" ".join(words), 1.0, bold=bold) for words, bold in texts), default=None),
        max((text_width(word, 1.0, bold=True) for words, _ in texts for word in words), default=None),
    )


def _columns(block: Block, width: float, size: float) -> tuple[list[_Column], bool]:
    """The columns, and whether the figures in those set flush right stay on one line."""
    widest = _widest(block)
    wanted = [column.wanted(size) for column in widest]
    count = len(wanted)
    room = width - _GAP * (count - 1)
    least = [wanted[i] if i in block.right else min(wanted[i], widest[i].word_wide(size)) for i in range(count)]
    if block.over:
        least[0] = min(wanted[0], _NARROWEST)
    whole = list(wanted)
    unbroken = sum(least) <= room or not block.right
    wanted = _narrowed(_narrowed(wanted, least, room), [_NARROWEST] * count, room)
    spare = max(0.0, room - sum(wanted)) / max(1, count - 1) if count > 2 else 0.0
    starts = [sum(wanted[:i]) + (_GAP + spare) * i for i in range(count)]
    if count <= 2:
        wanted[-1] = max(wanted[-1], width - starts[-1])
    fits = (width >= need for width, need in zip(wanted, whole, strict=True))
    return list(map(_Column, starts, wanted, fits)), unbroken


def _narrowed(wanted: Sequence[float], least: Sequence[float], room: float) -> list[float]:
    """Widths of columns, the widest made narrower first, until all fit into the room or none can give any more."""
    widths = list(wanted)
    while sum(widths) > room:
        spare = [have - need for have, need in zip(widths, least, strict=True)]
        if max(spare) <= 0:
            break
        widest = max((i for i in range(len(widths)) if spare[i] > 0), key=widths.__getitem__)
        widths[widest] -= min(spare[widest], max(1.0, (sum(widths) - room) / 4))
    return widths


def _block_row(block: Block, cells: Sequence[Cell], columns: Sequence[_Column], width: float, size: float) -> Measured:
    """A row of a block in its columns, its first text over the rest where the block asks for that."""
    first = cells[0]
    row = partial(_row, columns=columns, size=size, bold=block.strong, right=block.right)
    bold = 0 in block.strong
    if not block.over or not isinstance(first, str):
        return row(cells)
    long = text_width(first, size, bold=bold) + _HAIR
    if long <= _room_before(cells[1], columns[0], columns[1], size, bold=1 in block.strong):
        return row(cells, columns=[columns[0]._replace(width=max(long, columns[0].width), fits=True), *columns[1:]])
    over, rest = lines_set(first, width, size, bold=bold), row(("", *cells[1:]))
    return Measured(over.height + rest.height + 2 * _APART, partial(_over_drawn, over, rest))


def _room_before(cell: Cell, left: _Column, right: _Column, size: float, *, bold: bool) -> float:
    """The width from a column to what stands flush right in the next."""
    wide = text_width(cell, size, bold=bold) if isinstance(cell, str) else right.width
    return max(left.width, right.start + right.width - wide - _GAP - left.start)


def _over_drawn(over: SetRow, rest: Measured) -> SetRow:
    lowered = rest.moved(0, -over.height - _APART)
    return _joined(over.height + rest.height + 2 * _APART, (over.moved(0, -_APART), lowered))


def _row(
    cells: Sequence[Cell],
    columns: Sequence[_Column],
    size: float,
    *,
    bold: frozenset[int],
    right: frozenset[int],
) -> Measured:
    made = tuple(
        _measured(cell, column, size, bold=i in bold, right=i in right)
        for i, (cell, column) in enumerate(zip(cells, columns, strict=False))
    )
    height = max((cell.height for cell in made), default=0.0) + 0.8
    return Measured(height, partial(_row_drawn, height, made))


def _row_drawn(height: float, cells: Sequence[Measured]) -> SetRow:
    return _joined(height, [cell.drawn for cell in cells])


def _measured(cell: Cell, column: _Column, size: float, *, bold: bool, right: bool) -> Measured:
    start, width, fits = column
    if isinstance(cell, Sample):
        high = max(cell.height, size * _LINE)
        return Measured(high, partial(_sample_drawn, cell, high, start))
    lines = _whole(cell) if fits else wrapped(cell, width, size, bold=bold)
    anchor: Anchor = "right" if right else "left"
    at = start + width if right else start
    return Measured(len(lines) * _LINE * size, partial(_lines, lines, size, bold=bold, at=at, anchor=anchor))


def _sample_drawn(sample: Sample, height: float, start: float) -> SetRow:
    return SetRow(height, tuple(moved_shape(shape, sample.width / 2, -height / 2) for shape in sample.shapes)).moved(
        start, 0
    )
