"""What does the sheet look like that the inspector signs? One drawing with its tables, on one page if it can be."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache, partial
from itertools import chain

from staking.drawing.marks import ArcMark, CircleMark, LineMark, Mark, PathMark, SymbolMark, TextMark
from staking.drawing.on_paper import line_shapes, symbol_shapes
from staking.drawing.paper import Fitted, PaperLine, PaperPolygon, PaperText, Spot, Stroke, boxes_meet, near
from staking.drawing.placing import inside, plates
from staking.drawing.plan_flow import Area, flowed
from staking.drawing.plan_frame import EDGE, Extent, Frame, divided
from staking.drawing.plan_labels import Labels, labelled
from staking.drawing.plan_marks import plan_marks
from staking.drawing.plan_paper import papers, scales
from staking.drawing.plan_parts import border, head, sheet_number, signatures, strip
from staking.drawing.plan_tables import PlanWords, blocks_of, notes_block, with_legend
from staking.drawing.plan_text import SetBlock, SetRow, block_set
from staking.drawing.scale import View
from staking.layout.computed import Layout
from staking.survey.points import Point

_LEADER = Stroke(0.5, "#444444")
_ROUNDS = 4  # of making room for notes that the labels of the round before needed


def plan_sheet(layout: Layout, words: PlanWords, *, stakes: bool = True) -> tuple[Fitted, ...]:
    """The pages of the plan, nearly always one.

    stakes: False after a stop: the slab is shown, but no coordinate from which it could be staked.
    """
    marks = plan_marks(layout, stakes=stakes)
    blocks = blocks_of(layout, marks, words, stakes=stakes)
    sizes, extent = papers(layout), _extent(_widening(layout, marks))
    heads = [head(layout, words.band, width - 2 * EDGE).height for width, _ in sizes]
    notes: tuple[tuple[str, ...], tuple[str, ...], str] = ((), (), "")
    missing: frozenset[str] = frozenset()
    setting, placing = cache(block_set), cache(partial(labelled, marks))
    for _ in range(_ROUNDS):
        more = (blocks[0], notes_block(*notes), *blocks[1:]) if any(notes) else blocks
        frame = divided(more, scales(layout), extent, sizes, heads, setting=setting)
        seen = _view(frame, extent)
        labels = placing(seen)
        if ((labels.notes, labels.unplaced, labels.rule), labels.left_out) == (notes, missing):
            break
        notes, missing = (labels.notes, labels.unplaced, labels.rule), labels.left_out
        blocks = with_legend(blocks, _written(marks, missing))
    return _pages(layout, words, frame, _drawn(marks, labels, seen, frame.drawing))


def _written(marks: Sequence[Mark], missing: frozenset[str]) -> list[Mark]:
    """The marks without the heights that found no place: the legend speaks of what is there."""
    return [it for it in marks if not (isinstance(it, TextMark) and it.layer == "HEIGHT" and it.text in missing)]


def overlaps(page: Fitted) -> int:
    """How many pairs of texts on a page overlap, and how many texts leave it; 0 on every page made here."""
    boxes = [text.box for text in page.texts]
    pairs = sum(boxes_meet(one, other) for n, one in enumerate(boxes) for other in near(one, boxes[n + 1 :]))
    return pairs + sum(not inside(one, (page.width, page.height)) for one in boxes)


def _widening(layout: Layout, marks: Sequence[Mark]) -> list[Mark]:
    """The marks that the scale must leave room for; contours run out where a lot ends."""
    contours = () if layout.lot is None else ("CONTOUR", "CONTOUR-FIFTH", "BREAK-LINE")
    return [mark for mark in marks if mark.layer not in contours]


def _extent(marks: Sequence[Mark]) -> Extent:
    places = list(chain.from_iterable(_reach(mark) for mark in marks))
    east, north = [at.east for at in places], [at.north for at in places]
    return min(east), min(north), max(east), max(north)


def _reach(mark: Mark) -> tuple[Point, ...]:
    match mark:
        case LineMark():
            return (mark.start, mark.end)
        case PathMark() | ArcMark():
            return mark.points(0.01)
        case CircleMark():
            east, north, radius = mark.centre.east, mark.centre.north, mark.radius
            return Point(east - radius, north - radius), Point(east + radius, north + radius)
        case SymbolMark():
            return (mark.at,)
        case _:
            return ()


def _view(frame: Frame, extent: Extent) -> View:
    west, south, east, north = extent
    size = frame.drawing.width, frame.drawing.height
    middle = Point((west + east) / 2, (south + north) / 2)
    return View(frame.scale.points, middle, Spot(size[0] / 2, size[1] / 2), size)


def _drawn(marks: Sequence[Mark], labels: Labels, seen: View, area: Area) -> SetRow:
    """The drawing with its texts in its place on the page."""
    shapes = chain(
        chain.from_iterable(line_shapes(mark, seen) for mark in marks),
        (PaperLine(line.start, line.end, _LEADER) for line in labels.leaders),
        (PaperPolygon(it.corners(0.4), fill="#ffffff") for it in plates(labels.texts, list(labels.lines))),
        chain.from_iterable(symbol_shapes(mark, seen) for mark in marks),
    )
    return SetRow(0.0, tuple(shapes), labels.texts).moved(area.x, area.top - area.height)


def _pages(layout: Layout, words: PlanWords, frame: Frame, drawing: SetRow) -> tuple[Fitted, ...]:
    first = (
        drawing,
        strip(layout, frame.strip, frame.scale.words, frame.scale.points),
        signatures(frame.sign),
        *(put.moved() for put in frame.rows),
    )
    bodies = [first, *_further(frame.later, frame.columns)]
    return tuple(
        _page(layout, words, frame, (number, len(bodies)), body) for number, body in enumerate(bodies, start=1)
    )


def _further(blocks: tuple[SetBlock, ...], columns: tuple[Area, ...]) -> list[tuple[SetRow, ...]]:
    pages = []
    while blocks:
        rows, left = flowed(blocks, columns)
        if not rows:
            break
        pages.append(tuple(put.moved() for put in rows))
        blocks = left
    return pages


def _page(layout: Layout, words: PlanWords, frame: Frame, number: tuple[int, int], body: Sequence[SetRow]) -> Fitted:
    width, height = frame.size
    band = words.band
    top = head(layout, band, width - 2 * EDGE).moved(EDGE, height - EDGE)
    below_band = (
        height - EDGE - (head(layout, band, width - 2 * EDGE).height - head(layout, "", width - 2 * EDGE).height)
    )
    count = sheet_number(layout, width - 2 * EDGE, *number).moved(EDGE, below_band - 3)
    rows = (border(frame.size, words.foot), top, count, *body)
    shapes = tuple(shape for row in rows for shape in row.shapes)
    texts: tuple[PaperText, ...] = tuple(text for row in rows for text in row.texts)
    title = f"{layout.site.declared.plan.heading}: {layout.site.declared.site.name}"
    return Fitted(width, height, frame.scale.points, title, shapes, texts)
