"""What does one call of a description give, while its words are still being read?"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from staking.sitefile.descriptions.items import Item
from staking.sitefile.descriptions.measures import same_value

CURVE_LENGTHS = ("radius", "arc", "chord", "tangent")
_STATED_ONCE = "find out which one holds, and strike the other"


@dataclass
class Call:
    """One call: where it begins, what it gives by the keys of a course, and what was refused.

    lost: keys whose piece was there and could not be read. runs: lengths of a curve without a label. asides: words
    that mean something in a curve only. label: what the next angle or length belongs to, `waiting` until it came.
    witness: what follows ties another point. holding: what follows is the area.
    """

    start: int
    marker: str
    curve: bool = False
    given: dict[str, Item] = field(default_factory=dict)
    lost: set[str] = field(default_factory=set)
    refused: list[Item] = field(default_factory=list)
    runs: list[Item] = field(default_factory=list)
    asides: list[Item] = field(default_factory=list)
    label: str = ""
    waiting: bool = False
    witness: bool = False
    holding: bool = False
    hard: bool = False
    comma: bool = False
    bears: bool = False
    ends: bool = False
    tie_from: bool = False
    deflected: bool = False
    centre: str = ""
    end: int = 0

    @property
    def directed(self) -> bool:
        """Whether the call has a direction of its own, be it read or refused."""
        return bool({"bearing", "azimuth"} & self.given.keys()) or "bearing" in self.lost

    @property
    def measured(self) -> bool:
        """Whether the call has a distance of its own, be it read or refused."""
        return "length" in self.given or "length" in self.lost

    @property
    def done(self) -> bool:
        """Whether a new direction behind a comma can only be the next course."""
        return bool(self.given or self.runs) if self.curve else self.directed and (self.measured or self.ends)

    @property
    def started(self) -> bool:
        """Whether anything of a course has been read."""
        return self.curve or self.directed or self.measured

    def put(self, key: str, item: Item) -> None:
        """Keep a value; two that differ are both refused."""
        self.hard = self.comma = False
        if key == self.label:
            self.waiting = False
        before = self.given.get(key)
        if before is None and _lost_name(key) not in self.lost:
            self.given[key] = item
        elif before is None:
            self.refuse(key, item, "the call gives it twice, and one of them cannot be read")
        elif not same_value(before.value, item.value):
            del self.given[key]
            why = f"one call gives {before.value} and {item.value}"
            self.refuse(key, before, why, _STATED_ONCE)
            self.refuse(key, item, why, _STATED_ONCE)

    def refuse(self, key: str, item: Item, why: str = "", remedy: str = "") -> None:
        """Keep a piece that cannot be used, and remember which key it would have been."""
        self.hard = self.comma = False
        if key == self.label:
            self.waiting = False
        self.lost.add(_lost_name(key))
        self.refused.append(replace(item, why=why or item.why, remedy=remedy or item.remedy))

    def expect(self, label: str) -> None:
        """The next angle or length belongs to this key."""
        self.label, self.waiting = label, True

    def become_curve(self) -> None:
        """The call runs along a curve: a length that was read is one along it; a bearing is asked about."""
        if self.curve:
            return
        self.curve = True
        if length := self.given.pop("length", None):
            self.runs.append(length)
        if "length" in self.lost:
            self.lost.add("arc")
        for key in ("bearing", "azimuth"):
            if item := self.given.pop(key, None):
                self.refuse(
                    "chord_bearing",
                    item,
                    "nothing says whether it is the bearing of the chord",
                    "write `chord bears` in front of it",
                )

    def become_chord(self) -> None:
        """The bearing and the length that were read are those of a curve's chord."""
        self.curve = True
        for key, of_curve in (("bearing", "chord_bearing"), ("length", "chord")):
            if item := self.given.pop(key, None):
                self.given[of_curve] = item

    def take_over(self, ahead: Call) -> None:
        """What was said of the curve at the end of the call before this one."""
        self.become_curve()
        for key, item in ahead.given.items():
            self.put(key, item)
        self.lost |= ahead.lost
        self.refused.extend(ahead.refused)
        self.runs.extend(ahead.runs)
        self.asides.extend(ahead.asides)
        self.centre = self.centre or ahead.centre


def _lost_name(key: str) -> str:
    """A direction that was lost is one, whether it was a bearing or an azimuth."""
    return "bearing" if key == "azimuth" else key
