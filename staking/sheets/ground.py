"""What is dug and filled: ground at every corner and stake, form heights, earth under the slab, sections."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from staking.drawing.contours import ground_drawing, picture_window, step_in
from staking.drawing.sections import section_drawing, stations_of, stretch_of
from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.layout.earth import Earth, Section, Spot
from staking.layout.ground import cell_of
from staking.sheets.cautions import ALWAYS
from staking.sheets.heads import facts, finding_lines, foot, overruled
from staking.sheets.page import Block, Bullets, Cautions, Heading, Paragraph, Picture, Sheet, Signatures, Table
from staking.sheets.takeoff_earth import dug_apart
from staking.survey.triangles import NOTHING, Volume

GROUND_CAUTIONS = (
    "Heights of the ground are those of its points on the day they were measured, and between them those of flat "
    "triangles. Look at the ground before digging by this sheet.",
    "A competent person classes the soil and chooses the slope of the sides (29 CFR 1926.652). Spoil and machines stay "
    "2 ft (0.61 m) from the edge; from 4 ft (1.2 m) of depth a way out within 25 ft (7.6 m) "
    "(29 CFR 1926.651, as restated in public).",
    "What lies under a slab belongs to licensed design: bearing of filled ground, its layers and their compaction.",
)
STATED = (
    "The depth of {depth} stated in [overdig] is for the line on the ground and for boards and stakes only. The "
    "volumes are dug down to the undersides of the concrete and its base, whatever depth is stated."
)
OUTSIDE = "outside the points"


def ground_sheet(layout: Layout, findings: Sequence[Finding], despite: Sequence[str] = ()) -> Sheet:
    """The sheet; without ground points it says what to add."""
    blocks: list[Block] = [Cautions((*GROUND_CAUTIONS, *ALWAYS))]
    if layout.earth is None:
        blocks.append(Paragraph("The site file gives no ground. Add [[ground]] with a path or points."))
    else:
        blocks += [*_spots(layout, layout.earth), *_volumes(layout, layout.earth), *_sections(layout, layout.earth)]
    blocks += _excavation(layout)
    own = tuple(f for f in findings if f.code.startswith(("ground-", "water-", "overdig-")))
    if lines := finding_lines(own, Severity.NOTE):
        blocks += [Heading("Findings about ground, water and excavation"), Bullets(lines)]
    blocks.append(Signatures(("Ground read by", "Checked by")))
    return Sheet("Ground and earthwork", facts(layout), tuple(blocks), foot(layout), warning=overruled(despite))


def _spots(layout: Layout, earth: Earth) -> Iterator[Block]:
    yield Heading("Ground at corners and stakes")
    words = f"The surface is made of {earth.points} points, {len(earth.triangles.corners)} triangles."
    high, low = earth.high, earth.low
    if high and low:
        words += f" Ground at the corners: highest at {high.name}, {_up(layout, high.ground)}; lowest at {low.name}, "
        words += f"{_up(layout, low.ground)}."
    yield Paragraph(f"{words} Heights in {layout.notation.unit_words}.", strong=True)
    step = step_in(layout, earth, picture_window(layout))
    if step is not None:
        caption = f"Contours every {layout.notation.length(step)}, every fifth heavier, and the ground at each corner"
        caption += "; dash and dot: edge of the excavation" if layout.excavation else ""
        yield Picture(ground_drawing(layout, earth), caption, 196.0)
    yield Paragraph(
        "Form: how high its top stands above the ground; a minus: the ground is dug away there. Cut: from the ground "
        "down to the subgrade; a minus: so much is filled. At a stake beside the concrete the top is the string's."
    )
    head = ("point", "what", "ground", "top", "form", "subgrade", "cut", *(("finished",) if earth.finished else ()))
    rows = tuple(_row(layout, spot)[: len(head)] for spot in earth.spots)
    widths = (0.75, 3.6, 1.0, 1.0, 1.25, 1.15, 1.15, 1.05)[: len(head)]
    yield Table(head, rows, widths, frozenset(range(2, len(head))))
    if earth.finished:
        yield Paragraph(
            "Finished: the ground as it is to be after grading. Earth is counted from the ground as it is; only water, "
            "wood and the height of the concrete are asked of the finished ground."
        )


def _up(layout: Layout, up: float | None) -> str:
    return "-" if up is None else layout.notation.decimal(up)


def _row(layout: Layout, spot: Spot) -> tuple[str, ...]:
    ground = OUTSIDE if spot.ground is None else _up(layout, spot.ground)
    form, cut = ("-" if each is None else layout.notation.length(each) for each in (spot.form_height, spot.cut))
    finished = _up(layout, spot.finished)
    return spot.name, spot.what, ground, _up(layout, spot.top), form, _up(layout, spot.subgrade), cut, finished


def _volumes(layout: Layout, earth: Earth) -> Iterator[Block]:
    yield Heading("Earth under the concrete")
    if not earth.pieces:
        yield Paragraph("No volume: it needs [floor], and the thickness of the slab.")
        return
    base = layout.site.declared.earthwork.base
    below = f", {layout.notation.length(base)} of base counted" if base else ""
    total, write = earth.total, layout.notation.volume
    yield Paragraph(
        f"By triangles: cut {write(total.cut)}, fill under the slab {write(total.fill)}, excess of "
        f"{'cut' if total.excess >= 0 else 'fill'} {write(abs(total.excess))}.",
        strong=True,
    )
    yield Paragraph(
        f"Between the ground and the subgrade, the underside of the concrete{below}; in place, neither "
        "loosened nor compacted."
    )
    rows = list(_by_name(layout, earth))
    yield Table(
        ("piece", "area", "cut", "fill"), _summed(rows, layout, earth), (2, 1.3, 1.3, 1.3), frozenset({1, 2, 3})
    )
    yield from _beside(layout, earth)
    yield from _cross_check(layout, earth)
    if earth.uncovered > 0.01:
        area = layout.notation.area(earth.uncovered)
        yield Paragraph(f"Of the concrete {area} lie outside the points; they are in no figure.", strong=True)


def _beside(layout: Layout, earth: Earth) -> Iterator[Block]:
    """What is dug besides: sides with room to work in, and trenches of footings; and all of it together."""
    pit, asked, write = earth.pit, layout.site.declared.overdig, layout.notation.volume
    if pit is None or not (asked or pit.footings):
        return
    rows = [(name, write(volume)) for name, volume, _ in dug_apart(layout, earth)]
    yield Table(("in place", "volume"), (*rows, ("together", write(pit.volume))), (4, 1.3), frozenset({1}))
    yield Paragraph(
        "Each place counts once, for the deepest that is dug there. What is put back around and below is not taken off."
    )
    if asked and asked.depth is not None:
        yield Paragraph(STATED.format(depth=layout.notation.length(asked.depth)), strong=True)


def _by_name(layout: Layout, earth: Earth) -> Iterator[tuple[str, str, str, str]]:
    """Pieces of one name as one row: the slab and its thickened edges."""
    write = layout.notation.volume
    for name in dict.fromkeys(piece.name for piece in earth.pieces):
        own = [piece for piece in earth.pieces if piece.name == name]
        volume = sum((piece.volume for piece in own), NOTHING)
        yield name, layout.notation.area(sum(p.area for p in own)), write(volume.cut), write(volume.fill)


def _summed(
    rows: Sequence[tuple[str, str, str, str]], layout: Layout, earth: Earth
) -> tuple[tuple[str, str, str, str], ...]:
    total, write = earth.total, layout.notation.volume
    area = layout.notation.area(sum(piece.area for piece in earth.pieces))
    return (*rows, ("together", area, write(total.cut), write(total.fill)))


def _cross_check(layout: Layout, earth: Earth) -> Iterator[Block]:
    if earth.grid is None or earth.ends is None:
        return
    cell = layout.notation.length(cell_of(layout.site))
    yield Heading("The same by two other ways")
    ways = (("triangles", earth.total), (f"cells of {cell}", earth.grid), (f"sections every {cell}", earth.ends))
    rows = tuple(_way(layout, name, volume, earth.total) for name, volume in ways)
    yield Table(
        ("by", "cut", "fill", "cut less fill", "differs by"), rows, (2, 1.3, 1.3, 1.4, 1.4), frozenset(range(1, 5))
    )
    area = layout.notation.area(earth.grid.area)
    yield Paragraph(
        f"Triangles are exact for this surface. Cells count whole or not at all: together they cover {area} for "
        f"{layout.notation.area(earth.total.area)} of concrete, each with the height in its middle. Sections "
        "are exact where they lie, and between two of them the mean stands for all ground. Both come nearer with a "
        "smaller cell. A large difference means that ground or subgrade bends between them, as at thickened edges."
    )


def _way(layout: Layout, name: str, volume: Volume, exact: Volume) -> tuple[str, ...]:
    write = layout.notation.volume
    return name, write(volume.cut), write(volume.fill), write(volume.excess), write(volume.excess - exact.excess)


def _sections(layout: Layout, earth: Earth) -> Iterator[Block]:
    yield Heading("Sections along the sides")
    yield Paragraph(
        "Seen from outside the slab, from the first corner of the side on the left to the next. Cut: from the "
        "ground down to the subgrade; a minus: so much is filled."
    )
    for section in earth.sections:
        drawing = section_drawing(layout, section)
        if drawing is None:
            yield Paragraph(f"{section.name}: {OUTSIDE}.")
            continue
        stretch = stretch_of(section)
        heights = f"Heights stretched {stretch} times." if stretch > 1 else "Heights and lengths at one scale."
        words = f"{section.name}, {layout.notation.length(section.length)}. {heights}"
        yield Picture(drawing, f"{words} {_KEY}", 116.0)
        yield _figures(layout, section)


_KEY = "Heavy line: top of the concrete; thin line: ground; dashes: subgrade."


def _figures(layout: Layout, section: Section) -> Table:
    """The heights at the stations of a section."""
    rows = []
    for each in stations_of(layout, section):
        cut = "-" if each.cut is None else layout.notation.length(each.cut)
        ups = (_up(layout, up) for up in (each.ground, each.top, each.subgrade))
        rows.append((layout.notation.length(each.along), *ups, cut))
    head = ("from first corner", "ground", "top", "subgrade", "cut")
    return Table(head, tuple(rows), (1.6, 1.1, 1.1, 1.1, 1.1), frozenset({1, 2, 3, 4}))


def _excavation(layout: Layout) -> list[Block]:
    found, asked = layout.excavation, layout.site.declared.overdig
    if found is None or asked is None:
        return []
    write = layout.notation.length
    words = (
        f"Depth {write(found.depth)}, as stated" if found.stated else f"Deepest {write(found.depth)} below the ground"
    )
    words += f"; sides {found.slope:g} to 1 (run to height), {write(asked.room)} to work in at the bottom. Boards and "
    words += f"offset stakes stand {write(asked.boards)} or more outside this edge wherever the lot leaves room."
    head = ("edge outside the", "at its first corner", "at its second", "least", "most")
    rows = tuple(
        (rim.name, *(write(each) for each in (rim.first, rim.last, rim.least, rim.most))) for rim in found.rims
    )
    return [Heading("Excavation"), Paragraph(words), Table(head, rows, (2, 1.4, 1.2, 1, 1), frozenset({1, 2, 3, 4}))]
