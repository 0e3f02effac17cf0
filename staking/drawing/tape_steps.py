"""A small picture for each step of the work with tape and string: what is there in grey, what is done now in bold."""

from __future__ import annotations

from collections.abc import Iterator

from staking.drawing.draw import beside_line, stake_mark
from staking.drawing.marks import Drawing, LineMark, Mark, PathMark, SymbolMark, SymbolShape
from staking.layout.computed import Layout
from staking.layout.tape_plan import BeyondCorner, TapePlan, far_end
from staking.survey.lines import Line
from staking.survey.points import Point, mean, moved, vector

PAST = 0.12  # of the frame's width that strings are drawn past their marks


def base_line(layout: Layout, plan: TapePlan) -> Drawing:
    """The two pulls square off the reference, and the base string."""
    marks: list[Mark] = [*_outline(layout), *_reference(layout, plan), _string(plan.corners[0], plan.corners[1])]
    for pull in plan.pulls:
        marks.append(SymbolMark("TIE", pull.foot, "", shape="foot"))
        marks.extend(_measure(pull.foot, pull.end, layout.notation.length(pull.distance), _middle(layout)))
    return Drawing(tuple(marks), "The base line, pulled square off the reference")


def base_marks(layout: Layout, plan: TapePlan) -> Drawing:
    """The marks on the base line, from the second line and by the width."""
    first, second = plan.corners[:2]
    marks: list[Mark] = [*_outline(layout), _string(first, second)]
    if plan.start is not None:
        line = _near(layout.lines[plan.start.line].line, plan.start.crossing, plan.depth / 2)
        mark = plan.corners[plan.start.mark]
        marks.append(LineMark("REFERENCE", line.start, line.end))
        marks.append(beside_line("REFERENCE", line.start, line.end, plan.start.line, _middle(layout)))
        marks.extend(_measure(plan.start.crossing, mark, layout.notation.length(plan.start.along), _middle(layout)))
    marks.extend(_measure(first, second, layout.notation.length(plan.width), _middle(layout)))
    marks.extend(_marks(plan, (0, 1)))
    return Drawing(tuple(marks), "The marks on the base line")


def far_line(layout: Layout, plan: TapePlan) -> Drawing:
    """The far string, parallel to the base string."""
    one, two, three, four = plan.corners
    marks: list[Mark] = [*_outline(layout), _string(one, two), _string(four, three)]
    for start, end in ((one, four), (two, three)):
        marks.extend(_measure(start, end, layout.notation.length(plan.depth), _middle(layout)))
    marks.extend(_marks(plan, (0, 1)))
    return Drawing(tuple(marks), "The far line, parallel to the base line")


def diagonals(layout: Layout, plan: TapePlan) -> Drawing:
    """Both diagonals, each from a mark of the base line to the far string."""
    one, two, three, four = plan.corners
    text = layout.notation.length(plan.diagonal)
    marks: list[Mark] = [*_outline(layout), _string(one, two), _string(four, three)]
    marks.extend(_measure(one, three, text, four))
    marks.extend(_measure(two, four, text, three))
    marks.extend(_marks(plan, (0, 1, 2, 3)))
    return Drawing(tuple(marks), "The far corners by the diagonals")


def closing(layout: Layout, plan: TapePlan) -> Drawing:
    """The distance that was not used to set anything."""
    marks: list[Mark] = [*_outline(layout), PathMark("STRING", plan.corners, closed=True)]
    marks.extend(_measure(plan.corners[3], plan.corners[2], layout.notation.length(plan.width), _middle(layout)))
    marks.extend(_marks(plan, (2, 3)))
    return Drawing(tuple(marks), "The closing check")


def ordinates(layout: Layout, plan: TapePlan) -> Drawing:
    """The cross strings between base line and far line, and the corners on them."""
    one, two, three, four = plan.corners
    marks: list[Mark] = [*_outline(layout), _string(one, two), _string(four, three)]
    for ordinate in plan.ordinates:
        foot = moved(one, plan.right, ordinate.along)
        marks.append(LineMark("TIE", foot, far_end(plan, ordinate)))
        marks.append(SymbolMark("CORNER", ordinate.at, ordinate.name, emphasis=True))
    marks.extend(_marks(plan, (0, 1, 2, 3)))
    return Drawing(tuple(marks), "The other corners by ordinates")


def parts(layout: Layout, plan: TapePlan) -> Drawing:
    """The parts of the slab, with their corners named."""
    marks: list[Mark] = [*_outline(layout)]
    for part in plan.parts:
        marks.append(PathMark("PART", part.corners, closed=True))
        marks.extend(
            SymbolMark("CORNER", at, name, emphasis=True) for name, at in zip(part.names, part.corners, strict=True)
        )
    return Drawing(tuple(marks), "The parts of the slab")


def arcs(layout: Layout, plan: TapePlan) -> Drawing:
    """The arcs, each with its chord and the places on it that are measured off the chord."""
    marks: list[Mark] = [*_outline(layout)]
    for arc in plan.arcs:
        marks.append(LineMark("STRING", arc.start, arc.end))
        for place in arc.places:
            marks.append(LineMark("TIE", place.foot, place.at))
            marks.append(SymbolMark("MARK", place.at, "", shape="foot"))
    # Two arcs may share a corner, which is named once.
    corners = {name: at for arc in plan.arcs for name, at in ((arc.start_name, arc.start), (arc.end_name, arc.end))}
    marks.extend(SymbolMark("CORNER", at, name, emphasis=True) for name, at in corners.items())
    return Drawing(tuple(marks), "The arcs")


def ends(layout: Layout, plan: TapePlan, kind: str) -> Drawing:
    """The strings over all sides and what holds their ends: offset stakes, or nails on batter boards."""
    chosen = [end for end in plan.ends if end.stake.kind == kind]
    marks: list[Mark] = [*_outline(layout), *(_end_string(layout, end) for end in chosen)]
    if kind == "nail":
        marks.extend(LineMark("BOARD", *board.posts) for board in layout.boards)
    marks.extend(stake_mark(end.stake, emphasis=True) for end in chosen)
    return Drawing(tuple(marks), "Offset stakes" if kind == "offset" else "Batter boards and nails")


def _end_string(layout: Layout, end: BeyondCorner) -> LineMark:
    side = layout.slab.form.sides[end.stake.side or 0]
    return LineMark("STRING", side.start if end.stake.along < 0 else side.end, end.stake.at)


def _outline(layout: Layout) -> Iterator[Mark]:
    """The slab itself, lightly, so that one sees what the step is about."""
    form = layout.slab.form
    yield PathMark("BUILDING-LINE", form.corners, closed=True, filled=True, bulges=form.outline.bulges)


def _reference(layout: Layout, plan: TapePlan) -> Iterator[Mark]:
    """The piece of the reference that the step uses, drawn to its ends or a little past the feet."""
    line = plan.reference.line
    feet = [line.along(pull.foot) for pull in plan.pulls]
    spare = plan.width * PAST
    shown = Line(line.at(min(0.0, *feet) - spare), line.at(max(line.length, *feet) + spare))
    yield LineMark("REFERENCE", shown.start, shown.end)
    yield beside_line("REFERENCE", shown.start, shown.end, plan.reference.name, _middle(layout))
    for name, at in ((plan.reference.start_name, line.start), (plan.reference.end_name, line.end)):
        if name in layout.points:
            yield SymbolMark("GIVEN", at, name, shape="given")


def _near(line: Line, place: Point, reach: float) -> Line:
    """The piece of a line around a place on it."""
    middle = line.along(place)
    return Line(line.at(middle - reach), line.at(middle + reach))


def _string(start: Point, end: Point) -> LineMark:
    """A string, stretched past both of its marks."""
    direction = vector(start, end).unit()
    spare = vector(start, end).length * PAST
    return LineMark("STRING", moved(start, direction, -spare), moved(end, direction, spare))


def _measure(start: Point, end: Point, text: str, middle: Point) -> Iterator[Mark]:
    yield LineMark("DIMENSION", start, end, arrows=True)
    if vector(start, end).length > 0:
        yield beside_line("DIMENSION", start, end, text, middle)


def _marks(plan: TapePlan, which: tuple[int, ...]) -> Iterator[Mark]:
    for index in which:
        shape: SymbolShape = "stake" if plan.real[index] else "foot"
        yield SymbolMark("CORNER", plan.corners[index], plan.names[index], shape=shape, emphasis=True)


def _middle(layout: Layout) -> Point:
    return mean(layout.slab.form.corners)
