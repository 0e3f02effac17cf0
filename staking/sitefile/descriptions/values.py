"""Which key of its course does each bearing, angle, length and area of a description belong to?"""

from __future__ import annotations

import re
from dataclasses import replace

from staking.sitefile.descriptions.boundaries import Boundaries
from staking.sitefile.descriptions.call import CURVE_LENGTHS, Call
from staking.sitefile.descriptions.directions import cardinal
from staking.sitefile.descriptions.items import Item

_NOUN = re.compile(
    r"[\s.]*(?:side|line|half|boundary|edge|bank|right|quarter|corner|street|avenue|road|face|end|of|part|[a-z]+ern)\b"
)
_FROM = re.compile(r"\s*,?\s*(?:from|of)\b")


class Values(Boundaries):
    """The calls with what they give."""

    def _direction(self, item: Item) -> None:
        call = self._target()
        if call.witness:
            self._put_aside(item)
        elif call.curve:
            self._direction_of_curve(call, item)
        elif call.label in ("radial", "chord") and call.waiting:
            call.become_curve()
            self._direction_of_curve(call, item)
        else:
            self._direction_of_line(item)

    def _direction_of_line(self, item: Item) -> None:
        if self.call.directed and self._splits():
            self._open(item, "implied")
        elif self.call.directed and self.call.done and self.call.bears:
            self.call.witness = True
            self._put_aside(item)
            return
        if item.kind == "refused":
            self.call.refuse("bearing", item)
        else:
            key = "azimuth" if item.kind == "azimuth" else "bearing"
            self.call.put(next((k for k in ("bearing", "azimuth") if k in self.call.given), key), item)
        self._look_for_tie(item)

    def _look_for_tie(self, item: Item) -> None:
        """Beginning at a point N 45 E 200 feet from a corner: a course that leads to the beginning."""
        if self.call.marker in ("preamble", "begin") and _FROM.match(self.plain, item.end):
            self.call.tie_from = True

    def _direction_of_curve(self, call: Call, item: Item) -> None:
        if call.label == "radius" and call.waiting:
            call.expect("radial")
        key = {"chord": "chord_bearing", "radial": "radial"}.get(call.label, "")
        if key and (call.waiting or key not in call.given):
            call.waiting = call.waiting and call.label == "chord"
            call.refuse(key, item) if item.kind == "refused" else call.put(key, item)
        elif call is self.call and call.hard and not self.depth:
            self._open(item, "implied")
            self._direction_of_line(item)
        else:
            why = "nothing says whether it is the bearing of the chord or the next course"
            call.refuse("chord_bearing", item, item.why or why, "write `chord bears` or `thence` in front of it")

    def _cardinal(self, item: Item) -> None:
        """North, east and so on alone: a direction behind a marker, or where a length follows."""
        before = self._neighbour(range(self.at - 2, -1, -1), ("filler",))
        after = self._neighbour(range(self.at, len(self.items)), ("filler", "for"))
        marked = before is not None and before.kind in ("strong", "weak", "numbered")
        led = (
            before is None
            or before.value in (";", ".", ":")
            or before.kind == "beginning"
            or (self.call.comma and self.call.done)
        )
        followed = after is not None and (
            after.kind in ("length", "number") or (after.kind, after.value) == ("refused", "length")
        )
        if not _NOUN.match(self.plain, item.end) and (marked or (led and followed)):
            word = self.plain[item.start : item.end]
            self._direction(replace(item, kind="bearing", value=cardinal(word)))
        else:
            self._put_aside(item)

    def _neighbour(self, places: range, passed: tuple[str, ...]) -> Item | None:
        """The first piece at these places that is no comma, no line end and none of the kinds passed over."""
        pieces = (self.items[place] for place in places)
        return next((i for i in pieces if i.kind not in passed and i.value not in (",", "\n")), None)

    def _angle(self, item: Item) -> None:
        call = self._target()
        if call.witness:
            self._put_aside(item)
        elif call.label == "delta" and call.waiting:
            call.become_curve()
            call.refuse("delta", item) if item.kind == "refused" else call.put("delta", item)
        elif call.label == "azimuth" and call.waiting:
            call.waiting = False
            self._direction(item if item.kind == "refused" else replace(item, kind="azimuth"))
        elif call.curve:
            call.refuse(
                "delta",
                item,
                item.why or "nothing says that it is the central angle",
                "write `central angle` before it",
            )
        elif call.started or call.marker in ("strong", "weak"):
            why = "it is counted from another course; bearings are not computed from turns here"
            neither = "it is no bearing, and nothing calls it an azimuth"
            self.call.refuse(
                "bearing", item, item.why or (why if call.deflected else neither), "write the bearing of the course"
            )
        else:
            self._put_aside(item)

    def _refused(self, item: Item) -> None:
        handlers = {"bearing": self._direction, "angle": self._angle, "length": self._length}
        handlers.get(item.value, self._refused_area)(item)

    def _refused_area(self, item: Item) -> None:
        self.call.refused.append(item)

    def _length(self, item: Item) -> None:
        call = self._target()
        outside = not call.started and call.marker in ("preamble", "begin")
        if call.holding:
            call.refused.append(replace(item, why="it stands behind the area, and is no side"))
            return
        marks_a_corner = call.measured and not call.curve and item.value.endswith(" in") and " ft" not in item.value
        if call.witness or marks_a_corner or (outside and not call.waiting) or (call.ends and call.measured):
            self._put_aside(item)
            return
        key = self._length_key(call, item)
        if not key:
            return
        if key in CURVE_LENGTHS and call is self.call and not call.curve and call.done and key != "chord":
            call = self._start_ahead(item)
        if key in CURVE_LENGTHS:
            call.become_curve()
        if key == "run":
            call.runs.append(item)
            call.hard = call.comma = False
        elif item.kind == "refused":
            call.refuse(key, item)
        else:
            call.put(key, item)
        self._look_for_tie(item)

    def _length_key(self, call: Call, item: Item) -> str:
        if call.waiting and call.label in CURVE_LENGTHS:
            return call.label
        if label := self._label_behind():
            place = self._after(self.at - 1)
            if self._is_length(self._after(place)) and not self._labelled_behind(self._after(place)):
                why = f"nothing says whether this or the length behind it is the {label}"
                call.become_curve()
                call.refuse(label, item, item.why or why, f"write `{label} of` in front of it")
                return ""
            self.at = place + 1
            return label
        if call.label == "chord" and "chord" not in call.given and call.curve:
            return "chord"
        return "run" if call.curve else "length"

    def _label_behind(self) -> str:
        """The label that follows a length, as in `60 foot radius`; empty where it belongs to the next length."""
        joint = self._after(self._after(self.at - 1))
        words = self.plain[self.items[joint].start : self.items[joint].end] if joint < len(self.items) else ""
        return "" if words in ("of", "=", ":", "is", "being") else self._labelled_behind(self.at - 1)

    def _labelled_behind(self, place: int) -> str:
        """The label that follows the piece at this place, with nothing but blanks between; empty where none does."""
        behind = self._after(place)
        if behind >= len(self.items) or self.items[behind].kind not in CURVE_LENGTHS:
            return ""
        between = self.plain[self.items[place].end : self.items[behind].start]
        return "" if between.strip("- \n") else self.items[behind].kind

    def _after(self, place: int) -> int:
        """The place of the next piece that is no line end."""
        place += 1
        while place < len(self.items) and self.items[place].value == "\n":
            place += 1
        return place

    def _is_length(self, at: int) -> bool:
        return at < len(self.items) and "length" in (self.items[at].kind, self.items[at].value)

    def _number(self, item: Item) -> None:
        call = self._target()
        waits = call.waiting and call.label in CURVE_LENGTHS
        if call.label == "azimuth" and call.waiting and item.value:
            call.waiting = False
            self._direction(replace(item, kind="azimuth", why=""))
        elif (
            call.witness
            or call.holding
            or not (waits or (call.directed and not call.measured and not call.curve and not call.ends))
        ):
            self._put_aside(item)
        elif item.why:
            self._length(replace(item, kind="refused", value="length"))
        else:
            self._length(replace(item, kind="length", value=f"{item.value} {self.units.bare}"))

    def _area(self, item: Item) -> None:
        if self.call.holding or self.call.ends:
            self.areas.append(item)
            self.call.holding = True
        else:
            self._put_aside(item)

    def _holding(self, _item: Item) -> None:
        self.call.holding = True

    def _start_ahead(self, item: Item) -> Call:
        self.ahead = Call(item.start, "ahead", curve=True)
        return self.ahead
