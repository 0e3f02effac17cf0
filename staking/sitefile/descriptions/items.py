"""What is a piece of a description, such as one bearing, one length, one word?"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

_ALIKE: Mapping[int, str] = MappingProxyType(
    str.maketrans(
        dict.fromkeys("′ʹ‘’‛´", "'")
        | dict.fromkeys("″ʺ“”", '"')
        | dict.fromkeys("º˚", "°")
        | dict.fromkeys("–‐‑−—", "-")
        | dict.fromkeys(
            "\t\r\u00a0\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000", " "
        )
    )
)


@dataclass(frozen=True, slots=True)
class Item:
    """A piece of a description: what it is, from which character to which, and what it says.

    value: as the site file writes it. why: for a piece that is refused, the reason; empty for one that is read.
    note: what was done to get the value, where the words do not show it.
    """

    kind: str
    start: int
    end: int
    value: str = ""
    why: str = ""
    remedy: str = ""
    note: str = ""


def made_plain(text: str) -> str:
    """The text in small letters and with plain marks, character for character, so that places stay the same.

    >>> made_plain("N 12°30′ E")
    "n 12°30' e"
    """
    alike = text.translate(_ALIKE)
    return "".join(low if len(low := sign.lower()) == 1 else sign for sign in alike)


def one_line(text: str) -> str:
    """Words as they can be quoted within a sentence."""
    return re.sub(r"\s+", " ", text).strip()
