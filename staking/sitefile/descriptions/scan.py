"""Into which pieces does the text of a description fall?"""

from __future__ import annotations

import re
from collections.abc import Iterator

from staking.sitefile.descriptions.directions import direction_at
from staking.sitefile.descriptions.items import Item
from staking.sitefile.descriptions.measures import STATEMENT, Units, area_at, length_at
from staking.sitefile.descriptions.words import filler_at, named_at, numbered_at, phrase_at, word_at

_BLANKS = re.compile(r"\s+")
_SIGN = re.compile(r"[;,:()=]|\.(?!\d)")


def scanned(plain: str, units: Units) -> tuple[Item, ...]:
    """The pieces of a plain text, in order: nothing of it is left out but blanks."""
    return tuple(_pieces(plain, units))


def _pieces(plain: str, units: Units) -> Iterator[Item]:
    at = 0
    while at < len(plain):
        if blanks := _BLANKS.match(plain, at):
            if "\n" in blanks[0]:
                yield Item("sign", at, blanks.end(), "\n")
            at = blanks.end()
            continue
        item = _item_at(plain, at, units)
        yield item
        at = item.end


def _item_at(plain: str, at: int, units: Units) -> Item:
    if statement := STATEMENT.match(plain, at):
        return Item("statement", at, statement.end(), units.bare)
    return (
        numbered_at(plain, at)
        or direction_at(plain, at)
        or area_at(plain, at)
        or named_at(plain, at)
        or _words_at(plain, at)
        or (Item("sign", at, at + 1, plain[at]) if _SIGN.match(plain, at) else None)
        or length_at(plain, at, units)
        or word_at(plain, at)
    )


def _words_at(plain: str, at: int) -> Item | None:
    """A phrase or words that are passed over, whichever is longer."""
    phrase, filler = phrase_at(plain, at), filler_at(plain, at)
    if phrase and filler:
        return filler if filler.end > phrase.end else phrase
    return phrase or filler
