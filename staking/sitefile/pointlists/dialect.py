"""What stands between the columns of a list, and what between the units and the tenths of its figures?"""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from staking.errors import TextError
from staking.sitefile.columns import ColumnError, from_header
from staking.sitefile.figures import is_figure

SIGNS: Mapping[str, str] = MappingProxyType(
    {"\t": "tabs", ";": "semicolons", "|": "upright bars", ",": "commas", " ": "blanks"}
)
_SAMPLE = 200  # lines that are tried; own choice
_THOUSANDS = re.compile(r"[+-]?\d{1,3}(?:,\d{3})+")
_UNCLOSED = "a quote is opened and not closed where the cell ends; within quotes write two for one"


@dataclass(frozen=True, slots=True)
class Dialect:
    """How a list is written: the sign between columns (one blank stands for any number), the sign before decimals."""

    sign: str
    comma: bool = False

    @property
    def words(self) -> str:
        """As people read it."""
        return f"{SIGNS[self.sign]} between columns, decimals after a {'comma' if self.comma else 'point'}"


def split_line(line: str, sign: str, most: int = 0) -> list[str]:
    """The cells of one line (RFC 4180, section 2).

    most: between blanks no more cells than this; the last one takes the rest. Raises ValueError for a quote that is
    not closed on the line, and for text behind a closed one.
    """
    if sign == " " and '"' not in line:
        return line.split(None, most - 1 if most else -1)
    try:
        cells = next(csv.reader([line], delimiter=sign, strict=True, skipinitialspace=True))
    except csv.Error:
        raise ValueError(_UNCLOSED) from None
    return [cell for cell in cells if cell] if sign == " " else cells


def tell_dialect(lines: Sequence[str], decimal: str = "") -> Dialect:
    """The way in which most lines hold a name and two figures, or the first one is a header.

    decimal: "point" or "comma" where somebody says so. Where no way serves better than another, tabs go before
    semicolons, those before bars, commas and blanks, a point before a comma. Raises ColumnError where commas could
    mark decimals as well as thousands.
    """
    sample = lines[:_SAMPLE]
    commas = (False, True) if not decimal else (decimal == "comma",)
    ways = [Dialect(sign, comma) for comma in commas for sign in SIGNS]
    ratings = [_rating(way, sample) for way in ways]
    best = ways[max(range(len(ways)), key=lambda at: ratings[at])]
    if max(ratings)[:2] == (0, 0.0):
        best = Dialect(next((sign for sign in "\t;|," if sign in (sample or [""])[0]), ","), commas[0])
    if best.comma and not decimal:
        _check_thousands(best, sample)
    return best


def _rating(way: Dialect, sample: Sequence[str]) -> tuple[int, float, float]:
    """Whether the first line is a header, the share of lines with two figures, and how many figures a line has."""
    counts = []
    for line in sample:
        if way.sign == " " and "\t" in line:
            continue  # tabs are no blanks: between them names and notes may hold blanks
        try:
            cells = split_line(line, way.sign)
        except ValueError:
            continue
        counts.append(sum(is_figure(cell, way.comma) for cell in cells) if len(cells) > 2 else 0)
    header = int(bool(sample) and not (way.sign == " " and "\t" in sample[0]) and _is_header(sample[0], way.sign))
    good = [count for count in counts if count > 1]
    return header, len(good) / max(1, len(sample)), sum(good) / max(1, len(good))


def _is_header(line: str, sign: str) -> bool:
    try:
        return from_header(split_line(line, sign)) is not None
    except ColumnError:
        return True
    except ValueError:
        return False


def _check_thousands(way: Dialect, sample: Sequence[str]) -> None:
    """Raise ColumnError where every figure with a comma could be a number of thousands."""
    cells = [cell.strip() for line in sample for cell in _cells_or_none(line, way.sign) if "," in cell]
    figures = [cell for cell in cells if is_figure(cell, comma=True)]
    if figures and all(_THOUSANDS.fullmatch(cell) for cell in figures):
        raise ColumnError(
            f"the comma in {figures[0]} could mark decimals or thousands",
            'if decimals, write decimal = "comma" in [[point_files]], or --decimal comma; if thousands, take it out',
        )


def _cells_or_none(line: str, sign: str) -> list[str]:
    try:
        return split_line(line, sign)
    except ValueError:
        return []


def with_point(comma: bool) -> Callable[[str], str]:
    """How a figure of the list becomes one with a point. What is made raises TextError for a point in it."""

    def changed(cell: str) -> str:
        if "." in cell or cell.count(",") > 1:
            raise TextError(
                f"`{cell[:40]}` cannot be read as a length: in this list a comma stands before decimals",
                "write one comma before decimals and nothing between thousands",
            )
        return cell.replace(",", ".")

    return changed if comma else str
