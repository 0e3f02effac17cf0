"""What `staking fit` reads and says: the measured list held against the site, pair by pair."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from staking.errors import InputError, OutputError, suggestion
from staking.findings import Finding, Place
from staking.layout.computed import Layout
from staking.layout.systems import Fitted
from staking.sitefile.declared import GivenPoint, PointFile, Site
from staking.sitefile.fit_declared import EXPECTED, FitAsked, Pair
from staking.sitefile.point_files import read_points
from staking.survey.points import Vector, vector
from staking.survey.two_systems import TwoSystems
from staking.units import parse_length

_ARC_SECONDS = 3600


@dataclass(frozen=True)
class Matched:
    """The site with its pairs; names of the list that the site does not know, with what may be meant."""

    site: Site
    unknown: tuple[str, ...] = ()


def matched(
    site: Site, measured: Path, *, columns: str, unit: str, leave_out: Sequence[str], **asked: object
) -> Matched:
    """The site with the pairs of a measured list, by name. asked: expected (a text), scale, shift_heights.

    Raises InputError for a list that cannot be read, OutputError where too few names agree.
    """
    entry = PointFile.model_validate({"path": measured.name, "columns": columns, "unit": unit})
    listed = read_points(entry, folder=measured.parent, unit=site.unit, place=Place(str(measured)))
    if listed.findings:
        raise InputError(*(_for_command_line(finding) for finding in listed.findings))
    _check_known(leave_out, listed.points)
    pairs = tuple(_pair(name, point, leave_out) for name, point in listed.points.items() if name in site.given)
    unknown = tuple(
        f"{name} ({meant})" if (meant := suggestion(name, site.given)).startswith("did") else name
        for name in listed.points
        if name not in site.given
    )
    if len(pairs) < 2:
        raise OutputError(
            f"{len(pairs)} of {len(listed.points)} measured points bear the name of a point of the site",
            f"name them alike; the site has {', '.join(list(site.given)[:12])}",
        )
    expected = asked.get("expected")
    fit = FitAsked(
        scale=bool(asked.get("scale")),
        heights="shift" if asked.get("shift_heights") else "as given",
        expected=float(parse_length(str(expected), site.unit)) if expected else EXPECTED,
        source=f"{measured.name}, SHA-256 {listed.fingerprint}",
    )
    declared = site.declared.model_copy(update={"fit": fit, "pairs": pairs})
    return Matched(replace(site, declared=declared), unknown)


def _for_command_line(finding: Finding) -> Finding:
    """As said of a file that is named on the command line, and so need not be named again."""
    remedy = finding.remedy.replace("[[point_files]] in the site file", "the command line, as --columns,")
    named = f"{finding.place.file}: " if finding.place else ""
    return replace(finding, message=finding.message.removeprefix(named), remedy=remedy)


def _check_known(leave_out: Sequence[str], points: Mapping[str, GivenPoint]) -> None:
    for name in leave_out:
        if name not in points:
            raise OutputError(f'"{name}" cannot be left out: it is not in the measured list', suggestion(name, points))


def _pair(name: str, point: GivenPoint, leave_out: Sequence[str]) -> Pair:
    return Pair.model_construct(
        point=name,
        north=point.north,
        east=point.east,
        elevation=point.elevation,
        uncertainty=None,
        use=name not in leave_out,
    )


def residuals_of(fitted: Fitted) -> dict[str, Vector]:
    """Of every pair, used or not: measured less fitted [m]."""
    assert fitted.systems is not None  # noqa: S101 # asked for only where there is a fit
    move = fitted.systems.similarity
    return {
        pair.point: vector(move.apply(given), measured)
        for pair, (given, measured) in zip(fitted.pairs, fitted.places, strict=True)
    }


def fit_lines(layout: Layout, unknown: Sequence[str]) -> Iterator[str]:
    """Everything about the fit, in plain lines."""
    fitted = layout.fitted
    assert fitted is not None  # noqa: S101 # as above
    names = {pair.point for pair in fitted.pairs}
    if unknown:
        yield f"measured and not in the site: {', '.join(unknown)}"
    absent = [name for name in layout.site.given if name not in names]
    if absent:
        yield f"in the site and not measured: {', '.join(absent)}"
    if fitted.systems is None:
        yield "no fit"
        return
    yield from _pairs(layout, fitted, fitted.systems)
    yield from _parameters(layout, fitted, fitted.systems)
    yield from _heights(layout, fitted)


def _pairs(layout: Layout, fitted: Fitted, systems: TwoSystems) -> Iterator[str]:
    write, unit = layout.notation, layout.site.unit.name
    yield f"residuals, measured less fitted, in {unit}; over their standard error; share that others check (0 to 1)"
    longest = max(len(pair.point) for pair in fitted.pairs)
    scores, shares = systems.solution.standardised(systems.sigma), systems.solution.redundancies
    used = list(fitted.used)
    for name, left in residuals_of(fitted).items():
        row = f"  {name:{longest}}  {write.decimal(left.north):>10} N {write.decimal(left.east):>10} E"
        if name not in used:
            yield f"{row}   left out of the fit"
            continue
        at = 2 * used.index(name)  # the solution's own residuals are fitted less measured
        east, north = (f"{-score:+.1f}" if score is not None else "-" for score in scores[at : at + 2])
        yield f"{row}   {north:>6} N {east:>6} E   {shares[at + 1]:.2f} N {shares[at]:.2f} E"


def _parameters(layout: Layout, fitted: Fitted, systems: TwoSystems) -> Iterator[str]:
    write, unit, move = layout.notation, layout.site.unit.name, systems.similarity
    way = "clockwise" if move.turn >= 0 else "counter-clockwise"
    yield (
        f"turn   {write.azimuth(abs(move.turn))} {way} from given to measured, standard error "
        f'{systems.turn_error * _ARC_SECONDS:.1f}"'
    )
    middle = layout.frame.to_file(move.pivot)
    yield (
        f"shift  {write.coordinate(move.image.north - middle.north)} north, "
        f"{write.coordinate(move.image.east - middle.east)} east at the middle of the pairs, standard error "
        f"{write.decimal(systems.shift_error, 4)} {unit}"
    )
    applied = "applied" if fitted.asked.scale else "not applied"
    yield (
        f"scale  {(systems.scale - 1) * 1e6:+,.1f} parts in a million against the ground, standard error "
        f"{systems.scale_error * 1e6:,.1f}, {applied}"
    )
    found = "none without redundancy" if systems.standard_error is None else write.decimal(systems.standard_error, 4)
    yield (
        f"fit    {systems.redundancy} numbers redundant; standard error of a coordinate {found} {unit}, expected "
        f"{write.decimal(fitted.asked.expected, 4)}; chance of such residuals by noise {systems.chance:.3f}"
    )
    if fitted.stand is not None and fitted.corner:
        yield (
            f"stand  width of the pairs {fitted.stand.width:.2f} of their length; farthest corner {fitted.corner} at "
            f"{fitted.stand.reach:.1f} times their spread, known to {write.decimal(fitted.corner_error, 4)} {unit}"
        )


def _heights(layout: Layout, fitted: Fitted) -> Iterator[str]:
    heights, write = fitted.heights, layout.notation
    if heights is None:
        yield "height no pair has an elevation in both systems"
        return
    applied = "applied" if fitted.asked.heights == "shift" else "not applied"
    error = (
        "" if heights.standard_error is None else f", standard error of one {write.decimal(heights.standard_error, 4)}"
    )
    unit = layout.site.unit.name
    yield f"height {write.decimal(heights.shift, 4)} {unit} up at {len(fitted.high)} pairs{error}, {applied}"
    left = (f"{name} {write.decimal(off)}" for name, off in zip(fitted.high, heights.residuals, strict=True))
    yield f"       what is left of it: {', '.join(left)}"
    if heights.tilt is not None and heights.tilt_error is not None:
        north, east = heights.tilt.north * 1e6, heights.tilt.east * 1e6
        yield (
            f"tilt   {north:+,.0f} to the north, {east:+,.0f} to the east, in parts in a million (standard errors "
            f"{heights.tilt_error.north * 1e6:,.0f}, {heights.tilt_error.east * 1e6:,.0f}); shown, never applied"
        )
