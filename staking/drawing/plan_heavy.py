"""Where would a text on the plan be taken for another thing's: across a heavy line, or inside the slab or a part?"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import shapely

from staking.drawing.labels import Candidate
from staking.drawing.marks import Mark, PathMark
from staking.drawing.nearby import Nearby
from staking.drawing.on_paper import segments
from staking.drawing.paper import Box, Segment, Spot, box, line_meets
from staking.drawing.scale import View

_HEAVY = ("LOT", "SLAB", "PART")
_OUTSIDE = ("SETBACK", "HEIGHT")  # layers whose texts belong outside slab and parts
_AREAS = ("SLAB", "PART")
_ON_EDGE = 1.0  # points within which a text's place counts as on the edge of the slab
_ROUGH = 0.5  # points that the chords of an arc may leave it
_WHITE = 1.2  # points between a text and a heavy line: less than texts along a line keep from it
_THIN = 0.05  # points; half the width of a leader

Bars = Callable[[Candidate], bool]


class Heavy:
    """Lot lines, slab and parts on paper."""

    def __init__(self, marks: Sequence[Mark], seen: View) -> None:
        paths = [mark for mark in marks if isinstance(mark, PathMark) and mark.layer in _HEAVY]
        self._lines = Nearby(line for path in paths for line in segments(path, seen))
        self._areas = [_area(path, seen) for path in paths if path.closed and path.layer in _AREAS]

    @property
    def slab(self) -> Area | None:
        """The formed outline on paper; None where none is drawn."""
        return next((area for area in self._areas if area.layer == "SLAB"), None)

    def bars(self, layer: str, spot: Spot) -> Bars:
        """Whether a text of a layer about a spot would be misread in a place."""
        own = [area for area in self._areas if area.owns(layer, spot)]
        others = [area for area in self._areas if area not in own]
        crossed = frozenset(edge for area in own if area.layer == "PART" for edge in area.edges)

        def misread(place: Candidate) -> bool:
            if self._touches(place.box) or any(area.holds(place.box) for area in others):
                return True
            return place.leader is not None and self._crosses(place.leader, crossed)

        return misread

    def _touches(self, place: Box) -> bool:
        wide = box(
            Spot(place.x, place.y), place.half_length + _WHITE, place.half_height + _WHITE, place.right, place.up
        )
        return any(line_meets(line, wide) for line in self._lines.near(wide))

    def _crosses(self, leader: Segment, own: frozenset[Segment]) -> bool:
        """Whether a leader runs over a heavy line other than the edge of the part it leads out of."""
        strip = _strip(leader)
        return any(line not in own and line_meets(line, strip) for line in self._lines.near(leader))


@dataclass(frozen=True, slots=True)
class Area:
    """The slab or a part on paper."""

    layer: str
    shape: shapely.Polygon
    bounds: tuple[float, float, float, float]
    edges: tuple[Segment, ...]

    def owns(self, layer: str, spot: Spot) -> bool:
        """Whether a text may stand inside: lengths of the slab's sides may, figures of setbacks and heights may not."""
        if layer in _OUTSIDE or (self.layer == "PART" and layer != "PART") or not self._near(spot):
            return False
        at = shapely.Point(spot)
        return bool(self.shape.contains(at) if layer == "PART" else self.shape.distance(at) < _ON_EDGE)

    def _near(self, spot: Spot) -> bool:
        west, south, east, north = self.bounds
        return west - _ON_EDGE < spot.x < east + _ON_EDGE and south - _ON_EDGE < spot.y < north + _ON_EDGE

    def holds(self, place: Box) -> bool:
        """Whether the middle of a rectangle lies inside."""
        west, south, east, north = self.bounds
        inside = west < place.x < east and south < place.y < north
        return inside and bool(shapely.contains_xy(self.shape, place.x, place.y))


def _area(path: PathMark, seen: View) -> Area:
    shape = shapely.Polygon([seen.spot(at) for at in path.points(_ROUGH / seen.scale)])
    return Area(path.layer, shape, shape.bounds, tuple(segments(path, seen)))


def _strip(leader: Segment) -> Box:
    """A leader as a very thin rectangle."""
    x, y = leader.end.x - leader.start.x, leader.end.y - leader.start.y
    far = math.hypot(x, y) or 1.0
    middle = leader.start.moved(x / 2, y / 2)
    return box(middle, far / 2, _THIN, x / far, y / far)
