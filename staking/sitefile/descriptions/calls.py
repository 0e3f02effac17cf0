"""Which calls does a description make, and what does each of them give?"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from staking.sitefile.descriptions.call import Call
from staking.sitefile.descriptions.items import Item
from staking.sitefile.descriptions.measures import Units
from staking.sitefile.descriptions.values import Values


@dataclass(frozen=True)
class Calls:
    """The calls in order, and what was said beside them.

    loose: where pieces begin that were not understood. commenced: whether a point of commencement is named before the
    first call. areas, magnetic, exceptions: pieces that say so.
    """

    calls: tuple[Call, ...]
    loose: frozenset[int]
    commenced: bool
    areas: tuple[Item, ...]
    magnetic: tuple[Item, ...]
    exceptions: tuple[Item, ...]


def read_calls(plain: str, items: tuple[Item, ...], units: Units) -> Calls:
    """The calls that the pieces of a description make; the first one holds what stands before the first course."""
    return _Reader(plain, items, units).read()


class _Reader(Values):
    """Reads piece by piece; what each kind of piece does is a method, and the table below names them."""

    def read(self) -> Calls:
        while self.at < len(self.items):
            item = self.items[self.at]
            self.at += 1
            _HANDLERS.get(item.kind, _Reader._put_aside)(self, item)
            self.call.end = item.end if item.kind != "sign" else self.call.end
        if self._close() and self.ahead is not None:
            self._abandon(self.ahead)
        return Calls(
            tuple(self.calls),
            frozenset(self.loose),
            self.commenced,
            tuple(self.areas),
            tuple(self.magnetic),
            tuple(self.exceptions),
        )

    def _curve_ahead(self, item: Item) -> None:
        if self._target() is not self.call:
            return
        ahead = self._start_ahead(item)
        ahead.asides.append(item)

    def _curve(self, item: Item) -> None:
        call = self._target()
        if call.witness or (not call.started and call.marker in ("preamble", "begin")):
            self._put_aside(item)
        elif call.curve:
            return
        elif call.label == "chord" and call.directed:
            call.become_chord()
        elif call.done and call.hard and not call.ends:
            self._open(item, "implied")
            self.call.become_curve()
        elif call.done:
            self._put_aside(item)
        else:
            call.become_curve()

    def _labelled(self, item: Item) -> None:
        """A word such as radius: the next angle or length is what it names."""
        call = self._target()
        if call.witness:
            self._put_aside(item)
            return
        if call is self.call and not call.curve and call.done and item.kind != "chord":
            call = self._start_ahead(item)
        call.expect("tangent" if item.kind == "tangent_length" else item.kind)
        if item.kind == "radial":
            call.centre = item.value or call.centre

    def _aside(self, item: Item) -> None:
        """A word that means something of a curve; whether the call is one may only be said later."""
        call = self._target()
        if call.witness:
            self._put_aside(item)
        else:
            call.asides.append(item)

    def _deflection(self, item: Item) -> None:
        call = self._target()
        if call.curve and "included" in self.plain[item.start : item.end]:
            call.expect("delta")
            return
        call.deflected = True
        call.asides.append(item)

    def _degree_of_curve(self, item: Item) -> None:
        why = "a degree of curve counts along the arc to some and along the chord to others"
        call = self._target()
        if not call.done:
            call.become_curve()
        call.refuse("radius", item, why, "write the radius")

    def _azimuth_word(self, item: Item) -> None:
        if self._target() is self.call and self.call.directed and self._splits():
            self._open(item, "implied")
        self._target().expect("azimuth")

    def _sign(self, item: Item) -> None:
        call = self._target()
        self.depth = max(0, self.depth + {"(": 1, ")": -1}.get(item.value, 0))
        if item.value == ",":
            call.comma = True
        if item.value in (";", ".", "\n"):
            call.hard = True
        if item.value == ";":
            call.label, call.waiting, call.witness = "", False, False

    def _for(self, _item: Item) -> None:
        """A distance without a label: along the curve, unless it follows the bearing of its chord."""
        call = self._target()
        if not call.waiting and not (call.label == "chord" and "chord" not in call.given):
            call.label = ""

    def _bears(self, _item: Item) -> None:
        self.call.bears = self.call.bears or self.call.done

    def _witness(self, item: Item) -> None:
        self._target().witness = True
        self._put_aside(item)

    def _magnetic(self, item: Item) -> None:
        self.magnetic.append(item)

    def _except(self, item: Item) -> None:
        self.exceptions.append(item)

    def _nothing(self, _item: Item) -> None:
        pass


_HANDLERS: Mapping[str, Callable[[_Reader, Item], None]] = MappingProxyType(
    {
        "strong": _Reader._strong,
        "weak": _Reader._weak,
        "numbered": _Reader._numbered,
        "begin": _Reader._begin,
        "from": _Reader._from,
        "commence": _Reader._commence,
        "beginning": _Reader._beginning,
        "commencement": _Reader._commencement,
        "bearing": _Reader._direction,
        "azimuth": _Reader._direction,
        "cardinal": _Reader._cardinal,
        "angle": _Reader._angle,
        "refused": _Reader._refused,
        "length": _Reader._length,
        "number": _Reader._number,
        "area": _Reader._area,
        "holding": _Reader._holding,
        "curve_ahead": _Reader._curve_ahead,
        "curve": _Reader._curve,
        **dict.fromkeys(("radius", "arc", "chord", "delta", "radial", "tangent_length"), _Reader._labelled),
        **dict.fromkeys(("turn", "concave", "heading", "tangent", "untangent", "reverse", "compound"), _Reader._aside),
        "deflection": _Reader._deflection,
        "degree_of_curve": _Reader._degree_of_curve,
        "azimuth_word": _Reader._azimuth_word,
        "sign": _Reader._sign,
        "for": _Reader._for,
        "bears": _Reader._bears,
        "witness": _Reader._witness,
        "magnetic": _Reader._magnetic,
        "except": _Reader._except,
        "filler": _Reader._nothing,
        "line_ahead": _Reader._put_aside,
        "statement": _Reader._nothing,
    }
)
