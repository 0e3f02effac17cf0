"""Which words of a description were not understood, and how do they hang together?"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator

from staking.findings import Place
from staking.sitefile.descriptions.described import Unread, Words
from staking.sitefile.descriptions.items import Item
from staking.sitefile.places import marked_line

_SMALL = ("filler", "from", "for", "bears")  # kinds of words that belong to what stands behind them


class Source:
    """The text as it was pasted, with its lines."""

    def __init__(self, text: str, file: str) -> None:
        self.text = text
        self.file = file
        self._starts = [0, *(at + 1 for at, sign in enumerate(text) if sign == "\n")]

    def words(self, start: int, end: int) -> Words:
        """The words from one character to another, and where they begin."""
        line = bisect_right(self._starts, start)
        return Words(start, end, self.text[start:end], line, start - self._starts[line - 1] + 1)

    def place(self, words: Words) -> Place:
        """Where words stand, with the line as it is written."""
        line = self.text[self._starts[words.line - 1] :].split("\n", 1)[0]
        width = max(1, len(words.text.split("\n", 1)[0]))
        shown = marked_line(line, words.column + width)
        return Place(self.file, words.line, words.column, source=shown, width=width)


def left_over(source: Source, items: tuple[Item, ...], loose: frozenset[int], why: str) -> Iterator[Unread]:
    """Words that were not understood, those that stand together as one; small words in front of them belong to them."""
    group: list[Item] = []
    led: list[Item] = []
    for item in items:
        if item.start in loose:
            group.extend([*led, item] if not group else [item])
            led = []
        elif item.kind in _SMALL and not group:
            led.append(item)
        elif item.kind not in _SMALL and item.value not in (",", "\n", "(", ")"):
            yield from _piece(source, group, why)
            group, led = [], []
        elif item.kind not in _SMALL and not group:
            led = []
    yield from _piece(source, group, why)


def _piece(source: Source, group: list[Item], why: str) -> Iterator[Unread]:
    if not group:
        return
    words = source.words(group[0].start, group[-1].end)
    if any(sign.isalnum() for sign in words.text):
        yield Unread(words, why)
