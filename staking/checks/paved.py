"""Do parts, drives and walks lead water away from the slab, neither too flat nor too steep, and below its floor?"""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

import shapely

from staking.checks.question import Check
from staking.findings import Finding, Severity
from staking.layout.computed import Layout, NamedPoint
from staking.layout.paved import Stretch, meeting, paved_features, stretches
from staking.layout.surfaces import part_slope
from staking.survey.points import Point, distance

ENOUGH = 0.0005  # metres; half a millimetre less is not complained of

CODES = MappingProxyType(
    {
        "water-paved-fall": "A part of the slab falls away less than [water] paved: 2 percent where left out (2024 IRC "
        "R401.3, exception, as transcribed in public).",
        "water-drive-back": "A drive or walk falls toward the slab, so that water runs to it, or into the garage. It "
        "is told from the elevations of its points.",
        "water-drive-flat": "A drive or walk falls less than [water] paved within the distance `within` from the slab "
        "(2 percent, 2024 IRC R401.3, exception, as transcribed in public), or a drive less than drive_least farther "
        "out (0.5 percent, Quincy MA 17.28.040; every authority has its own).",
        "water-drive-steep": "A drive is steeper than [water] drive_most (10 percent, Quincy MA 17.28.040; every "
        "authority has its own), or a walk steeper than walk_most (1:20, 2010 ADA Standards 403.3, from memory).",
        "water-drive-high": "Where a drive or walk meets the concrete it lies higher than the concrete.",
        "water-drive-unknown": "Some points of a drive or walk have elevations and others none, so that its fall is "
        "known in part only.",
    }
)


def _findings(layout: Layout) -> Iterator[Finding]:
    if layout.design is None:
        return
    yield from _parts(layout)
    for stretch in stretches(layout):
        yield from _stretch(layout, stretch)
    for index, point in meeting(layout):
        yield from _high(layout, index, point)
    yield from _unknown(layout)


def _parts(layout: Layout) -> Iterator[Finding]:
    asked = layout.site.declared.water.paved
    if "water" not in layout.site.declared.model_fields_set:
        return
    for index, (part, (_, corners)) in enumerate(
        zip(layout.site.declared.slab.parts, layout.slab.form.parts, strict=True)
    ):
        slope = part_slope(part, corners)
        if slope < asked - 1e-9:
            short = layout.notation.length((asked - slope) * distance(corners[1], corners[2]))
            words = f"{part.name} falls away {layout.notation.fall(slope)}, less than {layout.notation.fall(asked)}: "
            words += f"its outer edge is {short} too high"
            place = layout.site.place("slab", "parts", index)
            yield Finding("water-paved-fall", Severity.WARNING, words, place, "a larger drop")


def _stretch(layout: Layout, stretch: Stretch) -> Iterator[Finding]:
    asked, write, fall = layout.site.declared.water, layout.notation.length, stretch.fall
    feature = layout.site.declared.features[stretch.feature]
    near = stretch.away < asked.within
    least = asked.paved if near else asked.drive_least if feature.kind == "drive" else 0.0
    most = asked.drive_most if feature.kind == "drive" else asked.walk_most
    where = f"{feature.name} from {stretch.near.name} to {stretch.far.name}"
    place, size = layout.site.place("features", stretch.feature), layout.notation.fall(abs(fall))
    if fall * stretch.length < -ENOUGH:
        words = f"{where} falls {size} toward the slab: {stretch.far.name} is {write(-fall * stretch.length)} higher"
        remedy = "make it fall away, or catch the water with a drain across it"
        yield Finding("water-drive-back", Severity.WARNING, words, place, remedy)
    elif (least - fall) * stretch.length > ENOUGH:
        words = f"{where} falls {size}, less than {layout.notation.fall(least)}: {stretch.far.name} is "
        words += f"{write((least - fall) * stretch.length)} too high"
        yield Finding("water-drive-flat", Severity.WARNING, words, place, "let it fall more")
    if (abs(fall) - most) * stretch.length > ENOUGH:
        words = f"{where} slopes {size}, more than {layout.notation.fall(most)}: "
        words += f"{write((abs(fall) - most) * stretch.length)} too much between its ends"
        yield Finding(
            "water-drive-steep", Severity.WARNING, words, place, "a longer way, or another height of the floor"
        )


def _high(layout: Layout, index: int, point: NamedPoint) -> Iterator[Finding]:
    top = _edge_height(layout, point.at)
    if top is not None and point.at.up is not None and point.at.up - top > ENOUGH:
        feature, write = layout.site.declared.features[index], layout.notation.length
        words = f"{feature.name} at {point.name} lies {write(point.at.up - top)} higher than the concrete it meets"
        remedy = "lower it there, or raise the floor"
        yield Finding("water-drive-high", Severity.STRONG, words, layout.site.place("features", index), remedy)


def _edge_height(layout: Layout, at: Point) -> float | None:
    """Of the concrete where it is nearest to a place [m]."""
    spot = shapely.Point(at.east, at.north)
    pieces = layout.design.pieces if layout.design else ()
    piece = min(pieces, key=lambda each: float(each.shape.distance(spot)), default=None)
    if piece is None:
        return None
    near = shapely.get_coordinates(shapely.shortest_line(piece.shape, spot))[0]
    return piece.top.height(Point(float(near[0]), float(near[1])))


def _unknown(layout: Layout) -> Iterator[Finding]:
    for index, feature in paved_features(layout):
        bare = [name for name in feature.places if layout.points[name].at.up is None]
        if bare and len(bare) < len(feature.places):
            words = f"{feature.name}: {', '.join(bare)} have no elevation, so its fall is not known there"
            words = words.replace(" have ", " has ") if len(bare) == 1 else words
            remedy = "give them one under [points], as it is to be built"
            yield Finding("water-drive-unknown", Severity.NOTE, words, layout.site.place("features", index), remedy)


CHECK = Check("Do parts, drives and walks lead water away from the slab?", CODES, _findings)
