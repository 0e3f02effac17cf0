"""The lot as a record describes it: its courses laid out, how they close, and where the pins found say they lie.

Computed in the record's own bearings; the pins, or the point where the courses begin, put it on the ground.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from staking.errors import RuleError
from staking.kinds.courses import CurveCourse, Straight
from staking.layout.trouble import Trouble
from staking.sitefile.lot_declared import Lot
from staking.survey.curves import (
    Contradiction,
    Printed,
    Tangency,
    TwoCurvesError,
    contradictions,
    end_azimuth,
    placed,
    solved,
    start_azimuth,
    tangency,
)
from staking.survey.lines import Line
from staking.survey.paths import Arc, Piece
from staking.survey.points import Point, azimuth, distance
from staking.survey.similarity import Fit, Similarity, hold_and_turn, least_squares, residuals
from staking.survey.suspects import Call, Suspect, suspects
from staking.survey.traverse import Change, Closure, changes, closure, compass, step

Course = Straight | CurveCourse


@dataclass(frozen=True)
class CurveReport:
    """What a curve's own elements say against one another, and how it joins the courses beside it.

    before, after: None where there is no course to join, or the curve was laid tangent to it by choice.
    """

    index: int
    contradictions: tuple[Contradiction, ...]
    before: Tangency | None
    after: Tangency | None


@dataclass(frozen=True)
class RecordReport:
    """What is to be said of a record. called: the pieces as called, before anything was balanced or fitted."""

    called: tuple[Piece, ...]
    closure: Closure
    changes: tuple[Change, ...]
    curves: tuple[CurveReport, ...]
    suspects: tuple[Suspect, ...]
    fit: Fit | None = None
    pins: tuple[str, ...] = ()  # of the fit, the corners in its order


@dataclass(frozen=True)
class Laid:
    """A course on the ground and the directions it leaves and arrives in, as printed."""

    piece: Piece
    leaves: Printed
    arrives: Printed


def lay_out(
    lot: Lot, points: Mapping[str, Point], trouble: Trouble, *, turn: float = 0.0
) -> tuple[tuple[Piece, ...], tuple[str, ...], RecordReport]:
    """The pieces of the lot on the ground, the names of their first corners, and the report.

    turn [deg]: clockwise, from the record's bearings to those of the ground, where no pins tell. The report stays as
    called.
    """
    start = points[lot.start] if lot.start else Point(0.0, 0.0)
    with trouble.at("lot"):
        report = report_of(lot, start)
    trouble.stop()
    closed = compass(report.called) if lot.adjust == "compass" else _closed_by_last(report.called)
    names = corner_names(lot, points)
    if not lot.found:
        about = Similarity(start, start, turn)
        return tuple(_carried(piece, about) for piece in closed) if turn else closed, names, report
    with trouble.at("lot", "found"):
        fit = _fitted(lot, closed, names, points)
    trouble.stop()
    pieces = tuple(_carried(piece, fit.similarity) for piece in closed)
    return pieces, names, replace(report, fit=fit, pins=tuple(lot.found))


def report_of(lot: Lot, start: Point) -> RecordReport:
    """What the courses say of themselves, begun at a place. Raises RuleError for one that cannot be laid out."""
    vara = lot.vara.length if lot.vara else None
    laid = _called(lot.courses, start, vara)
    called = tuple(each.piece for each in laid)
    return RecordReport(
        called,
        closure(called),
        changes(called, compass(called)) if lot.adjust == "compass" else (),
        tuple(_curve_reports(lot.courses, laid, vara)),
        suspects(_calls(lot.courses, laid), ratio=lot.worst),
    )


def _called(courses: Sequence[Course], start: Point, vara: float | None) -> list[Laid]:
    """Every course where the calls put it, one after the other."""
    laid: list[Laid] = []
    for index, course in enumerate(courses):
        at = laid[-1].piece.end if laid else start
        try:
            laid.append(_laid(course, at, start, laid[-1].arrives if laid else None, vara))
        except (RuleError, ValueError) as error:
            raise _in_course(error, index) from None
    return laid


def _in_course(error: RuleError | ValueError, index: int) -> RuleError:
    """The same refusal, with the course it stands in."""
    key = f"courses.{index}"
    if isinstance(error, RuleError):
        key = f"{key}.{error.key}" if error.key else key
        return RuleError(error.message, key=key, remedy=error.remedy, code=error.code, lengths=error.lengths)
    if isinstance(error, TwoCurvesError):
        return RuleError(
            "two curves fit, one of {0} along the arc, the other of {1}",
            key=key,
            lengths=(error.curves[0].arc, error.curves[1].arc),
            remedy="add more_than_half = true or false, or the arc or delta from the record",
        )
    return RuleError(f"the course cannot be laid out: {error}", key=key, remedy="correct it from the record")


def _laid(course: Course, at: Point, start: Point, before: Printed | None, vara: float | None) -> Laid:
    if isinstance(course, CurveCourse):
        return _laid_curve(course, at, before, vara)
    if course.length is None:
        if distance(at, start) == 0:
            raise RuleError("the courses before it are back at the beginning already", key="to_start")
        return Laid(Line(at, start), course.bearing, course.bearing)
    length = course.length.printed(vara)
    if length is None:
        raise RuleError(_WHICH_VARA, key="length", remedy=_SAY_VARA)
    way = step(course.bearing.value, length.value)
    return Laid(Line(at, Point(at.east + way.east, at.north + way.north)), course.bearing, course.bearing)


_WHICH_VARA = "there are many varas, and nothing says which one this is"
_SAY_VARA = 'add [lot.vara] with name, length and source, for example name = "Texas vara", length = "33-1/3 in"'


def _laid_curve(course: CurveCourse, at: Point, before: Printed | None, vara: float | None) -> Laid:
    lengths = (course.radius, course.arc, course.chord, course.tangent)
    if vara is None and any(length is not None and length.varas for length in lengths):
        raise RuleError(_WHICH_VARA, remedy=_SAY_VARA)
    given = course.given(vara)
    own = course.chord_bearing is not None or course.radial is not None
    if before is None and not own:
        raise RuleError(
            "nothing says which way the curve starts: no course before it, no chord_bearing, no radial",
            remedy="add chord_bearing or radial from the record",
        )
    leaves = start_azimuth(given, None if own else before)
    piece = placed(at, solved(given), leaves.value, left=given.left)
    return Laid(piece, leaves, end_azimuth(given, None if own else before))


def _closed_by_last(pieces: tuple[Piece, ...]) -> tuple[Piece, ...]:
    """The last piece led back to the beginning: every corner stays where the calls put it, the gap is reported."""
    last, start = pieces[-1], pieces[0].start
    if distance(last.end, start) == 0:
        return pieces
    if isinstance(last, Arc):
        return (*pieces[:-1], Arc.through_bulge(last.start, start, last.bulge))
    return (*pieces[:-1], Line(last.start, start))


def corner_names(lot: Lot, points: Mapping[str, Point]) -> tuple[str, ...]:
    """The name of each piece's first corner: as the record file names it, else L1, L2 ... that nobody else has."""
    given = [lot.courses[-1].corner or lot.start, *(course.corner for course in lot.courses[:-1])]
    if lot.start:
        given[0] = lot.start
    taken = {*points, *(name for name in given if name)}
    names = []
    for place, name in enumerate(given, start=1):
        fresh = name or f"L{place}"
        while not name and fresh in taken:
            fresh += "x"
        taken.add(fresh)
        names.append(fresh)
    return tuple(names)


def _curve_reports(courses: Sequence[Course], laid: Sequence[Laid], vara: float | None) -> list[CurveReport]:
    """Contradictions in every curve, and how each joins its neighbours."""
    reports = []
    for index, course in enumerate(courses):
        if not isinstance(course, CurveCourse):
            continue
        own = course.chord_bearing is not None or course.radial is not None
        before = tangency(laid[index - 1].arrives, laid[index].leaves) if own and index else None
        after = tangency(laid[index].arrives, laid[index + 1].leaves) if index + 1 < len(laid) else None
        follows = courses[index + 1] if index + 1 < len(laid) else None
        if isinstance(follows, CurveCourse) and follows.chord_bearing is None and follows.radial is None:
            after = None
        reports.append(CurveReport(index, contradictions(course.given(vara)), before, after))
    return reports


def _calls(courses: Sequence[Course], laid: Sequence[Laid]) -> list[Call]:
    """The calls as the search for a slip takes them."""
    calls: list[Call] = []
    for course, each in zip(courses, laid, strict=True):
        if isinstance(each.piece, Arc):
            turn = -each.piece.sweep if each.piece.left else each.piece.sweep
            tangent = isinstance(course, CurveCourse) and course.chord_bearing is None and course.radial is None
            along = None if tangent and calls else azimuth(each.piece.start, each.piece.end)
            calls.append(Call(each.piece.chord.length, along, turn))
        else:
            digits = course.length.digits if isinstance(course, Straight) and course.length else ""
            calls.append(Call(each.piece.length, azimuth(each.piece.start, each.piece.end), digits=digits))
    return calls


def _fitted(lot: Lot, pieces: Sequence[Piece], names: Sequence[str], points: Mapping[str, Point]) -> Fit:
    """The record laid over the pins, as asked."""
    unknown = next((name for name in (*lot.found, lot.hold, lot.aim) if name and name not in names), None)
    if unknown is not None:
        raise RuleError(f'the record has no corner "{unknown}"', remedy=f"its corners are {', '.join(names)}")
    record = [pieces[names.index(name)].start for name in lot.found]
    pins = [points[point] for point in lot.found.values()]
    pairs = list(zip(record, pins, strict=True))
    try:
        fit = least_squares(pairs, scale=lot.scale)
        if lot.fit == "least_squares":
            return fit
        order = list(lot.found)
        held = hold_and_turn(record, pins, order.index(lot.hold), order.index(lot.aim))
    except ValueError as error:
        raise RuleError(str(error), remedy="name pins that are far apart") from None
    return Fit(held, fit.scale, residuals(held, pairs), fit.redundancy, fit.standard_error, fit.left_out, fit.odd)


def _carried(piece: Piece, similarity: Similarity) -> Piece:
    start, end = similarity.apply(piece.start), similarity.apply(piece.end)
    if isinstance(piece, Arc):
        return Arc(start, end, similarity.apply(piece.centre), piece.left)
    return Line(start, end)


def slip_words(report: RecordReport) -> str:
    """The likeliest slip in the calls, in words; empty where they close well enough or no single call explains it."""
    if not report.suspects:
        return ""
    slip = report.suspects[0]
    others = sorted({other.index + 1 for other in report.suspects[1:] if other.what == slip.what} - {slip.index + 1})
    also = f" (or call {', '.join(map(str, others))})" if others else ""
    ratio = f"1 in {slip.closure.ratio:,.0f}" if slip.closure.ratio else "exactly"
    if slip.what == "left out":
        return f"The likeliest slip: a call was left out, for example before call {slip.index + 1}."
    return f"The likeliest slip: call {slip.index + 1}{also}, {slip.what}; without it the calls close {ratio}."
