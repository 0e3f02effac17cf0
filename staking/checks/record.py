"""Does the record of the lot agree with itself, and with the pins that were found?"""

from __future__ import annotations

import re
from collections.abc import Iterator
from types import MappingProxyType

from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.kinds.courses import Straight
from staking.layout.computed import Layout, Lot
from staking.layout.records import CurveReport, RecordReport, slip_words
from staking.survey.angles import difference, sind
from staking.survey.curves import Contradiction
from staking.survey.points import azimuth
from staking.survey.similarity import NOISE
from staking.survey.traverse import turned_wrong
from staking.units import UNITS

SMALL_GAP = 0.001  # metres; a gap below this is rounding in the record
CORNER = 5.0  # degrees; a curve turned more than this from its neighbour makes a corner with it; own choice
ACRE = 43560  # square feet; from memory
AREA_SHARE = 0.01  # of a stated area that may be rounding where it is printed to whole numbers; own choice

CODES = MappingProxyType(
    {
        "lot-misclosed": "The calls do not lead back to where they began, or a last call that runs to the beginning "
        "has another bearing than the one it is given. Worse than 1 part in `worst` (2500, the poor class of taping) "
        'it stops the job; better than that it is a note. With adjust = "none" every corner stays where the calls '
        "put it, and the last side leads back to the beginning.",
        "record-balanced": "The misclosure was spread over all courses by the compass rule, as "
        'adjust = "compass" asks.',
        "curve-contradicts": "An element of a curve does not agree with the two the curve is computed from, by more "
        "than the printed digits leave open. The record contradicts itself; nothing is picked for you.",
        "curve-not-tangent": "A curve does not run on smoothly from the course beside it: it is turned from it by less "
        "than 5 degrees, yet by more than the printed digits leave open. Curves of deeds need not be tangent; a slip "
        "in a bearing shows like this. Where it is turned more, the two make a corner, and nothing is said.",
        "area-differs": "The area of the calls is not the stated one. A curve that turns the wrong way closes just as "
        "well: only the area shows it.",
        "pin-odd": "One of the pins found does not belong to the others: the record fits them far better without it.",
        "pins-miss": "The pins found are not where the record says they are to one another, by more than pins in good "
        "order are (0.02 ft; common practice, no source).",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    if layout.lot is None or layout.lot.record is None:
        return
    record = layout.lot.record
    yield from _closure(layout, record)
    yield from _closing_call(layout, record)
    for curve in record.curves:
        yield from _curve(layout, curve)
    yield from _area(layout, layout.lot, record)
    yield from _pins(layout, record)


def _closure(layout: Layout, record: RecordReport) -> Iterator[Finding]:
    gap, declared = record.closure, layout.site.declared.lot
    assert declared is not None  # noqa: S101 # a record comes from a declared lot
    if gap.distance < SMALL_GAP or gap.ratio is None or gap.azimuth is None:
        return
    write = layout.notation
    bad = gap.ratio < declared.worst
    words = (
        f"the calls end {write.both(gap.distance)} {write.bearing(gap.azimuth)} of their beginning, 1 part in "
        f"{gap.ratio:,.0f} ({write.decimal(gap.north)} north, {write.decimal(gap.east)} east)"
    )
    remedy = slip_words(record) or "compare the calls with the record, or have the lot surveyed"
    yield Finding(
        "lot-misclosed",
        Severity.STOP if bad else Severity.NOTE,
        words,
        layout.site.place("lot", "courses"),
        remedy if bad else _gap_goes(record),
    )
    if record.changes:
        most = max(record.changes, key=lambda change: abs(change.length))
        yield Finding(
            "record-balanced",
            Severity.NOTE,
            f"the gap was spread over the courses; no length changed by more than {write.decimal(abs(most.length), 4)} "
            f"{write.unit.name}",
            layout.site.place("lot", "adjust"),
            "the record itself is unchanged; show the surveyor both",
        )


def _gap_goes(record: RecordReport) -> str:
    if record.changes:
        return "nothing: the gap is spread over the courses, as adjust asks"
    return 'the last side takes up the gap; adjust = "compass" would spread it'


def _closing_call(layout: Layout, record: RecordReport) -> Iterator[Finding]:
    """A last call that only runs to the beginning closes any figure; its bearing tells what is wrong with it."""
    declared = layout.site.declared.lot
    for index, course in enumerate(declared.courses if declared else ()):
        if not (isinstance(course, Straight) and course.to_start):
            continue
        piece = record.called[index]
        off = difference(course.bearing.value, azimuth(piece.start, piece.end))
        gap = piece.length * abs(sind(off))
        ratio = record.closure.perimeter / max(gap, SMALL_GAP)
        if declared is not None and abs(off) > course.bearing.half and gap > SMALL_GAP:
            yield Finding(
                "lot-misclosed",
                Severity.STOP if ratio < declared.worst else Severity.NOTE,
                f"call {index + 1} runs to the beginning, {layout.notation.azimuth(abs(off))} off the bearing "
                f"it has: as if "
                f"the calls missed it by {layout.notation.both(gap)}",
                layout.site.place("lot", "courses", index),
                "compare the calls with the record",
            )


_ELEMENTS = {"central_angle": "central angle", "more_than_half": "side of half a circle", "start_radial": "radial"}


def _curve(layout: Layout, curve: CurveReport) -> Iterator[Finding]:
    for contradiction in curve.contradictions:
        yield Finding(
            "curve-contradicts",
            Severity.STOP,
            f"call {curve.index + 1}: {_told(layout, contradiction)}",
            layout.site.place("lot", "courses", curve.index),
            "ask the surveyor which figure is right and leave the wrong one out",
        )
    for joint, which in ((curve.before, "before"), (curve.after, "after")):
        if joint is not None and not joint.tangent and abs(joint.off) < CORNER:
            write = layout.notation.azimuth
            yield Finding(
                "curve-not-tangent",
                Severity.NOTE,
                f"call {curve.index + 1}: the curve is turned {write(abs(joint.off))} from the course {which} it; the "
                f"printed digits leave {write(joint.tolerance)} open",
                layout.site.place("lot", "courses", curve.index),
                "right where the record means it so; else look for a slip in one of the two bearings",
            )


def _told(layout: Layout, found: Contradiction) -> str:
    """What the record says of an element and what its other elements make it."""
    name = _ELEMENTS.get(found.element, found.element.replace("_", " "))
    angle = found.element in ("central_angle", "chord_azimuth", "start_radial", "tangent_azimuth")
    write = layout.notation.azimuth if angle else layout.notation.decimal
    computed = "none at all" if found.computed is None else write(found.computed)
    return f"the {name} is {write(found.given)} in the record, {computed} by its other elements"


def _area(layout: Layout, lot: Lot, record: RecordReport) -> Iterator[Finding]:
    stated = _stated_area(layout)
    if stated is None:
        return
    area, within = stated
    within += _printed_half(layout) * record.closure.perimeter / 2  # as of a rectangle with both its sides rounded
    gap = record.closure.distance * record.closure.perimeter  # what the gap itself can do
    if abs(lot.area - area) <= within + gap:
        return
    wrong = turned_wrong(lot.pieces, area, within)  # the gap explains too much to name a call by it
    remedy = "compare the calls with the record"
    if wrong:
        remedy = f"call {wrong[0] + 1} may turn the other way: with it turned, the areas agree"
    yield Finding(
        "area-differs",
        Severity.WARNING,
        f"the lot has {layout.notation.areas(lot.area)}; the record says {layout.notation.areas(area)}",
        layout.site.place("lot", "stated_area"),
        remedy,
    )


def _printed_half(layout: Layout) -> float:
    """Half of the last digit of the coarsest length among the straight courses [m]."""
    declared = layout.site.declared.lot
    courses = declared.courses if declared else ()
    lengths = (course.length for course in courses if isinstance(course, Straight))
    return max((length.half for length in lengths if length), default=0.0)


_AREA = re.compile(
    r"\s*([0-9][0-9,]*(?:\.([0-9]+))?)\s*(acres?|ac|sq ?ft|square feet|sq ?m|square met(?:re|er)s|ha|hectares?)\.?\s*"
)


def _stated_area(layout: Layout) -> tuple[float, float] | None:
    """The stated area and what its last digit leaves open [m2]; None where there is none to read."""
    declared = layout.site.declared.lot
    found = _AREA.fullmatch(declared.stated_area.lower()) if declared else None
    if found is None:
        return None
    foot = float(layout.site.unit.metres) if layout.site.unit.name != "m" else float(UNITS["ftUS"].metres)
    sizes = {"a": ACRE * foot**2, "h": 10_000.0}
    word = found.group(3)
    size = sizes.get(word[0], foot**2 if "f" in word else 1.0)
    value = float(found.group(1).replace(",", "")) * size
    half = 0.5 * size / 10 ** len(found.group(2) or "")
    return value, min(half, AREA_SHARE * value) if not found.group(2) else half


def _pins(layout: Layout, record: RecordReport) -> Iterator[Finding]:
    fit, write = record.fit, layout.notation
    if fit is None:
        return
    worst = max(range(len(fit.residuals)), key=lambda index: fit.residuals[index].length)
    off = fit.residuals[worst].length
    place = layout.site.place("lot", "found")
    parts = f"stretching it by {(fit.scale - 1) * 1e6:+,.0f} parts in a million would fit best"
    if fit.odd is not None:
        gap = next((each.gap for each in fit.left_out if each.index == fit.odd), off)
        yield Finding(
            "pin-odd",
            Severity.STRONG,
            f"the pin at {record.pins[fit.odd]} does not belong: it is {write.both(gap)} from its place by the others",
            place,
            "look for another pin near its place, measure it again, or leave it out of found",
        )
    elif off > NOISE:
        yield Finding(
            "pins-miss",
            Severity.WARNING,
            f"the pin at {record.pins[worst]} is {write.both(off)} from its place by the record; {parts}",
            place,
            "measure again; where it stays, a licensed surveyor must say where the corner is",
        )


CHECK = Check("Does the record of the lot agree with itself, and with the pins that were found?", CODES, _findings)
