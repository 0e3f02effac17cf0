"""How are words and tables set in a column of a page, measured before anything is drawn?

Everything set here has its upper left corner at the origin: x right, y up, so what it holds lies below 0.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from staking.drawing.paper import PaperCircle, PaperLine, PaperPolygon, PaperText, Shape, Spot, Stroke
from staking.drawing.widths import text_width

LEAST = 6.5  # points; no text on a plan is smaller

_LINE = 1.24  # distance of lines / size
_RISE = 0.92  # from the top of a line to its baseline / size
_GAP = 6.0  # points between columns of a table
_NARROWEST = 16.0  # points of a column
_LONGEST = 70.0  # points of a word that a column is kept wide enough for
_RULE = Stroke(0.9)
_THIN = Stroke(0.4, "#444444")
_TALL = 150.0  # points; a row that is higher is broken between its lines
_BEFORE = 5.0  # points above the rule over a title


@dataclass(frozen=True, slots=True)
class Sample:
    """A piece of line or a symbol in a table; shapes about an origin in its middle, width and height [points]."""

    shapes: tuple[Shape, ...]
    width: float
    height: float


Cell = str | Sample


@dataclass(frozen=True, slots=True)
class Block:
    """A table with a title. right: columns set flush right. strong: those in bold. first: belongs on the first page."""

    title: str
    rows: tuple[tuple[Cell, ...], ...]
    head: tuple[str, ...] = ()
    right: frozenset[int] = frozenset()
    strong: frozenset[int] = frozenset()
    first: bool = True


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
            tuple(replace(text, at=text.at.moved(x, y)) for text in self.texts),
        )


@dataclass(frozen=True, slots=True)
class SetBlock:
    """A block set in a width: title and head, which stand again where it goes on in another column, and its rows."""

    top: SetRow
    rows: tuple[SetRow, ...]


def moved_shape(shape: Shape, x: float, y: float) -> Shape:
    """The same shape at another place."""
    match shape:
        case PaperLine():
            return replace(shape, start=shape.start.moved(x, y), end=shape.end.moved(x, y))
        case PaperPolygon():
            return replace(shape, corners=tuple(corner.moved(x, y) for corner in shape.corners))
        case PaperCircle():
            return replace(shape, centre=shape.centre.moved(x, y))


def wrapped(text: str, width: float, size: float, *, bold: bool = False) -> tuple[str, ...]:
    """The text in lines no longer than a width [points]; words longer than a line are broken."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, size, bold=bold) <= width:
            lines[-1] = longer
        else:
            lines.extend(_broken(word, width, size, bold=bold))
    return tuple(lines)


def _broken(word: str, width: float, size: float, *, bold: bool) -> Iterator[str]:
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
    texts = tuple(
        PaperText(
            Spot(width / 2 if middle else 0.0, -(n * _LINE + _RISE) * size),
            line,
            size,
            bold,
            anchor="middle" if middle else "left",
        )
        for n, line in enumerate(lines)
    )
    return SetRow(len(lines) * _LINE * size, texts=texts)


def block_set(block: Block, width: float, size: float) -> SetBlock:
    """A block in a width, set in a size [points], or smaller where its figures would not stay on one line."""
    columns, unbroken = _columns(block, width, size)
    if not unbroken and size > LEAST:
        return block_set(block, width, max(LEAST, size - 0.25))
    title = lines_set(block.title, width, size + 0.8, bold=True) if block.title else SetRow(0.0)
    pieces = [title.moved(0, -_BEFORE - 2.5)]
    height = _BEFORE + 3.5 + title.height
    shapes: list[Shape] = [PaperLine(Spot(0, -_BEFORE), Spot(width, -_BEFORE), _RULE)]
    if block.head:
        head = _row(block.head, columns, size, bold=frozenset(range(len(block.head))), right=block.right)
        pieces.append(head.moved(0, -height))
        height += head.height + 1.5
        shapes.append(PaperLine(Spot(0, -height + 1), Spot(width, -height + 1), _THIN))
    top = SetRow(
        height,
        (*shapes, *(shape for piece in pieces for shape in piece.shapes)),
        tuple(text for piece in pieces for text in piece.texts),
    )
    rows = (_row(row, columns, size, bold=block.strong, right=block.right) for row in block.rows)
    return SetBlock(top, tuple(part for row in rows for part in _parts(row, size)))


def _parts(row: SetRow, size: float) -> Iterator[SetRow]:
    """The row, or its lines one by one where it is so high that it might fit into no column."""
    if row.height <= _TALL:
        yield row
        return
    for line in sorted({text.at.y for text in row.texts}, reverse=True):
        rise = -_RISE * size - line
        texts = tuple(replace(text, at=text.at.moved(0, rise)) for text in row.texts if text.at.y == line)
        yield SetRow(_LINE * size, texts=texts)


def _columns(block: Block, width: float, size: float) -> tuple[list[tuple[float, float]], bool]:
    """Left end and width of each column, and whether the figures in columns set flush right stay on one line."""
    rows = [*block.rows, block.head] if block.head else list(block.rows)
    count = max((len(row) for row in rows), default=1)
    wanted = [
        max(
            (_wide(row[i], size, bold=row is block.head or i in block.strong) for row in rows if i < len(row)),
            default=0.0,
        )
        for i in range(count)
    ]
    room = width - _GAP * (count - 1)
    least = [wanted[i] if i in block.right else min(wanted[i], _longest_word(rows, i, size)) for i in range(count)]
    unbroken = sum(least) <= room or not block.right
    wanted = _narrowed(_narrowed(wanted, least, room), [_NARROWEST] * count, room)
    spare = max(0.0, room - sum(wanted)) / max(1, count - 1) if count > 2 else 0.0
    starts = [sum(wanted[:i]) + (_GAP + spare) * i for i in range(count)]
    if count <= 2:
        wanted[-1] = max(wanted[-1], width - starts[-1])
    return list(zip(starts, wanted, strict=True)), unbroken


def _longest_word(rows: Sequence[tuple[Cell, ...]], column: int, size: float) -> float:
    cells = (row[column] for row in rows if column < len(row))
    words = (word for cell in cells if isinstance(cell, str) for word in cell.split())
    return min(_LONGEST, max((text_width(word, size, bold=True) for word in words), default=_NARROWEST) + 0.01)


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


def _wide(cell: Cell, size: float, *, bold: bool) -> float:
    if isinstance(cell, Sample):
        return cell.width
    return text_width(" ".join(cell.split()), size, bold=bold) + 0.01


def _row(
    cells: Sequence[Cell],
    columns: Sequence[tuple[float, float]],
    size: float,
    *,
    bold: frozenset[int],
    right: frozenset[int],
) -> SetRow:
    done = [
        _cell(cell, wide, size, bold=i in bold, right=i in right).moved(start, 0)
        for i, (cell, (start, wide)) in enumerate(zip(cells, columns, strict=False))
    ]
    return SetRow(
        max((each.height for each in done), default=0.0) + 0.8,
        tuple(shape for each in done for shape in each.shapes),
        tuple(text for each in done for text in each.texts),
    )


def _cell(cell: Cell, width: float, size: float, *, bold: bool, right: bool) -> SetRow:
    if isinstance(cell, Sample):
        high = max(cell.height, size * _LINE)
        return SetRow(high, tuple(moved_shape(shape, cell.width / 2, -high / 2) for shape in cell.shapes))
    found = lines_set(cell, width, size, bold=bold)
    if not right:
        return found
    texts = tuple(replace(text, at=Spot(width, text.at.y), anchor="right") for text in found.texts)
    return SetRow(found.height, texts=texts)
