"""How each block of a sheet is set on a page in PDF."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import zip_longest
from typing import NamedTuple

from reportlab.lib import colors
from reportlab.platypus import CondPageBreak, Flowable, KeepTogether
from reportlab.platypus.tables import TableStyle

from staking.drawing.widths import text_width
from staking.exports.columns import natural_widths
from staking.exports.pdf_kept import Grid
from staking.exports.pdf_parts import FittedPicture, QrSquares, StepHead
from staking.exports.pdf_style import (
    BODY,
    BODY_SIZE,
    BULLET,
    CAPTION,
    FRAME_TITLE,
    HEADING,
    LARGE,
    REGULAR,
    SMALL,
    STRONG,
    TABLE_SIZE,
    paragraph,
)
from staking.exports.pdf_table import grid, split_inside
from staking.sheets.page import (
    Block,
    Bullets,
    Cautions,
    Heading,
    Paragraph,
    Picture,
    QrCode,
    Signatures,
    Step,
    Table,
    Verdict,
)

_PICTURE_SHARE = 0.45  # of the width of a step
_GUTTER = 12.0
_IN_FRAME = 9.0  # points between a heavy frame and what stands in it
_FIRST_ROWS = 2  # of a table, at the least, under the words over it
_CROWDED = 1.15  # a table may be squeezed so much to stand beside a picture


class Room(NamedTuple):
    """The room on a page: width and height [points], and its width as a share of that of letter paper."""

    width: float
    height: float
    share: float


Piece = Flowable | list[Flowable]  # a list is kept together on one page


def flowables(blocks: Sequence[Block], room: Room) -> Iterator[Flowable]:
    """The pieces of all blocks, one below the other; a heading never stands alone at the foot of a page.

    Nor do words over a table, nor signatures at its head.
    """
    headings: list[Flowable] = []
    for block, following in zip_longest(blocks, blocks[1:]):
        pieces = _pieces(block, room)
        if isinstance(block, Heading):
            headings.extend(_loose(pieces))
            continue
        if isinstance(block, Paragraph) and isinstance(following, Table):
            yield CondPageBreak(_begun([*headings, *_loose(pieces)], following, room))
        pieces, headings = _headed(headings, pieces, room), []
        if isinstance(following, Signatures) and isinstance(block, Paragraph | Bullets | Cautions):
            headings = [*_loose([pieces.pop()])]  # nobody signs a page with nothing on it
        yield from map(_flowable, pieces)
    yield from headings


def _begun(words: list[Flowable], table: Table, room: Room) -> float:
    """The height [points] of words over a table and of its first rows, without which the words say nothing."""
    begun = [*words, grid(replace(table, rows=table.rows[:_FIRST_ROWS]), room.width)]
    return min(sum(_height(piece, room) for piece in begun), room.height)


def _height(piece: Flowable, room: Room) -> float:
    return float(piece.getSpaceBefore() + piece.wrap(room.width, room.height)[1] + piece.getSpaceAfter())


def _flowable(piece: Piece) -> Flowable:
    return KeepTogether(piece) if isinstance(piece, list) else piece


def _loose(pieces: Sequence[Piece]) -> Iterator[Flowable]:
    for piece in pieces:
        yield from piece if isinstance(piece, list) else (piece,)


def _headed(headings: list[Flowable], pieces: list[Piece], room: Room) -> list[Piece]:
    """The pieces with headings over them, which go where the first piece goes."""
    if not headings or not pieces:
        return [*headings, *pieces]
    first = list(_loose(pieces[:1]))
    joined = [*headings, *first]
    if _fits(joined, room):
        return [joined, *pieces[1:]]
    # More than a page together: the beginning of the first piece is enough.
    begun = len(headings) + 2
    return [joined[:begun], *joined[begun:], *pieces[1:]]


def _pieces(block: Block, room: Room) -> list[Piece]:
    pieces: list[Piece]
    match block:
        case Heading(text=text):
            pieces = [paragraph(text, HEADING)]
        case Paragraph(text=text, strong=strong):
            pieces = [paragraph(text, STRONG if strong else BODY)]
        case Bullets(items=items):
            pieces = [*_bullets(items)]
        case Table():
            pieces = [grid(block, room.width)]
        case Picture():
            pieces = [_picture(block, room, room.width)]
        case QrCode(text=text, caption=caption, size=size):
            pieces = [[QrSquares(text, size), paragraph(caption, CAPTION)]]
        case Step():
            pieces = _step(block, room)
        case Verdict():
            pieces = [[_verdict(block, room)]]
        case Cautions(items=items):
            pieces = [[_cautions(items, room)]]
        case Signatures(roles=roles):
            pieces = [[_signatures(roles, room)]]
    return pieces


def _bullets(items: Sequence[str]) -> list[Flowable]:
    return [paragraph(item, BULLET, bullet="•") for item in items]


def _picture(picture: Picture, room: Room, width: float) -> list[Flowable]:
    height = min(picture.height * room.share, room.height * 0.8)
    drawn = FittedPicture(picture.drawing, width, height)
    words = (drawn.fitted.note, picture.caption)
    return [drawn, *(paragraph(text, CAPTION) for text in words if text)]


def _step(step: Step, room: Room) -> list[Piece]:
    head = StepHead(step.number, step.title)
    words: list[Flowable] = [paragraph(text) for text in step.text]
    if step.picture is None:
        table = [grid(step.table, room.width)] if step.table else []
        return _together([head, *words, *table], room)
    beside = room.width * (1 - _PICTURE_SHARE) - _GUTTER
    picture = _picture(step.picture, room, room.width * _PICTURE_SHARE)
    narrow = step.table is not None and sum(natural_widths(step.table, TABLE_SIZE)) <= beside * _CROWDED
    left = [*words, grid(step.table, beside)] if step.table and narrow else words
    below = [grid(step.table, room.width)] if step.table and not narrow else []
    body = _side_by_side(left, picture, (beside, room.width * _PICTURE_SHARE))
    whole = _together([head, body, *below], room)
    if len(whole) == 1 or _fits([head, body], room):
        return whole
    return _over_pages(head, [*picture, *words], step.table, room)


def _side_by_side(left: Sequence[Flowable], right: Sequence[Flowable], widths: tuple[float, float]) -> Grid:
    made = Grid([[list(left), "", list(right)]], colWidths=[widths[0], _GUTTER, widths[1]], spaceAfter=4)
    made.setStyle(TableStyle([*_BARE, ("VALIGN", (0, 0), (-1, -1), "TOP")]))
    return made


_BARE = (
    ("FONT", (0, 0), (-1, -1), REGULAR, TABLE_SIZE),
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 0),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
)


def _fits(pieces: Sequence[Flowable], room: Room) -> bool:
    return sum(piece.wrap(room.width, room.height)[1] + piece.getSpaceAfter() for piece in pieces) <= room.height


def _together(pieces: list[Flowable], room: Room) -> list[Piece]:
    if _fits(pieces, room):
        return [pieces]
    # Longer than a page: only the head must not stand alone at its foot.
    return [pieces[:2], *pieces[2:]] if len(pieces) > 2 else [*pieces]


def _over_pages(head: StepHead, body: list[Flowable], table: Table | None, room: Room) -> list[Piece]:
    below = [grid(table, room.width)] if table else []
    return [[head, *body[:1]], *body[1:], *below]


def _cautions(items: Sequence[str], room: Room) -> Grid:
    rows: list[list[Flowable | str]] = [[piece] for piece in (paragraph("Cautions", FRAME_TITLE), *_bullets(items))]
    return _framed(rows, [room.width], split_inside(items))


def _verdict(verdict: Verdict, room: Room) -> Grid:
    """Large words over the whole width; below them a word a line, and the sentence beside it."""
    first = max((text_width(word, BODY_SIZE, bold=True) for word, _ in verdict.lines), default=0.0) + 2 * _IN_FRAME
    rows: list[list[Flowable | str]] = [[paragraph(verdict.text, LARGE), ""]]
    rows += [[paragraph(word, STRONG), paragraph(text)] for word, text in verdict.lines]
    return _framed(rows, [first, room.width - first], split_inside(text for _, text in verdict.lines), wide_head=True)


def _framed(rows: list[list[Flowable | str]], widths: Sequence[float], inside: int, *, wide_head: bool = False) -> Grid:
    made = Grid(rows, colWidths=widths, splitInRow=inside, spaceBefore=8, spaceAfter=8)
    made.setStyle(
        TableStyle(
            [
                ("FONT", (0, 0), (-1, -1), REGULAR, TABLE_SIZE),
                ("BOX", (0, 0), (-1, -1), 2.6, colors.black),
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("LEFTPADDING", (0, 0), (-1, -1), _IN_FRAME),
                ("RIGHTPADDING", (0, 0), (-1, -1), _IN_FRAME),
                ("TOPPADDING", (0, 0), (-1, -1), 1),
                ("TOPPADDING", (0, 0), (-1, 0), 6),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 1),
                ("BOTTOMPADDING", (0, -1), (-1, -1), 7),
                *([("SPAN", (0, 0), (-1, 0))] if wide_head else []),
            ]
        )
    )
    return made


def _signatures(roles: Sequence[str], room: Room) -> Grid:
    share = (0.24, 0.46, 0.04, 0.26)
    rows = [row for role in roles for row in (["", "", "", ""], _signed(role))]
    heights = [row_height for _ in roles for row_height in (22, None)]
    made = Grid(rows, colWidths=[room.width * part for part in share], rowHeights=heights, spaceBefore=6)
    lines = [
        ("LINEABOVE", (column, row), (column, row), 0.9, colors.black)
        for row in range(1, len(rows), 2)
        for column in (1, 3)
    ]
    made.setStyle(TableStyle([*_BARE, ("VALIGN", (0, 0), (-1, -1), "TOP"), *lines]))
    return made


def _signed(role: str) -> list[Flowable | str]:
    return [paragraph(role, STRONG), paragraph("name and signature", SMALL), "", paragraph("date", SMALL)]
