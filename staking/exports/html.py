"""How a sheet becomes one page for a telephone or a printer: a single file that needs no network and no scripts."""

from __future__ import annotations

from base64 import b64encode
from functools import cache
from importlib.resources import files
from typing import NamedTuple

from jinja2 import Environment, PackageLoader, StrictUndefined, Template
from markupsafe import Markup, escape

from staking.drawing.fit import fit
from staking.drawing.marks import SymbolMark
from staking.drawing.paper import Fitted
from staking.drawing.thinning import MANY
from staking.exports.columns import natural_widths
from staking.exports.qr import qr_svg
from staking.exports.svg import svg
from staking.exports.unbroken import parts
from staking.sheets.page import Block, Picture, Sheet, Step, Table

# Points that pictures are fitted into: the first that leaves nearly every label its place. A telephone shows about
# 360 CSS pixels (1/96 in) across, so that in the narrowest the text keeps about its printed size there; a crowded
# picture becomes wider than the telephone and is pushed sideways.
_WIDTHS = (250.0, 310.0, 420.0, 540.0)
_TALLEST = 1.3  # of the width; a higher picture does not fit on a telephone

_CODE = 280.0  # CSS pixels across a QR code
_TABLE_TEXT = 15.0  # CSS pixels, as in the style sheet
_PHONE_ROOM = 325.0
_BESIDE_ROOM = 440.0


_HALF_CARD = 150.0  # CSS pixels of a cell that can stand beside another one in a card


class Cell(NamedTuple):
    """One cell of a table. to_fill: a box to write into; where: what a screen reader calls it.

    long: on a telephone it takes a line of its own.
    """

    text: str
    head: str
    right: bool
    to_fill: bool
    where: str
    long: bool = False


def html(sheet: Sheet) -> str:
    """The sheet as one HTML file; it is well-formed XML too."""
    return _template().render(
        sheet=sheet,
        blocks=[(type(block).__name__, block) for block in sheet.blocks],
        writable=any(_has_boxes(block) for block in sheet.blocks),
        regular=_font("Regular"),
        bold=_font("Bold"),
    )


@cache
def _template() -> Template:
    loader = PackageLoader("staking.exports", "templates")
    environment = Environment(
        loader=loader, autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    environment.filters["glued"] = _glued
    environment.globals.update(
        rows=_rows, stacked=_stacked, beside=_beside, fitted=_fitted, drawn=_drawn, code=_code, pushed=_pushed
    )
    return environment.get_template("sheet.html")


@cache
def _font(face: str) -> str:
    # Inside the file, because a telephone may lack eighths and boxes.
    return b64encode((files("staking.exports") / "fonts" / f"StakingSans-{face}.ttf").read_bytes()).decode("ascii")


def _has_boxes(block: Block) -> bool:
    table = block.table if isinstance(block, Step) else block
    return isinstance(table, Table) and bool(table.to_fill)


def _rows(table: Table) -> list[list[Cell]]:
    long = [width > _HALF_CARD for width in natural_widths(table, _TABLE_TEXT)]
    return [[_cell(table, row, column, long=long[column]) for column in range(len(table.head))] for row in table.rows]


def _cell(table: Table, row: tuple[str, ...], column: int, *, long: bool) -> Cell:
    text, head = row[column], table.head[column]
    to_fill = column in table.to_fill and not text.strip()
    return Cell(text, head, column in table.right, to_fill, f"{head}: {row[0]}" if column else head, long)


def _stacked(table: Table) -> bool:
    # Too wide for a telephone: each row becomes a small card there.
    return sum(natural_widths(table, _TABLE_TEXT)) > _PHONE_ROOM


def _beside(table: Table) -> bool:
    # Narrow enough to stand left of a picture on a wide screen.
    return sum(natural_widths(table, _TABLE_TEXT)) <= _BESIDE_ROOM


def _glued(text: str) -> Markup:
    # Lengths stay on one line.
    marked = (f'<span class="length">{escape(part)}</span>' if whole else escape(part) for part, whole in parts(text))
    return Markup("".join(marked))  # noqa: S704  # escaped piece by piece


def _pushed(fitted: Fitted) -> bool:
    # Wider than a telephone: there it is pushed sideways, and says so.
    return fitted.width > _WIDTHS[1]


def _code(text: str) -> Markup:
    return Markup(qr_svg(text, _CODE))  # noqa: S704  # numbers only


def _fitted(picture: Picture) -> Fitted:
    if sum(isinstance(mark, SymbolMark) and bool(mark.label) for mark in picture.drawing.marks) > MANY:
        widest = _at(picture, _WIDTHS[-1])
        if widest.note:
            return widest
    tried = (_at(picture, width) for width in _WIDTHS)
    return next(fitted for fitted in tried if fitted.width == _WIDTHS[-1] or _clear(fitted))


def _at(picture: Picture, width: float) -> Fitted:
    return fit(picture.drawing, width, width * _TALLEST, trim=True)


def _clear(fitted: Fitted) -> bool:
    return not fitted.overlaps and fitted.leaders <= 2 and not fitted.note


def _drawn(fitted: Fitted) -> Markup:
    return Markup(svg(fitted))  # noqa: S704  # every text in it is escaped where it is made
