"""Which lines and arcs is a parcel of a LandXML file made of, and do they close?

A parcel is one CoordGeom: lines, curves and chains, each beginning where the one before ends, the last one ending where
the first begins. A curve is its start, centre, end and rot (cw to the right as it runs, ccw to the left); radius and
length, where they stand too, must agree. Ends are held, and the centre is moved onto the line square to the chord, by
no more than its rounding.

Source: LandXML schema (landxml.org), its element rules from memory.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from staking.sitefile.landxml import LandXmlFile, metres, number, numbers_of
from staking.sitefile.places import plain
from staking.sitefile.point_files import SAME_PLACE
from staking.sitefile.xml_tree import Node
from staking.survey.lines import Line
from staking.survey.paths import Arc, Piece
from staking.survey.points import Point, distance
from staking.units import Unit

SAME_CURVE = 0.006  # metres, 0.02 ft: so far a curve's own figures may lie apart, as they are rounded; own choice
MOST_SIDES = 500  # of a parcel; more are no lot
_LEAST_SIDES = 2  # an arc and its chord
_OTHER_SHAPES = {"Spiral": "a spiral", "IrregularLine": "an irregular line"}


class BoundaryError(ValueError):
    """A parcel that cannot be a lot; `node` is the element to blame."""

    def __init__(self, node: Node, message: str) -> None:
        super().__init__(message)
        self.node = node
        self.message = message


@dataclass(frozen=True, slots=True)
class Side:
    """A piece of the boundary, north and east in metres; start_name: of the point it begins in, name: its own."""

    piece: Piece
    start_name: str
    name: str
    node: Node


def boundary_of(file: LandXmlFile, parcel: Node, unit: Unit) -> tuple[Side, ...]:
    """The sides of a parcel, in order. Raises BoundaryError for whatever makes no closed boundary of lines and arcs."""
    shapes = list(parcel.all("CoordGeom"))
    if len(shapes) != 1 or any(parcel.all("Exclusions")):
        what = "no CoordGeom" if not shapes else "more than one boundary, or a piece taken out of it"
        raise BoundaryError(parcel, f"it has {what}; one closed boundary is read")
    sides = tuple(side for node in shapes[0].children for side in _Reading(file, unit).sides(node))
    if not _LEAST_SIDES <= len(sides) <= MOST_SIDES:
        raise BoundaryError(shapes[0], f"it has {len(sides)} sides; {_LEAST_SIDES} to {MOST_SIDES} make a lot")
    return _closed(sides)


def _closed(sides: Sequence[Side]) -> tuple[Side, ...]:
    """The sides with each end moved onto the next beginning. Raises BoundaryError for a gap."""
    for before, after in pairwise((*sides, sides[0])):
        gap = distance(before.piece.end, after.piece.start)
        if gap > SAME_PLACE:
            where = "the boundary does not close" if after is sides[0] else "a side does not begin where the last ends"
            turned = distance(before.piece.end, after.piece.end) <= SAME_PLACE
            hint = "; it seems to run the other way round" if turned else ""
            raise BoundaryError(after.node, f"{where}: {gap:.4f} m lie between{hint}")
    starts = [side.piece.start for side in sides]
    return tuple(
        Side(_ending(side, end), side.start_name, side.name, side.node)
        for side, end in zip(sides, (*starts[1:], starts[0]), strict=True)
    )


def _ending(side: Side, end: Point) -> Piece:
    piece = side.piece
    if isinstance(piece, Line):
        return Line(piece.start, end)
    return _arc(side.node, Arc(piece.start, end, _centred(piece.start, end, piece.centre), piece.left))


def _arc(node: Node, arc: Arc) -> Arc:
    if distance(arc.start, arc.end) <= SAME_PLACE:
        raise BoundaryError(node, "a curve ends where it begins; a whole circle is no side")
    return arc


def _centred(start: Point, end: Point, centre: Point) -> Point:
    """The place nearest to a centre that is equally far from both ends."""
    chord = Line(start, end)
    return chord.at(chord.length / 2, chord.offset(centre))


@dataclass(frozen=True, slots=True)
class _Reading:
    """Reads the elements of a boundary."""

    file: LandXmlFile
    unit: Unit

    def sides(self, node: Node) -> Iterator[Side]:
        """What an element gives: one side, of a chain one from each point to the next."""
        if node.tag in _OTHER_SHAPES:
            raise BoundaryError(node, f"{_OTHER_SHAPES[node.tag]} is in it; lots of lines and arcs are read")
        if node.tag == "Line":
            yield self._line(node)
        elif node.tag == "Curve":
            yield self._curve(node)
        elif node.tag == "Chain":
            yield from self._chain(node)
        elif node.tag != "Feature":  # what programs add of their own
            raise BoundaryError(node, f"<{plain(node.tag)}> is none of Line, Curve and Chain")

    def _line(self, node: Node) -> Side:
        (start, name), (end, _) = self._end(node, "Start"), self._end(node, "End")
        if distance(start, end) <= SAME_PLACE:
            raise BoundaryError(node, "a line ends where it begins")
        return Side(Line(start, end), name, node.get("name"), node)

    def _chain(self, node: Node) -> Iterator[Side]:
        names = node.text.split()
        if len(names) < 2:
            raise BoundaryError(node, "a chain names two points or more")
        places = [self._place(node, Node("Chain", node.line, {"pntRef": name})) for name in names]
        for name, (start, end) in zip(names, pairwise(places), strict=False):
            if distance(start, end) <= SAME_PLACE:
                raise BoundaryError(node, f"the chain stays in one place at {plain(name)}")
            yield Side(Line(start, end), name, node.get("name"), node)

    def _curve(self, node: Node) -> Side:
        (start, name), (end, _), (centre, _) = (self._end(node, tag) for tag in ("Start", "End", "Center"))
        if node.get("rot") not in ("cw", "ccw"):
            raise BoundaryError(node, 'a curve does not say which way it turns (rot = "cw" or "ccw")')
        near, far = sorted((distance(centre, start), distance(centre, end)))
        if far - near > SAME_CURVE or near <= SAME_PLACE:
            raise BoundaryError(node, f"the ends of a curve are {near:.4f} m and {far:.4f} m from its centre")
        if distance(start, end) <= SAME_PLACE:
            raise BoundaryError(node, "a curve ends where it begins; a whole circle is no side")
        arc = Arc(start, end, _centred(start, end, centre), left=node.get("rot") == "ccw")
        self._compare(node, "radius", arc.radius, SAME_CURVE)
        self._compare(node, "length", arc.length, max(SAME_CURVE, SAME_CURVE * arc.length / arc.radius))
        return Side(arc, name, node.get("name"), node)

    def _compare(self, node: Node, key: str, computed: float, allowed: float) -> None:
        """Raise BoundaryError where a figure of a curve contradicts its centre, ends and rot."""
        if not node.get(key):
            return
        try:
            said = metres(number(node.get(key)), self.unit)
        except ValueError as error:
            raise BoundaryError(node, f"the {key} of a curve: {error}") from None
        if abs(said - computed) > allowed:
            raise BoundaryError(
                node, f"the {key} of a curve is {said:.4f} m, but by its centre, ends and rot {computed:.4f} m"
            )

    def _end(self, node: Node, tag: str) -> tuple[Point, str]:
        """A point of a line or curve, and the name it bears."""
        found = node.first(tag)
        if found is None:
            raise BoundaryError(node, f"a {node.tag.lower()} has no {tag}")
        return self._place(node, found), found.get("pntRef") or found.get("name")

    def _place(self, node: Node, point: Node) -> Point:
        try:
            north, east, *_ = numbers_of(self.file, point)
            return Point(metres(east, self.unit), metres(north, self.unit))
        except ValueError as error:
            raise BoundaryError(node, str(error)) from None
