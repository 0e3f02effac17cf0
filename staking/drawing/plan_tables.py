"""What do the tables beside the plan say: facts, legend, room to every line, curves, points, findings, cautions?"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import chain, groupby
from operator import attrgetter
from types import MappingProxyType

from staking.drawing.feature_marks import building_distances
from staking.drawing.height_notes import height_notes
from staking.drawing.layers import LAYERS
from staking.drawing.marks import Mark, PathMark, SymbolMark, SymbolShape, TextMark
from staking.drawing.on_paper import stroke_of
from staking.drawing.paper import PaperLine, PaperPolygon, Shape, Spot
from staking.drawing.plan_marks import MANY_SIDES, features_of_kind, shown_points
from staking.drawing.plan_text import Block, Cell, Sample
from staking.drawing.site_marks import bearing, curve_tags, surveyed
from staking.drawing.symbols import symbol
from staking.drawing.window import window_of
from staking.findings import Severity
from staking.layout.computed import Layout, LotSide, Margin, SideLength
from staking.survey.overlays import shared, united
from staking.survey.paths import Arc
from staking.survey.points import Point
from staking.survey.polygons import polygon


@dataclass(frozen=True, slots=True)
class PlanWords:
    """The words that come from elsewhere.

    facts: label and value pairs of the title block. findings: warnings and graver ones, a sentence each. cautions:
    safety and law. band: printed across the top where stakes are withheld or a stop was overruled. foot: on every page.
    """

    facts: tuple[tuple[str, str], ...]
    findings: tuple[str, ...]
    cautions: tuple[str, ...]
    band: str
    foot: str


def blocks_of(layout: Layout, marks: Sequence[Mark], words: PlanWords, *, stakes: bool) -> tuple[Block, ...]:
    """The tables in the order of their weight; empty ones are left out.

    stakes: whether coordinates of the slab's corners may be given.
    """
    found = (
        Block("", tuple((label.upper(), value) for label, value in _facts(layout, words)), strong=frozenset({1})),
        _room(layout),
        *_curves(layout),
        Block("Findings to settle", _bullets(_settled_here(layout, words.findings, stakes=stakes))),
        _legend(marks),
        Block("Notes", _bullets(tuple(_notes(layout)))),
        _across(layout),
        _sides(layout),
        _points(layout, stakes=stakes),
        Block(
            "Revisions", tuple((each.mark, each.date.isoformat(), each.what) for each in layout.site.declared.revisions)
        ),
        Block("Cautions", _bullets(words.cautions), first=False),
    )
    return tuple(block for block in found if block.rows)


def notes_block(notes: Sequence[str], unplaced: Sequence[str], rule: str = "") -> Block:
    """What the numbers in brackets on the drawing stand for, and what could not be written on it.

    rule: which names of many are written.
    """
    rows: list[tuple[Cell, ...]] = [(f"[{number}]", note) for number, note in enumerate(notes, start=1)]
    rows += [("-", f"not marked on the drawing: {text}") for text in unplaced]
    rows += [("-", rule)] if rule else []
    return Block("Texts moved off the drawing", tuple(rows))


def _bullets(lines: Sequence[str]) -> tuple[tuple[Cell, ...], ...]:
    return tuple(("•", line) for line in lines)


def _settled_here(layout: Layout, findings: Sequence[str], *, stakes: bool) -> tuple[str, ...]:
    """The findings about what the plan shows; those about stakes only where it shows stakes, unless they stop the job.

    The code stands in brackets at the end of each.
    """
    shown = stakes and layout.site.declared.plan.stakes
    stop = Severity.STOP.words.upper()
    return tuple(it for it in findings if shown or it.startswith(stop) or not _OF_STAKES.search(it))


_OF_STAKES = re.compile(r"\[stake-[a-z-]+\]$")

_GIVEN_BY: Mapping[str, str] = MappingProxyType(
    {
        "surveyor": "by a surveyor",
        "plat": "from the plat",
        "owner": "as the owner gave them",
        "taped": "as taped",
    }
)


def _facts(layout: Layout, words: PlanWords) -> Iterator[tuple[str, str]]:
    plan, lot = layout.site.declared.plan, layout.site.declared.lot
    decimal = layout.notation.decimal
    stated = layout.site.declared.coordinates
    own = (
        ("Street", plan.street),
        ("Zoning", plan.zoning),
        ("Flood", plan.flood),
        ("Heights", stated.vertical if stated else ""),
        ("Benchmark", plan.benchmark),
        ("Floor", _floor(layout)),
        ("Street level", decimal(plan.street_elevation, 2) if plan.street_elevation is not None else ""),
        (
            "Lot lines",
            ", ".join(filter(None, (_GIVEN_BY.get(lot.given_by or "", ""), lot.source))) if lot else "",
        ),
    )
    yield from words.facts[1:]  # the job itself stands in the title
    yield from ((label, value) for label, value in own if value)


def _floor(layout: Layout) -> str:
    """The stated height, and the lowest corner where the floor falls; empty where neither is known."""
    write = layout.notation.decimal
    if layout.floor_height is None:
        return ""
    corners = [grade for grade in layout.grades if grade.kind == "corner"]
    low = min(corners, key=lambda grade: round(grade.up, 6), default=None)
    if low is None or write(low.up, 2) == write(layout.floor_height, 2):
        return write(layout.floor_height, 2)
    return f"{write(layout.floor_height, 2)}, lowest corner {write(low.up, 2)} ({low.name})"


def _room(layout: Layout) -> Block:
    margins = chain.from_iterable(sorted(own, key=_exempt) for _, own in groupby(layout.margins, key=attrgetter("of")))
    rows = [_margin_row(layout, margin) for margin in margins]
    write = layout.notation.length
    rows += [(name, write(far), "-", "-") for name, far, _, _ in building_distances(layout)]
    return Block(
        "Room from the slab, least distance",
        tuple(rows),
        ("to", "is", "required", "to spare"),
        right=frozenset({1, 2, 3}),
        strong=frozenset({1}),
        over=True,
    )


def _exempt(margin: Margin) -> bool:
    """Whether it is about something for which the setback does not hold; such rows stand below the setback's own."""
    return margin.rule == "lot line" and margin.what != "outline"


def _margin_row(layout: Layout, margin: Margin) -> tuple[Cell, ...]:
    write = layout.notation.length
    given = margin.rule != "lot line" or _exempt(margin)
    name = f"{'TOO NEAR: ' if margin.room < 0 else ''}{_margin_name(margin)}"
    if not given:
        return name, write(margin.distance), "no figure", "-"
    return name, write(margin.distance), write(margin.required), write(margin.room)


def _margin_name(margin: Margin) -> str:
    """The rule with its line or area, and what of the slab is meant where it is not the outline."""
    rules = {
        "setback": f"{margin.of} setback",
        "lot line": f"lot line {margin.of}",
        "street centre": f"street centre, {margin.of}",
    }
    name = rules.get(margin.rule, margin.of)
    if margin.what == "outline":
        return name
    # The setback does not hold for these parts; nothing may reach over the lot line all the same.
    exempt = margin.rule == "lot line" and margin.what == "parts"
    return f"{name}, {'exempt parts' if exempt else margin.what}"


def _curves(layout: Layout) -> Iterator[Block]:
    """Two curves a table, side by side."""
    tags = curve_tags(layout)
    sides = layout.lot.sides if layout.lot else ()
    curved = list(tags)
    for pair in (curved[n : n + 2] for n in range(0, len(curved), 2)):
        columns = [_curve(layout, sides[index]) for index in pair]
        rows = tuple(zip(_OF_CURVES, *columns, strict=True))
        head = ("curve", *(tags[index] for index in pair))
        yield Block("Curves of the lot", rows, head, right=frozenset(range(1, len(head))))


_OF_CURVES = ("radius", "arc", "delta", "chord", "chord bearing")


def _curve(layout: Layout, side: LotSide) -> tuple[str, ...]:
    if not isinstance(side.piece, Arc):
        return ("-",) * len(_OF_CURVES)
    radius, along, chord = (surveyed(layout, it) for it in (side.piece.radius, side.piece.length, side.line.length))
    return radius, along, layout.notation.azimuth(side.piece.sweep), chord, bearing(layout, side)


def _sides(layout: Layout) -> Block:
    """The lengths of the sides where they are too many for the drawing, equal ones that follow one another in one."""
    if len(layout.sides) <= MANY_SIDES:
        return Block("", ())
    rows = []
    for text, run in groupby(layout.sides, key=partial(_side_length, layout)):
        sides = tuple(run)
        each = text if len(sides) == 1 else f"{len(sides)} sides of {text}"
        rows.append((f"{sides[0].start} to {sides[-1].end}", each))
    return Block("Sides of the slab", tuple(rows), strong=frozenset({0}))


def _side_length(layout: Layout, side: SideLength) -> str:
    text = layout.notation.both(side.length)
    return text if side.radius is None else f"arc {text}, R {layout.notation.both(side.radius)}"


def _across(layout: Layout) -> Block:
    write = layout.notation.both
    rows = tuple((f"{it.start} to {it.end}", write(it.length)) for it in layout.diagonals)
    return Block("Diagonals of the slab", rows, strong=frozenset({0}))


def _points(layout: Layout, *, stakes: bool) -> Block:
    given = [(side.start_name, side.piece.start) for side in layout.lot.sides] if layout.lot else []
    given += shown_points(layout, window_of(layout))
    corners = list(zip(layout.corner_names, layout.slab.form.corners, strict=True)) if stakes else []
    if stakes and layout.grades:
        corners = [(grade.name, grade.at) for grade in layout.grades if grade.kind == "corner"]
    known = any(at.up is not None for _, at in given + corners)
    rows = tuple(_point_row(layout, name, at, known=known) for name, at in given + corners)
    head = ("point", "north", "east", "elevation") if known else ("point", "north", "east")
    return Block("Points", rows, head, right=frozenset({1, 2, 3}), strong=frozenset({0}), first=False)


def _point_row(layout: Layout, name: str, at: Point, *, known: bool) -> tuple[Cell, ...]:
    place = layout.frame.to_file(at)
    row = (name, layout.notation.coordinate(place.north), layout.notation.coordinate(place.east))
    if not known:
        return row
    return (*row, "" if at.up is None else layout.notation.decimal(at.up, 2))


def _notes(layout: Layout) -> Iterator[str]:
    plan, area = layout.site.declared.plan, layout.notation.area
    if layout.slab.ledge > 0:
        ledge = layout.notation.length(layout.slab.ledge)
        yield f"The outline shown is the formed one, with a ledge of {ledge} all round."
    yield "Lot lines and points in decimals, the slab as a tape reads it."
    if layout.lot is not None and layout.buildable is not None:
        slab, covered = layout.slab.area, _covered(layout)
        share = 100 * covered / layout.lot.area
        yield f"Lot {area(layout.lot.area)}; may be built on {area(layout.buildable.area)}; slab {area(slab)}."
        limit = f" Limit: {plan.impervious}." if plan.impervious else ""
        yield f"Slab, parts, drives, walks, buildings as drawn cover {area(covered)}, {share:.1f} % of the lot.{limit}"
    known = {it.of: it.uncertainty for it in layout.margins if it.uncertainty is not None}
    for name, uncertainty in known.items():
        yield f"The {name} line is known to {layout.notation.length(uncertainty)} at 95 %, as stated with it."
    if layout.slab.thickness is not None:
        yield f"Slab {layout.notation.length(layout.slab.thickness)} thick."
    yield from height_notes(layout)
    if plan.drainage:
        yield f"Drainage: {plan.drainage}."
    if plan.none:
        yield f"None on this lot, as stated by the maker of this sheet: {', '.join(plan.none)}."
    yield from plan.notes


def _covered(layout: Layout) -> float:
    """Ground under slab, parts, drives, walks and buildings, inside the lot [m2]."""
    shapes = [layout.slab.form.whole]
    for feature in features_of_kind(layout, "drive", "walk", "building"):
        if feature.outline:
            shapes.append(polygon([layout.points[name].at for name in feature.outline]).buffer(0))
    inside = united(shapes)
    chords = layout.slab.form.shape.area  # arcs are drawn as chords, the slab's own area is exact
    covered = shared(inside, polygon(layout.lot.drawn)) if layout.lot else inside
    return float(covered.area) + layout.slab.area - chords


_SYMBOLS: tuple[tuple[SymbolShape, str, str], ...] = (
    ("stake", "CORNER", "slab corner"),
    ("pin", "GIVEN", "lot corner, as given"),
    ("given", "GIVEN", "given point"),
    ("thing", "FEATURE", "tree, pole, well or other thing"),
    ("stake", "OFFSET", "offset stake"),
    ("pin", "BOARD", "post of a batter board"),
    ("nail", "BOARD", "nail"),
    ("foot", "MARK", "mark along a side"),
    ("nail", "STRING", "crossing of strings"),
)


_LEGEND = "Legend"
_ARROWS = frozenset(
    {"FALL", "DRAINAGE"}
)  # layers whose lines have a head, which tells them from plain ones on a copier
_IN_WORDS = frozenset({"CONTOUR-FIFTH", "HEIGHT"})  # layers that another row of the legend speaks for
_LETTERS: Mapping[str, str] = MappingProxyType({"F": "floor at a corner", "G": "ground at a corner"})


def with_legend(blocks: tuple[Block, ...], marks: Sequence[Mark]) -> tuple[Block, ...]:
    """The blocks with the legend of these marks in the place of theirs."""
    return tuple(_legend(marks) if block.title == _LEGEND else block for block in blocks)


def _legend(marks: Sequence[Mark]) -> Block:
    """What is drawn, and nothing else, two to a row."""
    drawn = {mark.layer for mark in marks if not isinstance(mark, SymbolMark)}
    symbols = {
        (mark.shape, "FEATURE" if mark.shape == "thing" else mark.layer)
        for mark in marks
        if isinstance(mark, SymbolMark)
    }
    entries: list[tuple[Cell, str]] = [
        (Sample(symbol(shape, Spot(0, 0), LAYERS[layer].colour), 26, 9), words)
        for shape, layer, words in _SYMBOLS
        if (shape, layer) in symbols
    ]
    filled = {mark.layer for mark in marks if isinstance(mark, PathMark) and mark.filled}
    entries += [
        (Sample(_line_sample(layer.name, filled=layer.name in filled), 26, 9), layer.words)
        for layer in LAYERS.values()
        if layer.name in drawn and layer.name not in _IN_WORDS
    ]
    letters = {mark.text[0] for mark in marks if isinstance(mark, TextMark) and mark.layer == "HEIGHT"}
    entries += [(letter, words) for letter, words in _LETTERS.items() if letter in letters]
    half = (len(entries) + 1) // 2
    pairs: list[tuple[Cell, ...]] = []
    for number in range(half):
        left = entries[number]
        right = entries[number + half] if number + half < len(entries) else None
        pairs.append((*left, *right) if right else left)
    return Block(_LEGEND, tuple(pairs))


def _line_sample(layer: str, *, filled: bool) -> tuple[Shape, ...]:
    if filled:
        corners = (Spot(-12, -3.2), Spot(12, -3.2), Spot(12, 3.2), Spot(-12, 3.2))
        return (PaperPolygon(corners, stroke=stroke_of(layer), fill="#ebebeb"),)
    line = PaperLine(Spot(-13, 0), Spot(13, 0), stroke_of(layer))
    if layer not in _ARROWS:
        return (line,)
    return line, *(PaperLine(line.end, Spot(8, across), stroke_of(layer)) for across in (-2.6, 2.6))
