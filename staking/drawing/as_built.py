"""What was measured beside what was computed, from above: once with the differences enlarged, once at their true size.

Thin and dashed: the design. Heavy: as measured. An arrow runs from each point as computed to the same as measured.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import shapely

from staking.drawing.marks import CircleMark, Drawing, LineMark, Mark, PathMark, SymbolMark, TextMark
from staking.drawing.on_paper import points_round
from staking.field.compared import Comparison, Deviation
from staking.field.words import up_words
from staking.notation import Notation
from staking.survey.points import Point, azimuth_of

ROUND = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)  # times that differences are enlarged
MOST_NAMED = 24  # points with name and amount on one drawing
MANY = 9  # points; of more only corners, and what is out, have name and amount written beside them

_ARROW = 0.16  # of the shorter side of the slab, that the largest arrow or tolerance may be drawn; own choice
_CROWDED = 0.07  # the same where there are many arrows
_BAR = 0.22  # of the longer side of the ground shown, that a scale bar may be long
_BELOW = 0.08  # of the longer side: a row below the drawing
_ROWS = (1.3, 2.2)  # of the bars
_TICK = 0.012
_FEET = (0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500)  # bars for the ground
_METRES = (0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200)
_INCHES = (1 / 16, 1 / 8, 1 / 4, 1 / 2, 1, 2, 3, 6, 12, 24, 60, 120)  # bars for enlarged differences
_MILLIMETRES = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000)


def enlargement(comparison: Comparison) -> int:
    """How many times the differences are drawn enlarged: a round number, 1 where they can be seen as they are.

    What is allowed counts too, so that a slab well within it does not look as if it were out of shape.
    """
    west, south, east, north = comparison.layout.slab.form.whole.bounds
    shown = drawn(comparison)
    many = len(shown) > MANY
    set_by = shown if many or not comparison.corners else comparison.corners
    largest = max((max(each.plan.length, each.allowed.plus_minus or 0.0) for each in set_by), default=0.0)
    if largest == 0:
        return 1
    most = (_CROWDED if many else _ARROW) * min(east - west, north - south) / largest
    return max((times for times in ROUND if times <= most), default=1)


def as_built_drawing(comparison: Comparison) -> Drawing:
    """The differences enlarged, with north arrow and a scale bar each for ground and differences."""
    times = enlargement(comparison)
    frame = _frame(comparison, times)
    # Texts find their places in this order: those of the bars stay beside the bars, and amounts give way.
    marks = [*_ground_bar(comparison, frame), *_difference_bar(comparison, frame, times), *_north(frame)]
    marks += [*_allowed(comparison, times), *_things(comparison, times)]
    marks += [*_amounts(comparison, times), *_names(comparison)]
    return Drawing(tuple(marks), f"As built beside as computed, differences enlarged {times} times")


def true_size_drawing(comparison: Comparison) -> Drawing:
    """The same at true size, for a drawing program: nothing in it lies where nothing was measured or computed."""
    write = comparison.layout.notation
    marks: list[Mark] = [*_things(comparison, 1)]
    marks += [TextMark("DEVIATION", each.measured.at, amount(each, write), side=180.0) for each in drawn(comparison)]
    marks += [SymbolMark("DESIGN", each.design.at, "", "given") for each in drawn(comparison)]
    marks += [SymbolMark("DESIGN", each.at, f"{each.name} not measured", "given") for each in comparison.missing]
    return Drawing(tuple(marks), "As built beside as computed")


def drawn(comparison: Comparison) -> tuple[Deviation, ...]:
    """What is drawn: all that was set. Given points measured again lie far off and stand in a table."""
    return tuple(each for each in comparison.deviations if each.design.what != "given")


def enlarged(each: Deviation, times: float) -> Point:
    """Where a measured point is drawn."""
    plan = each.plan
    return Point(each.design.at.east + times * plan.east, each.design.at.north + times * plan.north)


def _things(comparison: Comparison, times: float) -> Iterator[Mark]:
    """Outlines and arrows."""
    form = comparison.layout.slab.form
    yield PathMark("DESIGN", form.corners, closed=True, bulges=form.outline.bulges)
    for _, corners in form.parts:
        yield PathMark("DESIGN", corners, closed=True)
    yield from _measured_outline(comparison, times)
    for each in drawn(comparison):
        if each.plan.length > 0:
            yield LineMark("DEVIATION", each.design.at, enlarged(each, times), head=True)


def _allowed(comparison: Comparison, times: float) -> Iterator[CircleMark]:
    """Round each corner, how far it may be off."""
    for each in comparison.corners:
        if each.allowed.plus_minus:
            yield CircleMark("KEEP-CLEAR", each.design.at, times * each.allowed.plus_minus)


def _measured_outline(comparison: Comparison, times: float) -> Iterator[PathMark]:
    """The whole outline, or those of its sides of which both ends were measured."""
    form = comparison.layout.slab.form
    places = {each.design.corner: enlarged(each, times) for each in comparison.corners}
    count = len(form.corners)
    bulges = form.outline.bulges or (0.0,) * count
    if len(places) == count:
        yield PathMark("MEASURED", tuple(places[index] for index in range(count)), closed=True, bulges=bulges)
        return
    for side in range(count):
        ends = side, (side + 1) % count
        if all(end in places for end in ends):
            yield PathMark("MEASURED", tuple(places[end] for end in ends), bulges=(bulges[side],))


def _named(comparison: Comparison) -> tuple[Deviation, ...]:
    """Those with name and amount: all of a few, else corners and what is out, of very many those farthest off."""
    found = drawn(comparison)
    if len(found) <= MANY:
        return found
    wanted = [each for each in found if each.design.corner is not None or is_out(each)]
    return tuple(sorted(wanted, key=lambda each: (is_out(each), each.plan.length), reverse=True)[:MOST_NAMED])


def _amounts(comparison: Comparison, times: float) -> Iterator[TextMark]:
    """How far each point is off, written at the tip of its arrow; of many points only at those of corners."""
    for each in (each for each in _named(comparison) if not _in_name(comparison, each)):
        side = azimuth_of(each.plan) if each.plan.length > 0 else 0.0
        words = amount(each, comparison.layout.notation)
        yield TextMark("DEVIATION", enlarged(each, times), words, side=side, size=10 if is_out(each) else 8)


def amount(each: Deviation, write: Notation) -> str:
    """How far a point is off in plan, with a word where that is too far; in height only where that is."""
    plan = write.small(each.plan.length) + (" OUT" if each.answer == "out" else "")
    return f"{plan}, {up_words(each.up, write)} OUT" if each.up is not None and each.answer_up == "out" else plan


def is_out(each: Deviation) -> bool:
    """Whether a point is out in plan or in height."""
    return "out" in (each.answer, each.answer_up)


def _in_name(comparison: Comparison, each: Deviation) -> bool:
    """Whether the amount stands behind the name: a text at an arrow's tip that must give way has no leader back."""
    return each.design.corner is None and len(drawn(comparison)) > MANY


def _names(comparison: Comparison) -> Iterator[SymbolMark]:
    write = comparison.layout.notation
    named = {each.design.name for each in _named(comparison)}
    for each in drawn(comparison):
        corner = each.design.corner is not None
        name = each.design.name if each.design.name in named else ""
        if name and _in_name(comparison, each):
            name = f"{name}: {amount(each, write)}"
        yield SymbolMark("DESIGN", each.design.at, name, "nail" if corner else "foot", emphasis=corner)
    for point in comparison.missing:
        yield SymbolMark("DESIGN", point.at, f"{point.name} not measured", "given", emphasis=True)


@dataclass(frozen=True, slots=True)
class _Frame:
    """What is drawn lies between these [m]; size: its longer side."""

    west: float
    south: float
    east: float
    north: float

    @property
    def size(self) -> float:
        return max(self.east - self.west, self.north - self.south)

    def below(self, rows: float) -> float:
        """North of a row below the drawing."""
        return self.south - rows * _BELOW * self.size


def _frame(comparison: Comparison, times: float) -> _Frame:
    spots = [(each.east, each.north) for each in _places(comparison, times)]
    return _Frame(*shapely.MultiPoint(spots).bounds)


def _places(comparison: Comparison, times: float) -> Iterator[Point]:
    yield from (corner for _, part in comparison.layout.slab.form.parts for corner in part)
    yield from comparison.layout.slab.form.drawn
    for each in drawn(comparison):
        yield from (each.design.at, enlarged(each, times))
    for circle in _allowed(comparison, times):
        yield from points_round(circle.centre, circle.radius, 4)


def _bar(start: Point, length: float, tick: float, words: str) -> Iterator[Mark]:
    end = Point(start.east + length, start.north)
    yield LineMark("NOTE", start, end)
    for at in (start, end):
        yield LineMark("NOTE", Point(at.east, at.north - tick), Point(at.east, at.north + tick))
    yield TextMark("NOTE", Point(end.east + tick, end.north), words, side=90.0)


def _ground_bar(comparison: Comparison, frame: _Frame) -> Iterator[Mark]:
    layout = comparison.layout
    unit = float(layout.site.unit.metres)
    steps = _METRES if layout.site.unit.name == "m" else _FEET
    length = _largest([step * unit for step in steps], _BAR * frame.size)
    words = f"{layout.notation.length(length)} on the ground"
    yield from _bar(Point(frame.west, frame.below(_ROWS[0])), length, _TICK * frame.size, words)


def _difference_bar(comparison: Comparison, frame: _Frame, times: int) -> Iterator[Mark]:
    layout = comparison.layout
    steps = [each / 1000 for each in _MILLIMETRES]
    if layout.site.unit.name != "m":
        steps = [each * float(layout.site.unit.metres) / 12 for each in _INCHES]
    length = _largest(steps, _BAR * frame.size / times)
    words = f"{layout.notation.small(length)} off, enlarged {times} times"
    yield from _bar(Point(frame.west, frame.below(_ROWS[1])), length * times, _TICK * frame.size, words)


def _largest(steps: Iterable[float], most: float) -> float:
    ordered = sorted(steps)
    return max((step for step in ordered if step <= most), default=ordered[0])


def _north(frame: _Frame) -> Iterator[Mark]:
    """An arrow at the right below the drawing, beside the bars: names and amounts stand clear of it."""
    foot, tip = (Point(frame.east, frame.below(row)) for row in (_ROWS[1], _ROWS[1] - 1.5))
    yield LineMark("NOTE", foot, tip, head=True)
    yield TextMark("NOTE", tip, "N", side=0.0, size=11)
