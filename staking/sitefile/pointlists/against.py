"""Do the points of a list stand where the site has them, and if not, which slip explains it?"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from staking.findings import Finding, Place, Severity
from staking.sitefile.declared import GivenPoint
from staking.sitefile.pointlists.oddities import Figures, Points
from staking.survey.disagreements import Found, Told, slip_of
from staking.survey.points import Point, distance
from staking.units import UNITS

WITHIN = 0.015  # metres, 0.05 ft: a point taken over from one list to another agrees to this; own choice
_SHARE = 0.6  # of the points that disagree alike, the list as a whole is in error; own choice


@dataclass(frozen=True, slots=True)
class _Words:
    """What is said of a slip: its code, what it is, and what to do where the whole list has it."""

    code: str
    what: str
    remedy: str


_OTHER = _Words(
    code="list-apart", what="the list is in another system", remedy="`staking fit` finds how the two systems lie"
)
_WHOLE: Mapping[str, _Words] = MappingProxyType(
    {
        "swapped": _Words(
            code="list-swapped",
            what="north and east are exchanged",
            remedy="exchange north and east in its header or with --columns",
        ),
        "survey foot": _Words(
            code="list-wrong-foot",
            what="the list is in the other foot",
            remedy="say --unit ft or --unit ftUS, whichever it is",
        ),
        "feet": _Words(
            code="list-wrong-unit",
            what="feet were taken for metres or metres for feet",
            remedy="say its unit with --unit",
        ),
        "constant": _Words(
            code="list-apart", what="whole thousands were taken off", remedy="add them before the list is used"
        ),
        "ground for grid": _Words(
            code="list-apart",
            what="the list is stretched, as ground values are",
            remedy="ask which values are ground and which grid",
        ),
        "other": _OTHER,
    }
)


@dataclass(frozen=True, slots=True)
class _Apart:
    """One point that disagrees."""

    name: str
    index: int
    off: float
    slip: Found


@dataclass(frozen=True, slots=True)
class Compared:
    """How many points of a list bear names of the site, how many of those agree, and what is wrong with the others."""

    shared: int
    agree: int
    findings: tuple[Finding, ...]


def compared(points: Points, known: Mapping[str, GivenPoint], write: Figures) -> Compared:
    """A list held against the points of a site by name. write: as the list writes lengths."""
    told = Told(float((write.unit or UNITS["m"]).metres), WITHIN)
    shared = [(name, index) for index, name in enumerate(points.names) if name in known]
    apart = list[_Apart]()
    for name, index in shared:
        written, right = Point(float(points.east[index]), float(points.north[index])), known[name]
        place = Point(right.east, right.north)
        slip = slip_of(written, place, told)
        if slip is not None:
            apart.append(_Apart(name, index, distance(written, place), slip))
    return Compared(len(shared), len(shared) - len(apart), tuple(_findings(apart, len(shared), points, write)))


def _findings(apart: list[_Apart], shared: int, points: Points, write: Figures) -> Iterator[Finding]:
    """One finding for what all have in common, one for each of the rest."""
    counted = Counter(each.slip.slip for each in apart)
    common, count = counted.most_common(1)[0] if counted else ("", 0)
    whole = common in _WHOLE and count >= 2 and count >= _SHARE * shared
    if whole:
        words = _WHOLE[common]
        worst = max(each.off for each in apart if each.slip.slip == common)
        message = (
            f"{words.what}: {count} of {shared} points of the site lie up to {write.length(worst)} from their places"
        )
        yield Finding(words.code, Severity.STRONG, message, Place(points.shown), words.remedy)
    for each in apart:
        if not whole or each.slip.slip != common:
            yield _single(each, points, write)


def _single(each: _Apart, points: Points, write: Figures) -> Finding:
    slip, place = each.slip, points.at(each.index)
    lead = f'the point "{each.name}" lies {write.length(each.off)} from its place in the site'
    if slip.slip == "digit":
        value = points.north[each.index] if slip.axis == "north" else points.east[each.index]
        message = f"{lead}: in {slip.axis} {write(float(value))} a digit is wrong; likely {write(slip.figure)}"
        return Finding("list-digit", Severity.STRONG, message, place, "look it up in the record; nothing was corrected")
    words = _WHOLE.get(slip.slip, _OTHER)
    if words is not _OTHER:
        lead = f"{lead}: {words.what} in this row"
    return Finding(words.code, Severity.STRONG, lead, place, "look it up in the record")
