"""All points are off alike: does the slab stand so, or was the instrument set up so?

Given points measured from the same set-up decide. Without them it cannot be told, and that is said.
"""

from __future__ import annotations

from collections.abc import Iterator

from staking.field.allowed import Tolerances
from staking.field.by_station import station_slip
from staking.field.compared import Deviation
from staking.field.moves_told import moves_told
from staking.field.together import LIKELY, Together
from staking.field.words import placed_words, step_words
from staking.findings import Finding, Severity
from staking.survey.points import distance, vector
from staking.survey.two_systems import GOOD, TwoSystems

CLEARLY = 3.0  # times what remains, a common shift and turn is what is to be named; own choice
SURE = 3.0  # standard errors, from which on a scale is one; own choice, as for three sigma


def of_measuring(known: Together) -> tuple[Finding, ...]:
    """One slip of the measuring that alone explains where every point is; none where all are on their places.

    An explanation that leaves residuals of a chance below LIKELY is none. A slip at the station is named only where
    given points were measured too, or where no shift and turn of the slab would explain the same. What is tied to
    lines and points with no set-up between has no such slip.
    """
    if not known.out or known.tied:
        return ()
    slip, fit = station_slip(known), known.fit(known.slab)
    if slip is not None and (known.control or fit is None or fit.chance < LIKELY):
        message = f"{slip.what}, as {slip.makes} would have it"
        return (Finding(slip.code, Severity.STRONG, message, None, slip.remedy),)
    return tuple(_stretched(known))


def of_placing(known: Together) -> tuple[Finding, ...]:
    """A shift and turn of all points of the slab beyond what is allowed, and whether slab or set-up is to blame.

    known: without the points that do not belong.
    """
    return tuple(_shifted(known)) if known.out else ()


def _stretched(known: Together) -> Iterator[Finding]:
    """All distances longer or shorter alike, where that explains what shift and turn do not."""
    plain, free = known.fit(known.both), known.fit(known.both, scale=True)
    if plain is None or free is None or free.redundancy < 3 or plain.chance > GOOD or free.chance < LIKELY:
        return
    stretch = plain.scale - 1
    if abs(stretch) < SURE * plain.scale_error:
        return
    frame, parts = known.layout.frame, f"{abs(stretch) * 1e6:,.0f} parts in a million"
    way = "longer" if stretch > 0 else "shorter"
    message = f"every distance is {parts} {way} than in the layout"
    remedy = "check the unit, the scale factor and the air correction of the instrument, or the tape"
    if frame.factor != 1 and min(abs(plain.scale - 1 / frame.factor), abs(plain.scale - frame.factor)) < (
        SURE * plain.scale_error
    ):
        message += ", which is what the combined factor makes: ground values were measured for grid, or grid for ground"
        remedy = "set the same scale factor in the instrument as the site file has, and measure again"
    yield Finding("measured-scale", Severity.STRONG, message, None, remedy)


def _shifted(known: Together) -> Iterator[Finding]:
    """A shift and a turn of the whole: of the slab, of the set-up, or nobody can tell."""
    fit, write = known.fit(known.slab), known.layout.notation
    if fit is None or not _explains(known, fit):
        yield from _control_off(known)
        return
    told = known.fit(_corners(known)) or fit  # as the verdict tells it: a turn shifts each middle by another amount
    shift, right = vector(told.similarity.pivot, told.similarity.image), known.layout.slab.form.pose.right
    words = placed_words(shift, told.similarity.turn, right, write)
    names = ", ".join(each.design.name for each in known.control)
    if known.tied:
        yield _placed(known, words, f"by ties to {known.tied} it stands so")
    elif not known.control:
        slip = station_slip(known)
        perhaps = f"; {slip.makes} would have it so" if slip else ""
        yield Finding(
            "measured-placed-or-set-up",
            Severity.STRONG,
            f"the whole slab is {words}; no given point was measured, so nobody can tell whether it stands so or the "
            f"instrument was set up so{perhaps}",
            None,
            "measure two given points from the same set-up, and compare again",
        )
    elif all(each.answer != "out" for each in known.control):
        yield _by_control(known, fit, words, names)
    else:
        yield from _with_control_off(known, words, names)


def _by_control(known: Together, fit: TwoSystems, words: str, names: str) -> Finding:
    """Given points within their own figure: do they lie on their places, as the slab does, or as either?"""
    on_place = [each.plan.length for each in known.control]
    with_slab = [distance(fit.similarity.apply(each.design.at), each.measured.at) for each in known.control]
    there, along = max(on_place) <= known.allowed, max(with_slab) <= known.allowed
    if not along and (there or max(on_place) <= max(with_slab) / CLEARLY):
        return _placed(known, words, f"given points ({names}) agree with their coordinates, so it stands so")
    if along and not there:
        return _set_up(words, names)
    return Finding(
        "measured-placed-or-set-up",
        Severity.STRONG,
        f"the whole slab is {words}; given points ({names}) lie clearly neither on their places nor as the slab lies, "
        f"so nobody can tell whether it stands so or the instrument was set up so",
        None,
        "set up again, measure two given points and the corners, and compare again",
    )


def _set_up(words: str, names: str) -> Finding:
    return Finding(
        "measured-set-up",
        Severity.STRONG,
        f"all is {words}, given points ({names}) as the slab: the instrument was set up or oriented wrongly",
        None,
        "nothing is known of the slab yet: set up again, read a third given point as a check, measure again",
    )


def _placed(known: Together, words: str, why: str) -> Finding:
    remedy = f"move the form as a whole, seen from its front: {_moves(known)}; then measure again"
    return Finding("measured-placed", Severity.STRONG, f"the whole slab is {words}; {why}", None, remedy)


def _explains(known: Together, fit: TwoSystems) -> bool:
    """Whether shift and turn move a point beyond what is allowed, and leave little: not where the shape is to blame."""
    placed = max(distance(each.design.at, fit.similarity.apply(each.design.at)) for each in known.slab)
    rest = max(left.length for left in fit.residuals)
    noise = fit.chance > LIKELY and rest <= placed / 2
    return placed > known.allowed and (rest <= max(known.allowed, placed / CLEARLY) or noise)


def _corners(known: Together) -> list[Deviation]:
    return [each for each in known.slab if each.design.corner is not None]


def _moves(known: Together) -> str:
    corners = _corners(known) or list(known.slab)
    return moves_told(known.layout, corners, Tolerances(known.layout), known.allowed)


def _with_control_off(known: Together, words: str, names: str) -> Iterator[Finding]:
    joint = known.fit(known.both)
    if joint is not None and joint.chance > LIKELY:
        yield _set_up(words, names)
        return
    yield from _control_off(known)
    message = f"the whole slab is {words}; given points are off too, and not as the slab is, so nobody can tell why"
    remedy = "settle the given points first: set up again, and measure two of them as a check"
    yield Finding("measured-placed-or-set-up", Severity.STRONG, message, None, remedy)


def _control_off(known: Together) -> Iterator[Finding]:
    """Given points that are not where they should be, one by one."""
    write = known.layout.notation
    for each in known.control:
        if each.answer == "out":
            message = (
                f"the given point {each.design.name} was measured {write.small(each.plan.length)} from its place, "
                f"{step_words(each.plan, write)}"
            )
            remedy = "see that it is the right mark and was not disturbed; check the set-up"
            yield Finding("measured-given-off", Severity.WARNING, message, None, remedy)
