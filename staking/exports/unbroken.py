"""Which parts of a text may not be torn apart at the end of a line: a length belongs together, and so does a bearing.

`9'` at the end of one line and `2-1/2"` at the beginning of the next are read as nine feet; `side 2-` and `3`, as 2.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

_LENGTH = re.compile(
    r"""
    \d+['′][ -]?\d+(?:[ -]\d+/\d+|[⅛¼⅜½⅝¾⅞])?["″]   # feet and inches
    | \d+[ -]\d+/\d+[ ]?(?:["″]|in\b)                # inches and a fraction
    | \d[\d,]*(?:\.\d+)?[ ](?:ftUS|ft|in|mm|m)\b     # a number with its unit
    | \b[NS][ ]\d+°(?:\d+'(?:\d+")?)?[ ][EW]\b       # a bearing
    | \b\d+(?:-\d+)+\b                              # a side or diagonal by its corners
    """,
    re.VERBOSE,
)


def parts(text: str) -> Iterator[tuple[str, bool]]:
    r"""The text in pieces, each with whether it must stay on one line.

    >>> list(parts("pull 9' 2-1/2\" square"))
    [('pull ', False), ('9\' 2-1/2"', True), (' square', False)]
    """
    end = 0
    for found in _LENGTH.finditer(text):
        if found.start() > end:
            yield text[end : found.start()], False
        yield found[0], True
        end = found.end()
    if end < len(text):
        yield text[end:], False


def words(text: str) -> list[str]:
    r"""The words between which a line may end.

    >>> words("pull 9' 2-1/2\" square")
    ['pull', '9\' 2-1/2"', 'square']
    """
    glued = "".join(part.replace(" ", "\0") if whole else part for part, whole in parts(text))
    return [word.replace("\0", " ") for word in glued.split()]
