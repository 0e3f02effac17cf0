"""Where does each call of a description begin and end?"""

from __future__ import annotations

from dataclasses import replace

from staking.sitefile.descriptions.call import Call
from staking.sitefile.descriptions.items import Item
from staking.sitefile.descriptions.measures import Units


class Boundaries:
    """A cursor on the pieces, the call that is being read, and the curve that is described before its call."""

    def __init__(self, plain: str, items: tuple[Item, ...], units: Units) -> None:
        self.plain = plain
        self.items = items
        self.units = units
        self.at = 0
        self.opened = 0  # where the pieces of the call begin, behind its marker
        self.depth = 0  # of brackets
        self.number = 0  # of the last numbered call
        self.commenced = False
        self.returns = any(item.kind == "beginning" for item in items)
        self.call = Call(0, "preamble")
        self.ahead: Call | None = None
        self.calls = [self.call]
        self.loose: set[int] = set()
        self.areas: list[Item] = []
        self.magnetic: list[Item] = []
        self.exceptions: list[Item] = []

    def _open(self, item: Item, marker: str) -> None:
        if self._only_marked() and marker != "implied":  # as in "(3) thence"
            self.call.marker = marker
            return
        waiting = self.ahead if self._close() else None
        self.call = Call(item.start, marker)
        self.calls.append(self.call)
        self.ahead = waiting
        self.depth = 0
        self.opened = self.at

    def _only_marked(self) -> bool:
        """Whether nothing but the marker of the call has been read."""
        between = self.items[self.opened : self.at - 1]
        return self.call.marker in ("strong", "weak") and all(item.kind in ("sign", "filler") for item in between)

    def _close(self) -> bool:
        """End the call: curves take what was said ahead of them. Whether something said ahead is still open."""
        call, ahead = self.call, self.ahead
        fresh = ahead is not None and ahead.start >= call.start
        if ahead is not None and not fresh:
            if call.curve:
                call.take_over(ahead)
            else:
                self._abandon(ahead)
        if not call.curve:
            self.loose.update(item.start for item in call.asides)
        return fresh

    def _abandon(self, ahead: Call) -> None:
        """A curve that no call runs along: what was said of it is not read."""
        why = "it is said of a curve, and no call says that it runs along it"
        self.loose.update(item.start for item in ahead.asides)
        for item in (*ahead.given.values(), *ahead.runs):
            self.call.refused.append(
                replace(item, why=why, remedy="write `thence along said curve` in front of the next call")
            )
        self.call.refused.extend(ahead.refused)

    def _strong(self, item: Item) -> None:
        self._open(item, "strong")

    def _weak(self, item: Item) -> None:
        fresh = self.call.marker in ("preamble", "begin") and not self.call.started
        if fresh or self.call.done or (self.call.hard and self.call.started):
            self._open(item, "weak")

    def _numbered(self, item: Item) -> None:
        free = self.call.done or not self.call.started
        if not free or (item.value and int(item.value) != self.number + 1):
            self._put_aside(item)
            return
        self.number += bool(item.value)
        self._open(item, "weak")

    def _begin(self, item: Item) -> None:
        before = self.items[self.at - 2] if self.at > 1 else None
        if (
            before is None
            or before.kind in ("sign", "numbered")
            or (self.call.marker == "preamble" and not self.call.started)
        ):
            self._open(item, "begin")
        else:
            self._put_aside(item)

    def _commence(self, item: Item) -> None:
        if any(call.started for call in self.calls):
            self._begin(item)
        else:
            self.commenced = True

    def _from(self, _item: Item) -> None:
        """From the corner of another lot: what follows leads to the beginning."""
        fresh = self.call.marker == "preamble" and not self.call.started
        if fresh and (self.at < 2 or self.items[self.at - 2].kind == "sign"):
            self.commenced = True

    def _beginning(self, _item: Item) -> None:
        if self.call.started or self.call.marker in ("strong", "weak"):
            self.call.ends = True
            self.call.hard = self.call.comma = False

    def _commencement(self, item: Item) -> None:
        if not self.call.started and self.call.marker in ("preamble", "begin"):
            self.commenced = True
        elif not self.returns:
            self._beginning(item)

    def _target(self) -> Call:
        """The call, or the curve that is described before its call."""
        fresh = self.ahead is not None and self.ahead.start >= self.call.start
        return self.ahead if fresh and self.ahead is not None else self.call

    def _splits(self) -> bool:
        return self.call.done and not self.depth and (self.call.hard or self.call.comma)

    def _put_aside(self, item: Item) -> None:
        self.loose.add(item.start)
