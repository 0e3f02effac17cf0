"""Which way do drives and walks fall, as far as their points have elevations?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import shapely

from staking.layout.computed import Layout, NamedPoint
from staking.sitefile.plan_declared import Feature
from staking.survey.points import distance
from staking.survey.polygons import polygon

PAVED = ("drive", "walk")
ALIKE = 0.1  # of its length: a stretch whose ends differ less in their distance from the slab leads past it, not away
REACHES = 0.6096  # metres (2 ft); what ends so near to the concrete is meant to meet it; own choice, no source


@dataclass(frozen=True, slots=True)
class Stretch:
    """Between two points of a drive or walk, from the one nearer to the slab outward. feature: its index in the file.

    away [m]: how far from the concrete it begins.
    """

    feature: int
    near: NamedPoint
    far: NamedPoint
    away: float

    @property
    def length(self) -> float:
        """Level distance [m]."""
        return distance(self.near.at, self.far.at)

    @property
    def fall(self) -> float:
        """Away from the slab, height over run; below 0 where it falls toward it."""
        return ((self.near.at.up or 0.0) - (self.far.at.up or 0.0)) / self.length


def paved_features(layout: Layout) -> Iterator[tuple[int, Feature]]:
    """Drives and walks, with their index in the file."""
    return ((i, each) for i, each in enumerate(layout.site.declared.features) if each.kind in PAVED)


def paved_areas(layout: Layout) -> Iterator[shapely.Polygon]:
    """Of drives and walks given by an outline."""
    for _, each in paved_features(layout):
        if each.outline:
            yield polygon(tuple(layout.points[name].at for name in each.outline))


def stretches(layout: Layout) -> Iterator[Stretch]:
    """Of every drive and walk, between points that have elevations; of an outline, the edges that lead away."""
    for index, feature in paved_features(layout):
        points = [layout.points[name] for name in feature.places]
        pairs = list(pairwise([*points, points[0]] if feature.outline else points))
        for one, other in pairs:
            if one.at.up is None or other.at.up is None or distance(one.at, other.at) == 0:
                continue
            (near, away), (far, beyond) = sorted(((p, apart(layout, p)) for p in (one, other)), key=lambda it: it[1])
            if not feature.outline or beyond - away > ALIKE * distance(one.at, other.at):
                yield Stretch(index, near, far, away)


def apart(layout: Layout, point: NamedPoint) -> float:
    """From the concrete, parts included [m]."""
    return float(layout.slab.form.whole.distance(shapely.Point(point.at.east, point.at.north)))


def meeting(layout: Layout) -> Iterator[tuple[int, NamedPoint]]:
    """The points at which drives and walks meet the concrete, and the index of the feature."""
    for index, feature in paved_features(layout):
        for name in feature.places:
            if apart(layout, layout.points[name]) <= REACHES:
                yield index, layout.points[name]
