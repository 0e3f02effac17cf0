"""Random lots with arcs, written down as courses: they close, and it matters neither where nor which way one begins."""

from __future__ import annotations

import math
from dataclasses import dataclass

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from making import layout_of

from staking import Layout
from staking.survey.lines import Line
from staking.survey.paths import Arc, Piece, flattened, path_area, path_length, reversed_path
from staking.survey.points import Point, azimuth

CLOSE = 1e-6 * 0.3048  # metres: a millionth of a foot

TAIL = """
[setbacks]
{setbacks}
[slab]
width = 6
depth = 4
[placement]
kind = "at_point"
corner = 1
at = "MID"
side = "front"
bearing = 70
"""


@dataclass(frozen=True)
class RandomLot:
    """A ring of pieces about the origin, counter-clockwise."""

    pieces: tuple[Piece, ...]

    def begun_at(self, index: int) -> RandomLot:
        """The same lot, its record begun at another corner."""
        return RandomLot(self.pieces[index:] + self.pieces[:index])

    def reversed(self) -> RandomLot:
        """The same lot, its record run the other way round."""
        return RandomLot(reversed_path(self.pieces))

    def layout(self, names: dict[Point, str]) -> Layout:
        """Read from courses with all the digits a float has. names: of the sides, by a place on each."""
        start = self.pieces[0].start
        lines = [
            '[site]\nname = "ring"\nunit = "m"\n[points]',
            f"POB = [{start.north!r}, {start.east!r}]",
            "MID = [-2, -3]",
        ]
        lines += ['[lot]\ngiven_by = "surveyor"\nstart = "POB"']
        for piece in self.pieces:
            lines += ["[[lot.courses]]", f'side = "{_name(piece, names)}"', *_course(piece)]
        setbacks = "\n".join(f"{name} = 1.5" for name in names.values())
        return layout_of("\n".join(lines) + TAIL.format(setbacks=setbacks))


def _middle(piece: Piece) -> Point:
    return piece.at(piece.length / 2)


def _name(piece: Piece, names: dict[Point, str]) -> str:
    middle = _middle(piece)
    return min(names.items(), key=lambda item: math.dist((item[0].east, item[0].north), (middle.east, middle.north)))[1]


def _course(piece: Piece) -> list[str]:
    if isinstance(piece, Line):
        return [f"bearing = {azimuth(piece.start, piece.end):.13f}", f'length = "{piece.length:.12f} m"']
    return [
        'kind = "curve"',
        f'turn = "{"left" if piece.left else "right"}"',
        f'radius = "{piece.radius:.12f} m"',
        f'delta = "{piece.sweep:.13f}"',
        f"chord_bearing = {azimuth(piece.start, piece.end):.13f}",
    ]


@st.composite
def random_lots(draw: st.DrawFn, most: int = 12) -> RandomLot:
    """Corners at growing angles round the origin, 25 to 45 m away; some sides bowed in or out."""
    count = draw(st.integers(3, most))
    reaches = [draw(st.floats(25.0, 45.0)) for _ in range(count)]
    turns = [math.tau * (i + draw(st.floats(0.05, 0.6))) / count for i in range(count)]
    corners = [Point(r * math.cos(t), r * math.sin(t)) for r, t in zip(reaches, turns, strict=True)]
    pieces: list[Piece] = []
    for start, end in zip(corners, corners[1:] + corners[:1], strict=True):
        bulge = draw(st.sampled_from([0.0, 0.0, 0.06, -0.05, 0.11]))
        pieces.append(Arc.through_bulge(start, end, bulge) if bulge else Line(start, end))
    return RandomLot(tuple(pieces))


def _names(lot: RandomLot) -> dict[Point, str]:
    return {_middle(piece): f"s{index}" for index, piece in enumerate(lot.pieces)}


def _rooms(layout: Layout) -> dict[str, float]:
    return {margin.of: margin.distance for margin in layout.margins}


@given(random_lots())
@settings(max_examples=40, deadline=None)
def test_random_lots_close(lot: RandomLot) -> None:
    """The calls lead back to a millionth of a foot; area and perimeter are those of the pieces."""
    layout = lot.layout(_names(lot))
    assert layout.lot is not None
    assert layout.lot.record is not None
    assert layout.lot.record.closure.distance < CLOSE
    assert layout.lot.area == pytest.approx(path_area(lot.pieces), rel=1e-9)
    assert layout.lot.record.closure.perimeter == pytest.approx(path_length(lot.pieces), rel=1e-9)
    assert all(not curve.contradictions for curve in layout.lot.record.curves)


@given(random_lots(), st.integers(0, 11), st.booleans())
@settings(max_examples=40, deadline=None)
def test_beginning_and_direction_change_nothing(lot: RandomLot, index: int, backward: bool) -> None:
    """Begun at another corner, or run the other way round, the same lot has the same rooms, area and perimeter."""
    names = _names(lot)
    here = lot.layout(names)
    other = lot.begun_at(index % len(lot.pieces))
    there = (other.reversed() if backward else other).layout(names)
    assert _rooms(there) == pytest.approx(_rooms(here), abs=CLOSE)
    assert here.lot is not None
    assert there.lot is not None
    assert there.lot.area == pytest.approx(here.lot.area, rel=1e-9)
    assert here.buildable is not None
    assert there.buildable is not None
    assert there.buildable.area == pytest.approx(here.buildable.area, rel=1e-5)


@given(random_lots(most=30).filter(lambda lot: len(lot.pieces) >= 20))
@settings(max_examples=8, deadline=None)
def test_thirty_courses(lot: RandomLot) -> None:
    """A lot of twenty to thirty courses is laid out like any other."""
    layout = lot.layout(_names(lot))
    assert layout.lot is not None
    assert len(layout.lot.sides) == len(lot.pieces)
    assert layout.lot.area == pytest.approx(path_area(lot.pieces), rel=1e-9)


@given(random_lots())
@settings(max_examples=30, deadline=None)
def test_rooms_agree_with_densified_arcs(lot: RandomLot) -> None:
    """Shapely, with every arc in chords that leave it by a thousandth of a millimetre, finds the same rooms."""
    names = _names(lot)
    layout = lot.layout(names)
    assume(min(_rooms(layout).values()) > 0)  # a slab over a line is told by how far, not by a distance
    slab = shapely.Polygon([(c.east, c.north) for c in layout.slab.form.corners])
    assert layout.lot is not None
    for side in layout.lot.sides:
        chords = shapely.LineString([(p.east, p.north) for p in flattened([side.piece], 1e-6)])
        (margin,) = (margin for margin in layout.margins if margin.of == side.name)
        assert margin.distance == pytest.approx(chords.distance(slab), abs=2e-6)
