"""Do the points of the site, as they were measured in another system, fit those given?"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.layout.systems import Fitted
from staking.survey.two_systems import FAR, GOOD, NARROW, TwoSystems

TURN_CHANGED = 1 / 3600  # degrees; a fit that gives another turn than is on record; own choice
OFF_RATIO = 100e-6  # a scale as far from 1 as this is worth a word; own choice: a grid factor may be larger

CODES = MappingProxyType(
    {
        "fit-refused": "The measured points cannot be fitted to those given: one pair or none, measured places in "
        "another unit, or mirrored (north and east exchanged, or one of them counted backwards). Nothing can be "
        "written in the measured system.",
        "fit-mirror-hidden": "Two pairs, or pairs on a line, fit a mirrored site as well as a right one. Nobody can "
        "see then whether north and east were exchanged: a third point off the line is needed.",
        "fit-odd-pair": "A pair does not belong to the others: without it they fit. Noise alone names one in 1 of 100 "
        "good sets. Where the others cannot tell it from another pair, both are named.",
        "fit-poor": "The pairs fit worse than the expected error of a measured coordinate allows, and no single pair "
        "is to blame.",
        "fit-wrong-foot": "The measured coordinates are those of the file times the ratio of the two kinds of feet: "
        "one of the two lists was read in the wrong foot.",
        "fit-geometry": "The pairs stand on a line, or the slab lies far beyond them, so that a small error in a pair "
        "grows until it reaches the slab.",
        "fit-scale": "Measured distances are longer or shorter than those on the ground. The scale is shown, and "
        "applied only with fit.scale = true: distances on the ground stay what a tape reads.",
        "fit-odd-height": "One measured height does not agree with the others.",
        "fit-changed": "The fit is another one than the one on record: a point, a pair or an option was changed since.",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    fitted = layout.fitted
    if fitted is None:
        return
    if fitted.refused:
        yield _refused(layout, fitted)
        return
    assert fitted.systems is not None  # noqa: S101 # what is not refused is fitted
    yield from _mirror(layout, fitted)
    yield from _odd(layout, fitted, fitted.systems)
    yield from _foot(layout, fitted)
    yield from _geometry(layout, fitted)
    yield from _scale(layout, fitted, fitted.systems)
    yield from _height(layout, fitted)
    yield from _changed(layout, fitted, fitted.systems)


def _grave(layout: Layout) -> Severity:
    """In the measured system every stake hangs on the fit; in the given one, none does."""
    return Severity.STOP if layout.site.system == "measured" else Severity.STRONG


_REFUSED = MappingProxyType(
    {
        "few": ("a fit needs two pairs, and three to be seen through", "measure three points or more of the site file"),
        "many": ("there are too many pairs", "fit those around the slab; 200 at the most"),
        "place": ("two or more pairs stand in one place, so they give no direction", "measure points that lie apart"),
        "swapped": (
            "north and east are exchanged in the measured coordinates: they fit once each stands for the other",
            "correct the columns of the measured list, north and east",
        ),
        "east": (
            "the measured coordinates are mirrored: they fit once east is counted the other way",
            "look for east counted to the west, and change its sign",
        ),
        "north": (
            "the measured coordinates are mirrored: they fit once north is counted the other way",
            "look for north counted to the south, and change its sign",
        ),
        "mirrored": (
            "the measured coordinates are mirrored; most often north and east are exchanged",
            "correct the columns of the measured list, north and east",
        ),
    }
)


def _refused(layout: Layout, fitted: Fitted) -> Finding:
    message, remedy = _REFUSED.get(fitted.refused, _wrong_unit(fitted))
    return Finding("fit-refused", Severity.STRONG, message, layout.site.place("pairs"), remedy)


def _wrong_unit(fitted: Fitted) -> tuple[str, str]:
    told = f"measured distances are {fitted.ratio:.6g} times the given ones"
    if not fitted.units:
        return f"{told}, which is no scale and no ratio of two units", "look for wrong points, or a wrong unit"
    read, true = fitted.units
    return (
        f"{told}: one list is in {true} and was read in {read}",
        f"say --unit {true} if it is the measured list; else correct site.unit",
    )


def _mirror(layout: Layout, fitted: Fitted) -> Iterator[Finding]:
    if fitted.hidden:
        count = len(fitted.used)
        why = "two pairs" if count == 2 else f"{count} pairs on one line"
        yield Finding(
            "fit-mirror-hidden",
            _grave(layout),
            f"{why} fit a mirrored site as well: exchanged north and east cannot be seen",
            layout.site.place("pairs"),
            "measure a third point, well off the line of the others",
        )


def _odd(layout: Layout, fitted: Fitted, systems: TwoSystems) -> Iterator[Finding]:
    place = layout.site.place("pairs")
    if fitted.swapped:
        one, other = fitted.swapped
        yield Finding(
            "fit-odd-pair",
            _grave(layout),
            f"the names of {one} and {other} are exchanged: each was measured where the other should be",
            place,
            "exchange the two names in the measured list",
        )
        return
    for group in fitted.odd:
        yield Finding(
            "fit-odd-pair",
            _grave(layout),
            _odd_words(layout, fitted, group),
            place,
            "correct or measure it again, or say use = false (on the command line --leave-out)",
        )
    if not fitted.odd and systems.chance < GOOD:
        yield Finding(
            "fit-poor",
            _grave(layout),
            f"the pairs fit to {layout.notation.both(systems.sigma)} a coordinate, and "
            f"{layout.notation.both(fitted.asked.expected)} is expected"
            + (f"; with a scale of {(systems.scale - 1) * 1e6:+,.0f} parts in a million they fit" * fitted.scaled),
            place,
            "ask whether one system is on the grid; if so, scale = true (on the command line --scale)"
            if fitted.scaled
            else "measure again; if measuring is no better than that, say so in fit.expected",
        )


def _odd_words(layout: Layout, fitted: Fitted, group: tuple[str, ...]) -> str:
    write, name = layout.notation, group[0]
    off = fitted.off(name)
    words = (
        f"{name} does not belong: by the others it is off by {write.decimal(off.north)} north, "
        f"{write.decimal(off.east)} east ({write.unit.name})"
    )
    if name in fitted.near:
        return f"{words}; it lies where {fitted.near[name]} should be, so the name is likely wrong"
    if fitted.one_digit(name, float(write.unit.metres)):
        words += "; in one coordinate alone, as one mistyped digit or two exchanged ones would be"
    return words + (f"; the others cannot tell it from {', '.join(group[1:])}" if group[1:] else "")


def _foot(layout: Layout, fitted: Fitted) -> Iterator[Finding]:
    if fitted.foot == 1:
        return
    unit = layout.site.unit.name
    # numbers in the smaller foot are larger: such a list, read in the larger one, comes out too far away
    meant = {("ftUS", True): "ft", ("ft", False): "ftUS"}.get((unit, fitted.foot > 1))
    yield Finding(
        "fit-wrong-foot",
        _grave(layout),
        f"the measured coordinates are the given ones times {fitted.foot:.6f}: ft and ftUS were mixed up",
        layout.site.place("pairs"),
        f"say --unit {meant} if the measured list is in it; else correct site.unit"
        if meant
        else "correct site.unit if the site is in the other foot, or the unit of the measured list",
    )


def _geometry(layout: Layout, fitted: Fitted) -> Iterator[Finding]:
    stand = fitted.stand
    if stand is None or not (stand.width < NARROW or stand.reach > FAR):
        return
    why = "stand on one line" if stand.width < NARROW else "stand all at one end"
    yield Finding(
        "fit-geometry",
        Severity.WARNING,
        f"the pairs {why}: corner {fitted.corner} lies {stand.reach:.1f} times their spread from their middle, and is "
        f"known to {layout.notation.both(fitted.corner_error)}",
        layout.site.place("pairs"),
        "measure points on the far side of the slab too",
    )


def _scale(layout: Layout, fitted: Fitted, systems: TwoSystems) -> Iterator[Finding]:
    off = systems.scale - 1
    if abs(off) < OFF_RATIO or abs(off) < 3 * systems.scale_error or fitted.odd or fitted.swapped:
        return
    factor = layout.frame.factor
    like = "; that is the combined factor of the grid" if abs(systems.scale / factor - 1) < abs(off) / 10 else ""
    yield Finding(
        "fit-scale",
        Severity.NOTE if fitted.asked.scale else Severity.WARNING,
        f"measured distances are {off * 1e6:+,.0f} parts in a million of the ground's; this is "
        f"{'applied' if fitted.asked.scale else 'not applied'}{like}",
        layout.site.place("fit"),
        "apply it (scale = true, --scale) only if the instrument works with such coordinates",
    )


def _height(layout: Layout, fitted: Fitted) -> Iterator[Finding]:
    heights = fitted.heights
    if heights is not None and heights.odd is not None:
        yield Finding(
            "fit-odd-height",
            Severity.WARNING,
            f"the height of {fitted.high[heights.odd]} does not agree with the others: "
            f"{layout.notation.decimal(heights.residuals[heights.odd])} {layout.notation.unit.name} off",
            layout.site.place("pairs"),
            "check rod height and digits, or leave its elevation out",
        )


def _changed(layout: Layout, fitted: Fitted, systems: TwoSystems) -> Iterator[Finding]:
    known = fitted.asked.recorded
    if known is None:
        return
    turned, stretched = abs(known.turn - systems.similarity.turn) % 360, abs(known.scale - systems.scale)
    if min(turned, 360 - turned) > TURN_CHANGED or stretched > 1e-6:
        yield Finding(
            "fit-changed",
            Severity.WARNING,
            f"the fit turns by {systems.similarity.turn:+.5f} degrees with scale {systems.scale:.7f}; on record are "
            f"{known.turn:+.5f} and {known.scale:.7f}",
            layout.site.place("fit", "recorded"),
            "find out what was changed; then fit again into a new file",
        )


CHECK = Check("Do the points, as they were measured in another system, fit those given?", CODES, _findings)
