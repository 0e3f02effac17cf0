"""Is a cell of a list a figure, with a point or a comma before its decimals?"""

from __future__ import annotations

import re

_MARKED = r"(?: ?(?:m|ft|ftus|usft|feet)|'(?: ?-?\d[\d /.-]*\"?)?)?"
_POINT = re.compile(rf"[+-]?(?:\d+(?:\.\d*)?|\.\d+){_MARKED}", re.IGNORECASE)
_COMMA = re.compile(rf"[+-]?(?:\d+(?:,\d*)?|,\d+){_MARKED}", re.IGNORECASE)


def is_figure(cell: str, comma: bool) -> bool:
    """Whether a cell holds a number, or a length with its unit or in feet and inches."""
    return (_COMMA if comma else _POINT).fullmatch(cell.strip()) is not None
