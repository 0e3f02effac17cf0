"""Which ASCII text stands for a text in a DXF, where some readers take any other character wrong?

Readers of R2007 and later show two characters for one degree sign, readers of R12 and R2000 stop at it; so text is
ASCII, and `%%d` is the degree sign (DXF reference, TEXT, control codes; seen with ten readers). What a DXF would
take for a control code of its own is made harmless: doubled percent signs, the caret, the backslash.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping
from types import MappingProxyType

from staking.errors import OutputError

DEGREE = "%%d"

_ALIKE: Mapping[int, str] = MappingProxyType(
    str.maketrans(
        dict.fromkeys("′ʹ‘’‛´`", "'")
        | dict.fromkeys("″ʺ“”„", '"')
        | dict.fromkeys("–—‐‑−", "-")
        | {"⁄": "/", "×": "x", "ß": "ss", "æ": "ae", "Æ": "AE", "ø": "o", "Ø": "O", "…": "...", "±": "+/-", "\\": "/"}
    )
)
_AS_IT_IS = re.compile(r"[ -$&-\[\]_a-~]*")  # ASCII without % \ ^ `
_DEGREES = "°º"
_MIXED = re.compile("(?<=[0-9])(?=[¼½¾⅐-⅞])")  # between a number and a fraction in one character


def ascii_text(text: str) -> str:
    """The text in ASCII: accents dropped, fractions spelled out, ? for what has no likeness.

    >>> print(ascii_text("Café 6½″ at 12° 100%%"))
    Cafe 6-1/2" at 12%%d 100%
    """
    if _AS_IT_IS.fullmatch(text):
        return text
    pieces = re.split(f"[{_DEGREES}]", re.sub("%%+", "%", text))
    return DEGREE.join(_plain(piece) for piece in pieces)


def _plain(text: str) -> str:
    spelled = unicodedata.normalize("NFKD", _MIXED.sub("-", text.translate(_ALIKE))).translate(_ALIKE)
    kept = (character for character in spelled if not unicodedata.combining(character))
    return re.sub("%%+", "%", "".join(map(_ascii, kept))).replace("^", "'")


def _ascii(character: str) -> str:
    if character.isspace():
        return " "
    return character if " " <= character <= "~" else "?"


def check_distinct(names: Iterable[str]) -> None:
    """Raises OutputError where two names would look the same in a DXF: somebody would drive the wrong stake."""
    seen: dict[str, str] = {}
    for name in names:
        other = seen.setdefault(ascii_text(name), name)
        if other != name:
            raise OutputError(
                f'the points "{other}" and "{name}" would both be called "{ascii_text(name)}" in a DXF',
                "rename one of them with letters A to Z and digits",
            )
