"""The tables that prove a layout by tape: what to measure, what it must be, how far off it may be and who says so."""

from __future__ import annotations

from collections.abc import Iterator

from staking.layout.computed import Layout
from staking.layout.tape_plan import TapePlan
from staking.layout.tolerances import SOURCE, Tolerance, of_diagonal, of_length, sideways_by_diagonal
from staking.sheets.columns import cells, heads, in_feet, shares
from staking.sheets.page import Block, Bullets, Heading, Paragraph, Table


def check_blocks(layout: Layout, plan: TapePlan | None) -> Iterator[Block]:
    """Sides and diagonals, what a diagonal tells, ties to the lines, and corners by two tapes."""
    yield Heading("Check distances")
    yield _distances(layout)
    if layout.crossings:
        yield Bullets(tuple(_crossing_words(layout)))
    yield Paragraph(f"Permitted differences: {SOURCE}")
    if plan is not None:
        yield Paragraph(_squareness(layout, plan))
    if layout.ties:
        yield from _ties(layout)
    if layout.double_ties:
        yield from _double_ties(layout)
    else:
        yield Heading("A corner by two tapes")
        yield Paragraph(
            "No two given points within reach of a tape of "
            f"{layout.notation.length(layout.site.declared.tape.length)} give a firm crossing at any corner."
        )


def _distances(layout: Layout) -> Table:
    rows = [
        (f"{side.start} - {side.end}", side.taped, *_figures(layout, side.chord, of_length(side.chord)))
        for side in layout.sides
    ]
    rows.extend(
        (f"{d.start} - {d.end}", f"diagonal of {d.of}", *_figures(layout, d.length, of_diagonal(d.length)))
        for d in layout.diagonals
    )
    head = ("between", "what", *heads(layout, "must be"), "may differ", "measured", "off by")
    last = len(head) - 1
    widths = (1.4, 2.4, *shares(layout), 1.1, 1.4, 1.1)
    return Table(head, tuple(rows), widths, to_fill=frozenset({last - 1, last}))


def _crossing_words(layout: Layout) -> Iterator[str]:
    """Where the corners of check rectangles are that are no corners of the slab."""
    for crossing in layout.crossings:
        start = layout.corner_names[crossing.side]
        yield (
            f"{crossing.name}: no stake. It is on the string of {layout.slab.form.outline.side_label(crossing.side)}, "
            f"{layout.notation.both(crossing.along)} from {start}, where the string of an inside corner runs over it."
        )


def _figures(layout: Layout, length: float, tolerance: Tolerance) -> tuple[str, ...]:
    figure = tolerance.plus_minus
    allowed = "no figure" if figure is None else f"\u00b1 {layout.notation.allowance(figure)}"
    return (*cells(layout, length), allowed, "", "")


def _squareness(layout: Layout, plan: TapePlan) -> str:
    """What a small error of one diagonal does to the frame."""
    write = layout.notation
    step = 0.001 if not in_feet(layout) else float(write.unit.metres) / 12 / 16
    slide = sideways_by_diagonal(plan.width, plan.depth, step)
    one, two, three, four = plan.names
    small = write.allowance(step * (1 + 1e-9))
    in_all = slide / plan.depth * 10
    per = f"{in_all * 1000:.1f} mm per 10 m" if not in_feet(layout) else f"{in_all * 12:.3f} in per 10 ft"
    return (
        f"What a diagonal tells: {small} more on {one} - {three} (and as much less on {two} - {four}) means "
        f"that {three} "
        f"and {four} stand {_fine(layout, slide)} too far toward {three}'s side: {per} out of square. Half the "
        "difference of the two diagonals is what each is off."
    )


def _fine(layout: Layout, length: float) -> str:
    if in_feet(layout):
        return f"{length / float(layout.site.unit.metres) * 12:.3f} in"
    return f"{length * 1000:.1f} mm"


def _ties(layout: Layout) -> Iterator[Block]:
    required = {base.name: base.required for base in layout.lines.values() if base.required is not None}
    rows = tuple(
        (
            tie.corner,
            f"{tie.line}, beyond it" if tie.beyond else tie.line,
            *cells(layout, tie.distance),
            f"{layout.notation.length(tie.along)} from {tie.from_name}",
            layout.notation.length(required[tie.line]) if tie.line in required else "-",
            "",
        )
        for tie in layout.ties
    )
    yield Heading("Ties square to the lines")
    yield Paragraph(
        "A setback has no plus tolerance: a corner may stand farther in than its least distance, never nearer."
    )
    yield Table(
        ("corner", "square from", *heads(layout, "distance"), "foot on the line", "least", "measured"),
        rows,
        (0.9, 1.2, *shares(layout), 2.2, 0.9, 1.3),
        to_fill=frozenset({5 + in_feet(layout)}),
    )


def _double_ties(layout: Layout) -> Iterator[Block]:
    both = layout.notation.both
    rows = tuple(
        (t.corner, t.first, both(t.first_distance), t.second, both(t.second_distance), f"{t.hand}, {t.angle:.0f}\u00b0")
        for t in layout.double_ties
    )
    yield Heading("A corner by two tapes")
    yield Paragraph(
        "To set or prove a corner by itself: hold one tape at each given point; where the two distances meet is the "
        "corner, on the named hand as one looks from the first point to the second. The angle is the one at which the "
        "tapes meet; 90\u00b0 is best."
    )
    yield Table(
        ("corner", "first point", "distance", "second point", "distance", "hand, angle"), rows, (0.8, 1, 2, 1, 2, 1.2)
    )
