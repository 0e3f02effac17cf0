"""Can the instrument do it from where it stands?"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from types import MappingProxyType

import shapely

from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.layout.accuracy import SLAB_TOP, Accuracy, accuracy_of
from staking.layout.computed import Layout
from staking.layout.setups import SetUp, Unsolved, setup_of
from staking.sitefile.instrument_declared import RoverDeclared, TotalStationDeclared
from staking.survey.intersections import angle_at
from staking.survey.points import Point, distance
from staking.survey.resection import NEAR_CIRCLE, danger

CODES = MappingProxyType(
    {
        "setup-unsolved": "The setup gives no station: the shots meet in no place, or fit two, or two points stand in "
        "one place. The sheet of the setup is not written.",
        "backsight-short": "The backsight is nearer than the farthest stake, so an error of centring at the backsight "
        "grows on the way to the stake. Common practice, no source.",
        "stake-at-station": "A stake stands within 1 m (about 3 ft) of the instrument, among the feet of its tripod. "
        "Own choice.",
        "sight-blocked": "A line of sight runs through a building among [[features]]. Slab and lines on paper block "
        "nothing. What the file does not show is not known.",
        "no-check-shot": "No third point is read, so a wrong station or backsight would turn the whole layout unseen.",
        "resection-weak": "No two sights of a free station meet at 30 to 150 degrees, so small errors move it far. "
        "Common practice, no source.",
        "danger-circle": "A free station by angles alone lies near the circle through the three points, on which "
        "angles fix no place: within a tenth of its radius. Common practice, no source.",
        "resection-unchecked": "A free station has no more readings than it needs, so a wrong one would not show.",
        "resection-misfit": "The shots of a free station contradict one another by more than three times what their "
        "standard deviations let expect.",
        "instrument-too-coarse": "A side between two stakes would be known, at 95 percent, to less than what it may be "
        "off by. What all stakes of one station share is left out, since it changes no side.",
        "heights-too-coarse": "The heights of the rover are not good enough for the top of a slab, which may be off by "
        "3/4 in (ACI 117-90 as a criteria document quotes it), at 95 percent.",
        "margin-within-doubt": "There is less room to a line than the nearest corner stake is uncertain, at 95 "
        "percent. Form bulge and the uncertainty of the line come on top.",
        "instrument-without-setup": "A total station is named and no [setup], so its error budget cannot be computed.",
    }
)
_CLOSE = 1.0  # metres
_FIRM = range(30, 151)  # degrees


def _found(layout: Layout, code: str, severity: Severity, message: str, remedy: str) -> Finding:
    table = "instrument" if layout.site.declared.setup is None else "setup"
    return Finding(code, severity, message, layout.site.place(table), remedy)


def _findings(layout: Layout) -> Iterator[Finding]:
    setup = setup_of(layout)
    if isinstance(setup, Unsolved):
        yield _found(layout, "setup-unsolved", Severity.STRONG, setup.reason, setup.remedy)
    if isinstance(setup, SetUp):
        yield from _station(layout, setup)
        yield from _blocked(layout, setup)
        yield from _free(layout, setup)
    if setup is None and isinstance(layout.site.declared.instrument, TotalStationDeclared):
        yield _found(
            layout,
            "instrument-without-setup",
            Severity.NOTE,
            "a total station is named and no [setup], so nothing is said about how well stakes are known",
            "write [setup] with station and backsight",
        )
    accuracy = accuracy_of(layout)
    if accuracy is not None:
        yield from _budget(layout, accuracy)


def _station(layout: Layout, setup: SetUp) -> Iterator[Finding]:
    write = layout.notation.both
    away = [(distance(setup.station, stake.at), stake.name) for stake in layout.stakes]
    back = distance(setup.station, setup.backsight)
    if away and max(away)[0] > back:
        yield _found(
            layout,
            "backsight-short",
            Severity.WARNING,
            f"the backsight {setup.backsight_name} is {write(back)} away, stake {max(away)[1]} {write(max(away)[0])}",
            "take a backsight farther away than every stake, or centre both tripods with special care",
        )
    if away and min(away)[0] < _CLOSE:
        yield _found(
            layout,
            "stake-at-station",
            Severity.WARNING,
            f"stake {min(away)[1]} is {write(min(away)[0])} from the instrument, among the feet of its tripod",
            "set the instrument up somewhere else, or set this stake by tape afterwards",
        )
    if setup.check is None:
        yield _found(
            layout,
            "no-check-shot",
            Severity.WARNING,
            "no third point is read before the first stake",
            'write check = "P3" with a point that is neither station nor backsight',
        )


def _blocked(layout: Layout, setup: SetUp) -> Iterator[Finding]:
    aims = [(setup.backsight_name, setup.backsight), *((stake.name, stake.at) for stake in layout.stakes)]
    if setup.check is not None:
        aims.append((setup.check_name, setup.check))
    for feature in layout.site.declared.features:
        if feature.kind != "building" or len(feature.places) < 2:
            continue
        corners = [_xy(layout.points[name].at) for name in feature.places]
        shape = shapely.Polygon(corners) if feature.outline else shapely.LineString(corners)
        hidden = [name for name, at in aims if shapely.LineString([_xy(setup.station), _xy(at)]).intersects(shape)]
        if hidden:
            shown = ", ".join(hidden[:4]) + (f" and {len(hidden) - 4} more" if len(hidden) > 4 else "")
            yield _found(
                layout,
                "sight-blocked",
                Severity.WARNING,
                f'"{feature.name}" stands in the line of sight to {shown}',
                "set the instrument up where it sees all of them, or set these by tape from the others",
            )


def _xy(point: Point) -> tuple[float, float]:
    return point.east, point.north


def _free(layout: Layout, setup: SetUp) -> Iterator[Finding]:
    fixed = setup.resection
    if fixed is None:
        return
    marks = [sight.to for sight in setup.sights]
    more = "read one point more, on another side of the instrument"
    if not any(round(angle_at(fixed.place, *pair)) in _FIRM for pair in combinations(marks, 2)):
        message = "no two sights of the free station meet at 30 to 150 degrees, so it is weakly fixed"
        yield _found(layout, "resection-weak", Severity.WARNING, message, more)
    angles_only = all(sight.length is None for sight in setup.sights)
    if angles_only and all(danger(trio, fixed.place) < NEAR_CIRCLE for trio in combinations(marks, 3)):
        message = "the free station lies near the circle through its three points, on which angles fix no place"
        yield _found(layout, "danger-circle", Severity.STRONG, message, "read a distance too, or " + more[5:])
    if fixed.misfit is None:
        message = "the free station has no reading to spare, so a wrong one would not show"
        yield _found(layout, "resection-unchecked", Severity.WARNING, message, more)
    elif fixed.misfit > 3:
        message = f"the shots contradict one another, by {fixed.misfit:.1f} times what is expected"
        remedy = "look at the residuals on the sheet of the setup: a wrong point, a slip of the pen, a prism constant"
        yield _found(layout, "resection-misfit", Severity.STRONG, message, remedy)


def _budget(layout: Layout, accuracy: Accuracy) -> Iterator[Finding]:
    write = layout.notation.length
    coarse = [each for each in accuracy.sides if each.allowed is not None and each.doubt > each.allowed]
    if coarse:
        worst = max(coarse, key=lambda each: each.doubt - (each.allowed or 0.0))
        yield _found(
            layout,
            "instrument-too-coarse",
            Severity.WARNING,
            f"{len(coarse)} of {len(accuracy.sides)} sides would be known to less than they may be off by: "
            f"{worst.side.label} to {_small(layout, worst.doubt)} at 95 %, allowed "
            f"{layout.notation.allowance(worst.allowed or 0.0)}",
            _better(layout),
        )
    if accuracy.height is not None and accuracy.height > SLAB_TOP:
        yield _found(
            layout,
            "heights-too-coarse",
            Severity.WARNING,
            f"heights of the rover are known to {_small(layout, accuracy.height)} at 95 %, too coarse for the top of a "
            "slab",
            "set the top of the forms with a level, a laser level or a total station from a benchmark",
        )
    for each in accuracy.margins:
        if 0 <= each.margin.room < each.doubt:
            yield _found(
                layout,
                "margin-within-doubt",
                Severity.STRONG,
                f"room to {each.margin.of} is {write(each.margin.room)}, and stake {each.stake} is known to "
                f"{_small(layout, each.doubt)} at 95 %",
                "leave more room, or have the forms measured by a surveyor before the pour",
            )


def _small(layout: Layout, metres: float) -> str:
    return f"{layout.notation.decimal(metres, 3)} {layout.site.unit.name}"


def _better(layout: Layout) -> str:
    if isinstance(layout.site.declared.instrument, RoverDeclared):
        return "set the corners with a total station, or one side with the rover and the others with a checked tape"
    return (
        "hold a short pole or the prism itself at the stake, then prove sides and diagonals with a checked steel tape"
    )


CHECK = Check("Can the instrument do it from where it stands?", CODES, _findings)
