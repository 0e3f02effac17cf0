"""A tape book as a comparison like one by coordinates, so that it can be reported as such."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from staking.errors import TextError
from staking.field.compare import compare
from staking.field.compared import Comparison, HowMeasured, MeasuredPoint, Placement, TapedLength
from staking.field.design_points import design_points
from staking.field.tape_adjust import Adjusted
from staking.field.tape_check import Taped
from staking.field.tape_findings import span_words, tape_findings
from staking.field.taped import rows_of, slab_spans
from staking.survey.points import vector

_OF_THE_FORM = ("tape-out", "tape-held-out")  # what the comparison says itself


def compared_by_tape(taped: Taped, how: HowMeasured) -> Comparison:
    """The corners by all readings together, held against the layout.

    how: who, when and with what; method, ties and errors are filled in where they are not stated. Raises TextError
    where the readings do not say where the slab stands, with what is to be measured first.
    """
    fit = taped.fit
    if fit is None:
        raise TextError("the readings do not say where the corners are", "settle what is said above first")
    if not fit.tied:
        more = ", ".join(map(span_words, taped.to_place))
        raise TextError("the readings do not say where the slab stands on the lot", f"measure {more} too")
    points = as_measured(fit)
    used = len(fit.net.readings)
    how = replace(
        how,
        method=how.method or f"{used} taped lengths, least squares",
        error=how.error or max(point.error or 0.0 for point in points),
        error_length=_error_of_lengths(fit),
        tied=", ".join(dict.fromkeys(_beyond(fit))),
    )
    said = [found for found in tape_findings(taped) if found.code not in _OF_THE_FORM]
    found = compare(taped.layout, points, how, said=said)
    return replace(found, taped=tuple(_lengths(taped, fit)), placement=_known(found.placement, fit))


def as_measured(fit: Adjusted) -> tuple[MeasuredPoint, ...]:
    """The corners and stakes as measured points, with their standard errors by those of the readings."""
    errors = fit.solution.standard_errors(1.0)
    known = {point.name for point in design_points(fit.net.layout)}
    return tuple(
        MeasuredPoint(name, fit.at[name], note="by tape", error=math.hypot(errors[2 * at], errors[2 * at + 1]) / _TWO)
        for name, at in fit.net.unknown.items()
        if name in known
    )


def _error_of_lengths(fit: Adjusted) -> float:
    """The largest standard error of a side or diagonal by all readings [m]."""
    _, rows = rows_of(slab_spans(fit.net.layout), fit.at, fit.net.unknown)
    return math.sqrt(float(np.max(np.einsum("ij,jk,ik->i", rows, fit.solution.cofactors, rows))))


def _known(placement: Placement | None, fit: Adjusted) -> Placement | None:
    """With the standard errors of shift and turn as the readings give them: corners by one tape err together."""
    if placement is None:
        return None
    names = [name for name, _ in placement.shape if name not in placement.left_out]
    arms = [vector(placement.middle, fit.at[name]) for name in names]
    square = math.fsum(arm.dot(arm) for arm in arms)
    rows = np.zeros((3, len(fit.solution.unknowns)))
    for name, arm in zip(names, arms, strict=True):
        at = 2 * fit.net.unknown[name]
        rows[0, at] = rows[1, at + 1] = 1 / len(names)
        rows[2, at : at + 2] = -arm.north / square, arm.east / square
    east, north, turn = np.sqrt(np.maximum(0.0, np.diag(rows @ fit.solution.cofactors @ rows.T)))
    return replace(placement, shift_error=float(max(east, north)), turn_error=math.degrees(float(turn)))


_TWO = math.sqrt(2)  # an error of both axes together is so many times that of one


def _beyond(fit: Adjusted) -> list[str]:
    """The lines and given points that readings go to."""
    spans = [reading.span for reading in fit.net.readings]
    return [end for span in spans for end in (span.start, span.end) if end not in fit.net.unknown]


def _lengths(taped: Taped, fit: Adjusted) -> list[TapedLength]:
    left = iter(fit.residuals)
    return [
        TapedLength(
            reading.span.start,
            reading.span.end,
            reading.span.words,
            reading.read,
            reading.value,
            None if number in taped.left_out else next(left),
        )
        for number, reading in enumerate(taped.book.readings)
    ]
