"""What does a call along a curve say, and what does it leave open?"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from staking.sitefile.descriptions.call import Call
from staking.sitefile.descriptions.described import ReadCourse
from staking.sitefile.descriptions.directions import reversed_bearing
from staking.sitefile.descriptions.items import Item
from staking.survey.angles import difference, parse_direction

ORDER = ("turn", "radius", "arc", "delta", "chord", "chord_bearing", "tangent", "radial")
_COMPASS: Mapping[str, float] = MappingProxyType(
    {
        word: 45.0 * number
        for number, word in enumerate(
            ("north", "northeast", "east", "southeast", "south", "southwest", "west", "northwest")
        )
    }
)
_POINT_OF_COMPASS = re.compile(r"(?:north|south)(?:east|west)?|east|west")
_CLEAR = 20.0  # degrees; nearer than this to straight ahead or back, a side of the compass names no turn


@dataclass(frozen=True)
class Curve:
    """The fields of a curve, what its record still needs, what is left open, and what was taken from other words."""

    fields: Mapping[str, str]
    missing: tuple[str, ...]
    open: tuple[str, ...]
    notes: tuple[str, ...]
    tangent: bool | None


def read_curve(call: Call, plain: str, before: ReadCourse | None) -> Curve:
    """A call along a curve; before: the course in front of it, whose direction may be the curve's own at its beginning.

    Lengths without a label are the arc where there is one of them, as `thence along said curve 47.12 feet`.
    """
    words = [(item.kind, plain[item.start : item.end]) for item in call.asides]
    _settle_runs(call)
    fields = {key: item.value for key, item in call.given.items()}
    tangent = _tangent(words)
    notes: list[str] = []
    asks: list[str] = []
    concave = _compass(words, "concave")
    if "radial" in fields:
        fields["radial"] = _radial(fields["radial"], call.centre, concave, notes, asks)
    turn = _said_turn(call, words, before, notes) or _derived_turn(fields, words, tangent, before, notes)
    if turn:
        fields["turn"] = turn
    missing = _missing(fields)
    if not {"chord_bearing", "radial"} & fields.keys() and not tangent:
        asks.append(_whether_tangent(tangent, fields))
    if {"radius", "chord"} <= fields.keys() and not {"arc", "delta", "tangent"} & fields.keys():
        asks.append("whether it runs round more than half a circle; the key is more_than_half, true or false")
    ordered = {key: fields[key] for key in ORDER if key in fields}
    return Curve(MappingProxyType(ordered), missing, tuple(asks), tuple(notes), tangent)


def _settle_runs(call: Call) -> None:
    """The one length without a label is the arc; of several nothing tells which is."""
    distinct = {item.value: item for item in call.runs}
    if len(distinct) == 1 and "arc" not in call.given and call.runs[0].kind == "length":
        call.put("arc", call.runs[0])
        return
    for item in call.runs:
        if item.kind == "refused":
            call.refuse("arc", item)
        elif "arc" not in call.given or call.given["arc"].value != item.value:
            why = "nothing says which length of the curve it is"
            call.refuse(
                "arc" if "arc" not in call.given else "", item, why, "write radius, arc or chord in front of it"
            )


def _tangent(words: list[tuple[str, str]]) -> bool | None:
    """Whether the curve is said to leave the course before it in that course's own direction."""
    said = None
    for kind, text in words:
        if kind == "untangent" or (kind == "curve_ahead" and re.search(r"non-?\s?tangent", text)):
            return False
        if kind in ("tangent", "reverse", "compound") or (
            kind == "curve_ahead" and re.search("tangent|reverse|compound", text)
        ):
            said = True
    return said


def _compass(words: list[tuple[str, str]], wanted: str) -> str:
    """The point of the compass in the last words of a kind; empty where there is none."""
    points = [found[0] for kind, text in words if kind == wanted and (found := _POINT_OF_COMPASS.search(text))]
    return points[-1] if points else ""


def _radial(value: str, centre: str, concave: str, notes: list[str], asks: list[str]) -> str:
    """The bearing from the beginning of the curve to its centre."""
    other = reversed_bearing(value)
    fits = [
        text for text in (value, other) if concave and abs(difference(_COMPASS[concave], parse_direction(text))) < 90
    ]
    taken = fits[0] if fits and not centre else {"to centre": value, "from centre": other}.get(centre, value)
    if fits and taken not in fits:
        asks.append(f"the radial line {value} contradicts the side to which the curve is concave, {concave}")
    elif not fits and not centre:
        asks.append(
            f"whether the radial line {value} is drawn from the beginning of the curve to its centre, as is taken here"
        )
    elif taken != value:
        notes.append(f"the radial line {value} is drawn from the centre; from the beginning of the curve it is {taken}")
    return taken


def _said_turn(call: Call, words: list[tuple[str, str]], before: ReadCourse | None, notes: list[str]) -> str:
    sides = {
        side: item for (kind, text), item in zip(words, call.asides, strict=True) if (side := _side(kind, text, item))
    }
    if len(sides) > 1:
        for item in sides.values():
            call.refuse("turn", item, "one call says left and right", "find out which one holds, and strike the other")
        return ""
    if sides:
        return next(iter(sides))
    earlier = before.fields.get("turn", "") if before is not None and before.kind == "curve" else ""
    of_two = next((name for kind, text in words for name in ("reverse", "compound") if name in text), "")
    if earlier and of_two:
        turn = earlier if of_two == "compound" else {"left": "right", "right": "left"}[earlier]
        notes.append(f"the curve before it turns {earlier}, and this one is {of_two}: it turns {turn}")
        return turn
    return ""


def _side(kind: str, text: str, item: Item) -> str:
    """Left or right, by a word for the turn or by the side to which the curve is concave."""
    if kind == "turn":
        return item.value
    found = re.search(r"(?:left|right)$", text) if kind == "concave" else None
    return found[0] if found else ""


def _derived_turn(
    fields: Mapping[str, str],
    words: list[tuple[str, str]],
    tangent: bool | None,
    before: ReadCourse | None,
    notes: list[str],
) -> str:
    """The turn by the side on which the centre lies of the way the curve goes; empty where that does not tell."""
    concave, heading = _compass(words, "concave"), _compass(words, "heading")
    towards = fields.get("radial") or concave
    way = (_direction_of(before) if tangent else "") or fields.get("chord_bearing") or heading
    if not towards or not way:
        return ""
    angle = difference(_azimuth(way), _azimuth(towards))
    if not _CLEAR < abs(angle) < 180 - _CLEAR:
        return ""
    turn = "right" if angle > 0 else "left"
    notes.append(f"no word says left or right: going {way}, with its centre to the {towards}, the curve turns {turn}")
    return turn


def _direction_of(course: ReadCourse | None) -> str:
    if course is None or course.kind == "curve":
        return ""
    return course.fields.get("bearing") or course.fields.get("azimuth", "")


def _azimuth(words: str) -> float:
    return _COMPASS[words] if words in _COMPASS else parse_direction(words)


def _missing(fields: Mapping[str, str]) -> tuple[str, ...]:
    """What the record still needs: the turn, and two of the figures that fix the size, a length among them."""
    missing = () if "turn" in fields else ("turn",)
    sizes = [key for key in ("radius", "arc", "delta", "chord", "tangent") if key in fields]
    if len(sizes) >= 2:
        return missing
    return (*missing, "radius" if "radius" not in sizes else "arc")


def _whether_tangent(tangent: bool | None, fields: Mapping[str, str]) -> str:
    if tangent is False:
        return "its direction: it is not tangent, and neither the bearing of its chord nor a radial line is given"
    chord = ", and its chord has no bearing" if "chord" in fields else ""
    tail = "without chord_bearing or radial it is laid out as tangent"
    return f"whether it is tangent to the course before it{chord}; {tail}"
