"""What may somebody have meant who wrote down a reading that does not belong?

The slips are those of the trade (common practice, no source): a foot miscounted, or the tape held at its first foot and
the foot not taken off; a 6 for a 9; two digits exchanged; inches written as tenths of a foot, or tenths as inches; a
whole tape length forgotten.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from staking.errors import TextError
from staking.units import UNITS, Unit, parse_length


@dataclass(frozen=True, slots=True)
class Slip:
    """What the reading should have been [m], and what went wrong, in words."""

    read: float
    words: str


_PARTS = re.compile(r"\s*(?P<feet>[0-9]+)\s*(?:'|ft)\s*-?\s*(?P<inches>[0-9]+)\s*(?:\"|in)?\s*")
_TENTHS = re.compile(r"\s*(?P<feet>[0-9]+)\.(?P<part>[0-9]{1,2})\s*(?:ft|')?\s*")


def slips(text: str, read: float, tape: float, unit: Unit) -> tuple[Slip, ...]:
    """What may have been meant by a reading, in order of belief. text: as written. tape [m]: its length."""
    found = (
        *_miscounted(read, unit),
        *_digits(text, unit),
        *_inches_and_tenths(text, unit),
        Slip(read + tape, "a whole tape length is missing"),
        Slip(read - tape, "a whole tape length was counted twice"),
    )
    return tuple(slip for slip in found if slip.read > 0 and abs(slip.read - read) > 1e-9)


def _miscounted(read: float, unit: Unit) -> Iterator[Slip]:
    foot = float((UNITS["ft"] if unit.name == "m" else unit).metres)
    if unit.name != "m":
        yield Slip(read - foot, "read a foot too long, as from the 1 ft mark without taking the foot off")
        yield Slip(read + foot, "read a foot too short")
        yield Slip(read - foot / 12, "read an inch too long")
        yield Slip(read + foot / 12, "read an inch too short")
        return
    yield Slip(read - 1, "read a metre too long")
    yield Slip(read + 1, "read a metre too short")
    yield Slip(read - 0.1, "read 10 cm too long, as from the 10 cm mark without taking them off")
    yield Slip(read + 0.1, "read 10 cm too short")


def _digits(text: str, unit: Unit) -> Iterator[Slip]:
    for at, sign in enumerate(text):
        if sign in "69":
            other = "9" if sign == "6" else "6"
            yield from _meant(text[:at] + other + text[at + 1 :], unit, f"a {sign} for a {other}")
    places = [at for at, sign in enumerate(text) if sign.isdigit()]
    for a, b in pairwise(places):
        if b - a <= 2 and text[a] != text[b] and text[a + 1 : b] in ("", "."):
            swapped = text[:a] + text[b] + text[a + 1 : b] + text[a] + text[b + 1 :]
            yield from _meant(swapped, unit, "two neighbouring digits exchanged")


def _inches_and_tenths(text: str, unit: Unit) -> Iterator[Slip]:
    if unit.name == "m":
        return
    inches, tenths = _PARTS.fullmatch(text), _TENTHS.fullmatch(text)
    if inches:
        digits = inches["inches"]
        yield from _meant(f"{inches['feet']}.{digits} ft", unit, "tenths of a foot written as inches")
    if tenths:
        yield from _meant(f"{tenths['feet']}' {int(tenths['part'])}\"", unit, "inches written as tenths of a foot")


def _meant(text: str, unit: Unit, words: str) -> Iterator[Slip]:
    try:
        yield Slip(float(parse_length(text, unit)), f"{words}: {text.strip()}")
    except TextError:
        return
