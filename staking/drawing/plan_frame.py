"""How is a page of the plan divided: drawing, tables, boxes to sign, and at which scale is the ground shown?

+--------------------------------------+     +------------------------------+
| band, title                          |     | band, title                  |
+-----------------------------+--------+     +------------------------------+
|                             |        |     |                              |
| drawing                     | tables |     | drawing                      |
|                             |        |     |                              |
+-----------------------------+        |     +------------------------------+
| north, scale, not a survey  |        |     | north, scale, not a survey   |
+-----------------------------+        |     +---------+----------+---------+
| boxes to sign               |        |     | tables  | tables   | tables  |
+-----------------------------+--------+     +---------+----------+---------+
| foot                                 |     | boxes to sign, foot          |
+--------------------------------------+     +------------------------------+
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, partial

from staking.drawing.plan_flow import Area, PutRow, flowed, least_height
from staking.drawing.plan_paper import Scale
from staking.drawing.plan_text import LEAST, Block, SetBlock, block_set, least_high

EDGE = 20.0  # points from the edge of the paper to the frame: printers keep off a quarter of an inch
INSET = 6.0  # points from the frame to what stands in it
STRIP = 38.0  # height of the strip with north arrow and scale
SIGN = 42.0  # height of the boxes to sign
FOOT = 11.0
SIZES = (7.5, 7.0, LEAST)  # points; of tables
LABELS = 20.0  # points round the drawing that its outermost texts need

_COLUMN = 178.0  # points wide, about
_BETWEEN = 11.0  # points between columns
_LEAST_DRAWING = 0.4  # of the room, below which tables go to another page
_WORTH_A_SIZE = 0.12  # halvings of the scale that each step of type is worth
_ALWAYS = 3  # tables that stand on the first page whatever happens
_SLACK = 1.0  # points that tables may be higher than their columns before they are said not to fit

Extent = tuple[float, float, float, float]  # west, south, east, north of what is drawn [m]


@dataclass(frozen=True, slots=True)
class Frame:
    """A page divided. rows: tables set and placed; later: blocks for further pages, set in no width yet."""

    size: tuple[float, float]
    drawing: Area
    strip: Area
    sign: Area
    rows: tuple[PutRow, ...]
    later: tuple[SetBlock, ...]
    columns: tuple[Area, ...]  # of the further pages
    scale: Scale
    cost: float


@dataclass(frozen=True, slots=True)
class _Job:
    """What has to be divided. set: sets a block in a width and a size of type, each but once."""

    blocks: tuple[Block, ...]
    scales: tuple[Scale, ...]
    extent: Extent
    set: Callable[[Block, float, float], SetBlock]

    def scale(self, area: Area) -> Scale:
        """The largest scale at which the ground and its outermost texts fit into an area."""
        west, south, east, north = self.extent
        room = (area.width - 2 * LABELS) / max(east - west, 1e-6), (area.height - 2 * LABELS) / max(north - south, 1e-6)
        most = max(min(room), 1e-9)
        return next((scale for scale in self.scales if scale.points <= most), Scale("not to a usual scale", most))


def divided(
    blocks: tuple[Block, ...],
    scales: tuple[Scale, ...],
    extent: Extent,
    sizes: Sequence[tuple[float, float]],
    heads: Sequence[float],
    *,
    setting: Callable[[Block, float, float], SetBlock] | None = None,
) -> Frame:
    """The division with all tables on one page if there is one; of several the one that shows the ground largest.

    sizes: of paper that may be used; heads: height [points] of band and title on each. setting: sets a block in a
    width and a size of type, each but once; whoever divides more than once brings it along.
    """
    job = _Job(blocks, scales, extent, setting or cache(block_set))
    papers = list(zip(sizes, heads, strict=True))
    found = (
        _cheapest([way for paper in papers for way in _ways(_Page(job, *paper, first, forced=len(first) <= _ALWAYS))])
        for first in _first_pages(blocks)
    )
    return next(frame for frame in found if frame is not None)


@dataclass(frozen=True, slots=True)
class _Way:
    """A way to divide a page. least: what it costs at the least; tried: the division, None where tables do not fit."""

    least: float
    tried: Callable[[], Frame | None]


def _cheapest(ways: Sequence[_Way]) -> Frame | None:
    """The division that costs least, the first of several alike; a way that cannot be cheaper is not tried."""
    found: list[tuple[float, int, Frame]] = []
    for least, number in sorted((way.least, number) for number, way in enumerate(ways)):
        if found and (least, number) > min(found)[:2]:
            break
        frame = ways[number].tried()
        if frame is not None:
            found.append((frame.cost, number, frame))
    return min(found)[2] if found else None


def _first_pages(blocks: tuple[Block, ...]) -> Iterator[tuple[Block, ...]]:
    """What might stand on the first page: everything, what belongs there, or what no plan can do without."""
    yield blocks
    yield tuple(block for block in blocks if block.first)
    yield blocks[:_ALWAYS]


@dataclass(frozen=True, slots=True)
class _Page:
    """A page to be divided. head: height of band and title. first: its tables; forced: as many of them as fit."""

    job: _Job
    size: tuple[float, float]
    head: float
    first: tuple[Block, ...]
    forced: bool

    @property
    def area(self) -> Area:
        """What lies between title and foot."""
        width, height = self.size
        return Area(
            EDGE + INSET, height - EDGE - self.head, width - 2 * (EDGE + INSET), height - 2 * EDGE - self.head - FOOT
        )

    def set(self, width: float, type_size: float, room: float) -> list[SetBlock] | None:
        """Its tables, set; None as soon as they are higher together than the room [points], unless they are forced."""
        ready = []
        for block in self.first:
            ready.append(self.job.set(block, width, type_size))
            room -= ready[-1].height
            if room < -_SLACK and not self.forced:
                return None
        return ready

    def least(self, width: float) -> float:
        """A height [points] below which its tables never come, set in a width."""
        return sum(least_high(block, width) for block in self.first)

    def cost(self, drawing: Area, type_size: float) -> float:
        """The less, the larger the scale at which the ground is shown, and the larger the type."""
        return _WORTH_A_SIZE * SIZES.index(type_size) - math.log2(self.job.scale(drawing).points)


def _ways(page: _Page) -> Iterator[_Way]:
    """Tables in columns below the drawing of an upright page, or beside that of a lying one."""
    if page.size[0] <= page.size[1]:
        count = max(2, round(page.area.width / _COLUMN))
        width = (page.area.width - _BETWEEN * (count - 1)) / count
        drawing = _above(page, min(page.least(width) / count, _most(page)))
        for type_size in SIZES:
            yield _Way(page.cost(drawing, type_size), partial(_below, page, type_size, (count, width)))
        return
    for count in (1, 2):
        # Beside the drawing the type has no bearing on the scale, so the largest that fits is best.
        yield _Way(page.cost(_left_of(page, count), SIZES[0]), partial(_largest_beside, page, count))


def _room_below(page: _Page) -> float:
    """The height [points] of drawing and tables one below the other."""
    return page.area.height - STRIP - SIGN - 3 * INSET


def _most(page: _Page) -> float:
    """The height [points] that tables may take below the drawing."""
    return _room_below(page) * (1 - _LEAST_DRAWING)


def _above(page: _Page, high: float) -> Area:
    """The drawing over tables so high [points]."""
    return Area(page.area.x, page.area.top, page.area.width, _room_below(page) - high)


def _below(page: _Page, type_size: float, columns_of: tuple[int, float]) -> Frame | None:
    area, most = page.area, _most(page)
    count, width = columns_of
    ready = page.set(width, type_size, most * count)
    high = least_height(ready, count, width, most) if ready is not None else None
    if ready is None or (high is None and not page.forced):
        return None
    high = most if high is None else high
    drawing = _above(page, high)
    strip = Area(area.x, drawing.top - drawing.height - INSET, area.width, STRIP)
    columns = _side_by_side(Area(area.x, strip.top - STRIP - INSET / 2, area.width, high), count)
    sign = Area(area.x, columns[0].top - high - INSET, area.width, SIGN)
    return _frame(page, (drawing, strip, sign), (ready, columns), type_size)


def _column(count: int) -> float:
    """The width [points] of each of so many columns beside a drawing."""
    return _COLUMN + (12 if count == 1 else 0)


def _taken(count: int) -> float:
    """The width [points] of all of them."""
    return count * _column(count) + (count - 1) * _BETWEEN


def _left_of(page: _Page, count: int) -> Area:
    """The drawing left of so many columns."""
    area = page.area
    return Area(area.x, area.top, area.width - _taken(count) - _BETWEEN, area.height - STRIP - SIGN - 3 * INSET)


def _largest_beside(page: _Page, count: int) -> Frame | None:
    small = _left_of(page, count).width < page.area.width * _LEAST_DRAWING
    if not page.forced and (small or page.least(_column(count)) > count * page.area.height):
        return None
    return next(filter(None, (_beside(page, type_size, count) for type_size in SIZES)), None)


def _beside(page: _Page, type_size: float, count: int) -> Frame | None:
    area, drawing, taken = page.area, _left_of(page, count), _taken(count)
    left, high = drawing.width, area.height - INSET
    columns = _side_by_side(Area(area.x + left + _BETWEEN, area.top, taken, high), count)
    ready = page.set(_column(count), type_size, high * count)
    if ready is None or (flowed(ready, columns)[1] and not page.forced):
        return None
    strip = Area(area.x, drawing.top - drawing.height - INSET, left, STRIP)
    sign = Area(area.x, strip.top - STRIP - INSET, left, SIGN)
    return _frame(page, (drawing, strip, sign), (ready, columns), type_size)


def _side_by_side(area: Area, count: int) -> list[Area]:
    width = (area.width - _BETWEEN * (count - 1)) / count
    return [Area(area.x + i * (width + _BETWEEN), area.top, width, area.height) for i in range(count)]


def _frame(
    page: _Page, areas: tuple[Area, Area, Area], tables: tuple[list[SetBlock], list[Area]], type_size: float
) -> Frame:
    placed, waiting = flowed(*tables)
    whole = page.area
    count = max(2, round(whole.width / (_COLUMN * 1.4)))
    columns = _side_by_side(Area(whole.x, whole.top, whole.width, whole.height - INSET), count)
    rest = [block for block in page.job.blocks if block not in page.first]
    late = [*waiting, *(page.job.set(block, columns[0].width, SIZES[0]) for block in rest)]
    scale, cost = page.job.scale(areas[0]), page.cost(areas[0], type_size)
    return Frame(page.size, *areas, placed, tuple(late), tuple(columns), scale, cost)
