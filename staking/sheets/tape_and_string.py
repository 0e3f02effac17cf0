"""The sheet for a crew with a steel tape and string and no instrument, in the order of work."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from staking.drawing import tape_steps
from staking.drawing.draw import overview
from staking.findings import Finding, Severity
from staking.kinds.stakes import BatterBoards
from staking.layout.computed import Layout, Stake
from staking.layout.tape_plan import SAME, PartByTape, TapePlan, longest_pull, tape_plan
from staking.sheets.cautions import ALWAYS
from staking.sheets.columns import cells, heads, shares
from staking.sheets.heads import facts, finding_lines, foot, overruled
from staking.sheets.page import (
    Block,
    Bullets,
    Cautions,
    Heading,
    Paragraph,
    Picture,
    Sheet,
    Signatures,
    Step,
    Table,
)
from staking.sheets.tape_checks import check_blocks
from staking.sheets.tape_frame import base_step, closing_step, diagonal_step, far_step, marks_step


def tape_and_string(layout: Layout, findings: Sequence[Finding], despite: Sequence[str] = ()) -> Sheet:
    """The sheet. findings: of the checks; despite: codes of stops that were overruled."""
    plan = tape_plan(layout)
    blocks: list[Block] = [Cautions(ALWAYS), *_before(layout, findings, plan), Heading("Order of work")]
    if plan is None:
        blocks.append(
            Paragraph(
                "Nothing in the site file gives a direction that a tape can follow. Add a line under [[references]], "
                "the lot, or a second given point; then the steps are printed here."
            )
        )
    else:
        blocks.extend(_numbered(_steps(layout, plan)))
    blocks.extend(check_blocks(layout, plan))
    blocks.append(Signatures(("Set by", "Checked by (not the one who set it)", "Inspected by")))
    return Sheet(
        "Setting out with tape and string", facts(layout), tuple(blocks), foot(layout), warning=overruled(despite)
    )


def _before(layout: Layout, findings: Sequence[Finding], plan: TapePlan | None) -> Iterator[Block]:
    """What to know and to have before the first measurement."""
    yield Heading("What is set out")
    yield Picture(overview(layout), "The slab on its lot. North is up.", height=290)
    yield Bullets(tuple(_facts_of_slab(layout, plan)))
    lines = finding_lines(findings, Severity.WARNING)
    if lines:
        yield Heading("Findings to settle first")
        yield Bullets(lines)


def _facts_of_slab(layout: Layout, plan: TapePlan | None) -> Iterator[str]:
    write = layout.notation.both
    slab = layout.slab
    if slab.ledge > 0:
        yield (
            f"The marks are the formed edge of the concrete: the building line and {write(slab.ledge)} of ledge on "
            "every side. The string runs over the edge of the concrete; the inner face of the form board touches it."
        )
    else:
        yield (
            "The marks are the formed edge of the concrete. The string runs over that edge; the inner face of the "
            "form board touches it."
        )
    if slab.thickness is not None:
        yield f"Thickness of the slab: {layout.notation.length(slab.thickness)}."
    longest, _ = longest_pull(layout, plan)
    yield (
        f"Bring a steel tape longer than {layout.notation.length(longest)}, string, a plumb bob, stakes and tacks. "
        "A place far along a line may be measured in parts. Hold the tape level, pull it the same every time, and read "
        "it twice."
    )
    yield "Distances are level distances on the ground. On a slope hold the tape level and plumb down."


def _numbered(steps: Iterator[Callable[[int], Step]]) -> Iterator[Step]:
    return (make(number) for number, make in enumerate(steps, start=1))


def _steps(layout: Layout, plan: TapePlan) -> Iterator[Callable[[int], Step]]:
    """The steps that this slab needs, each waiting for its number."""
    yield lambda number: base_step(layout, plan, number)
    yield lambda number: marks_step(layout, plan, number)
    yield lambda number: far_step(layout, plan, number)
    yield lambda number: diagonal_step(layout, plan, number)
    yield lambda number: closing_step(layout, plan, number)
    if plan.ordinates:
        yield lambda number: _ordinate_step(layout, plan, number)
    if plan.arcs:
        yield lambda number: _arcs_step(layout, plan, number)
    if plan.parts:
        yield lambda number: _parts_step(layout, plan, number)
    if any(end.stake.kind == "offset" for end in plan.ends):
        yield lambda number: _offset_step(layout, plan, number)
    if any(end.stake.kind == "nail" for end in plan.ends):
        yield lambda number: _boards_step(layout, plan, number)
    if any(stake.kind == "mark" for stake in layout.stakes):
        yield lambda number: _along_step(layout, number)


def _ordinate_step(layout: Layout, plan: TapePlan, number: int) -> Step:
    rows = tuple((o.name, layout.notation.both(o.along), _off(layout, plan, o.off)) for o in plan.ordinates)
    return Step(
        number,
        "The other corners",
        (
            f"For each corner measure its first figure from {plan.names[0]} along the base string and from "
            f"{plan.names[3]} along the far string, and stretch a cross string between the two marks. Measure "
            f"the second figure "
            "from the base string along the cross string.",
        ),
        Table(("corner", f"along, from {plan.names[0]}", "off the base line"), rows, (0.8, 2.2, 2.6)),
        Picture(tape_steps.ordinates(layout, plan), height=185),
    )


def _off(layout: Layout, plan: TapePlan, off: float) -> str:
    if abs(off) < 0.0005:
        return "on the base string"
    if abs(off - plan.depth) < 0.0005:
        return "on the far string"
    if off < 0:
        return f"{layout.notation.both(-off)} toward {plan.reference.name}"
    return layout.notation.both(off)


def _arcs_step(layout: Layout, plan: TapePlan, number: int) -> Step:
    write = layout.notation
    rows = [
        (f"{arc.start_name} - {arc.end_name}", write.both(place.along), write.both(place.off))
        for arc in plan.arcs
        for place in arc.places
    ]
    words = tuple(
        f"{arc.start_name} to {arc.end_name}: radius {write.both(arc.radius)}, chord {write.both(arc.chord)}, bulging "
        f"{'out of' if arc.outward else 'into'} the slab."
        for arc in plan.arcs
    )
    return Step(
        number,
        "Arcs off their chords",
        (
            "Stretch a string from corner to corner, the chord. For each place measure the first figure along "
            "it from the "
            "corner named first, and the second square off it; bend the form through the places.",
            *words,
        ),
        Table(("arc", "along the chord", "off the chord"), tuple(rows), (1.2, 2.2, 2.2)),
        Picture(tape_steps.arcs(layout, plan), height=185),
    )


def _parts_step(layout: Layout, plan: TapePlan, number: int) -> Step:
    rows = []
    for part in plan.parts:
        a, b, c, d = part.names
        rows.extend(
            [
                (a, *_from_corner(layout, part)),
                (b, f"from {part.from_name} along the side", *cells(layout, part.along[1])),
                (d, f"square out from {a}", *cells(layout, part.depth)),
                (c, f"square out from {b}", *cells(layout, part.depth)),
                (f"{a}-{c}, {b}-{d}", "both diagonals", *cells(layout, part.diagonal)),
            ]
        )
    return Step(
        number,
        "Parts of the slab",
        (
            "Measure along the side with the tape held on the first corner named, then square out; prove each "
            "part by its diagonals.",
            *_drops(layout),
        ),
        Table(("mark", "how", *heads(layout, "distance")), tuple(rows), (1.1, 2.6, *shares(layout))),
        Picture(tape_steps.parts(layout, plan), height=185),
    )


def _from_corner(layout: Layout, part: PartByTape) -> tuple[str, ...]:
    """Where a part begins; at the corner itself there is nothing to measure."""
    if abs(part.along[0]) < SAME:
        return (f"{part.name}: at the corner {part.from_name} itself", *("-" for _ in heads(layout, "")))
    return (f"{part.name}: from {part.from_name} along the side", *cells(layout, part.along[0]))


def _drops(layout: Layout) -> Iterator[str]:
    for part in layout.site.declared.slab.parts:
        pairs = ((part.step, "where it meets the slab it"), (part.drop, "its outer edge"))
        told = [f"{what} lies {_below(layout, down)} the slab" for down, what in pairs if down]
        if told:
            yield f"{part.name}: {', '.join(told)}."


def _below(layout: Layout, down: float) -> str:
    return f"{layout.notation.length(abs(down))} {'below' if down > 0 else 'above'}"


def _offset_step(layout: Layout, plan: TapePlan, number: int) -> Step:
    return Step(
        number,
        "Offset stakes",
        (
            "Stretch a string over both corners of a side and well past them. Drive the stakes on it, beyond "
            "the corner, and tack "
            "the exact place. Write on each stake its number, the side it serves and how far it stands from the "
            "corner.",
            "After digging, a string from tack to tack is the edge of the slab again; two strings cross in the corner.",
        ),
        _ends_table(layout, plan, "offset"),
        Picture(tape_steps.ends(layout, plan, "offset"), height=205),
    )


def _boards_step(layout: Layout, plan: TapePlan, number: int) -> Step:
    return Step(
        number,
        "Batter boards and nails",
        (
            "Drive three posts round an outer corner and nail two level boards to them, square to the strings, all "
            "tops at one height; where a string runs on across the slab, or a part is in the way, one board on two "
            "posts. The table names the posts of each nail. Keep them outside the digging (practice: 4 ft, 1.2 m, or "
            "more beyond its edge).",
            *_posts(layout),
            "Stretch each string over its two corners on to the boards, plumb over the stakes, and drive a nail "
            "or cut a "
            "kerf where it crosses. Then the distance from the corner proves it.",
        ),
        _ends_table(layout, plan, "nail"),
        Picture(tape_steps.ends(layout, plan, "nail"), height=220),
    )


def _posts(layout: Layout) -> Iterator[str]:
    """Where the posts stand, in the words of the entries that ask for boards."""
    write = layout.notation.length
    for index, entry in enumerate(layout.site.declared.stakes):
        if isinstance(entry, BatterBoards):
            moved = any(stake.moved for stake in layout.stakes if stake.entry == index)
            farther = ", or as far as the table says: some stand farther out, clear of the excavation" if moved else ""
            yield (
                f"Corner post: {write(entry.back)} beyond the corner along both strings{farther}. End posts: level "
                f"with it, {write(entry.past_string)} past the other string."
            )


def _ends_table(layout: Layout, plan: TapePlan, kind: str) -> Table:
    """Offset stakes or nails, a nail with the posts of its board."""
    outline = layout.slab.form.outline
    nails = kind == "nail"
    rows = tuple(
        (
            end.stake.name,
            *([" and ".join(end.posts)] if nails else []),
            outline.side_label(end.stake.side or 0),
            end.corner,
            *cells(layout, end.distance),
        )
        for end in plan.ends
        if end.stake.kind == kind
    )
    head = (kind, *(["on posts"] if nails else []), "on the string of", "beyond", *heads(layout, "distance"))
    return Table(head, rows, (0.7, *([1.4] if nails else []), 1.9, 0.9, *shares(layout)))


def _along_step(layout: Layout, number: int) -> Step:
    marks: list[Stake] = [stake for stake in layout.stakes if stake.kind == "mark" and stake.side is not None]
    rows = tuple((m.name, layout.corner_names[m.side or 0], *cells(layout, m.along)) for m in marks)
    bent = any(layout.slab.form.outline.curved(m.side or 0) for m in marks)
    words = ("On an arc measure along the form itself, once it is bent: a string there would cut across.",)
    return Step(
        number,
        "Marks along the sides",
        (
            "Measure each mark from the corner named, along the string of the side toward the next corner.",
            *(words if bent else ()),
        ),
        Table(("mark", "from corner", *heads(layout, "along the side")), rows, (1, 1.2, *shares(layout))),
        None,
    )
