"""The sheet for a crew with a steel tape and string and no instrument, in the order of work."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from staking.drawing import tape_steps
from staking.drawing.draw import overview
from staking.findings import Finding, Severity
from staking.kinds.ground import BaseLine
from staking.kinds.stakes import BatterBoards
from staking.layout.computed import Layout, Stake
from staking.layout.tape_plan import SAME, PartByTape, TapePlan, longest_pull, tape_plan
from staking.sheets.cautions import ALWAYS
from staking.sheets.columns import cells, heads, measured, shares
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

Words = Callable[[float], str]


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
    yield lambda number: _base_step(layout, plan, number)
    yield lambda number: _marks_step(layout, plan, number)
    yield lambda number: _far_step(layout, plan, number)
    yield lambda number: _diagonal_step(layout, plan, number)
    yield lambda number: _closing_step(layout, plan, number)
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


def _base_step(layout: Layout, plan: TapePlan, number: int) -> Step:
    base, write = plan.reference, layout.notation.length
    through = f"from {base.start_name} to {base.end_name}" if not base.note else f"({base.note})"
    rows = tuple(
        (pull.mark, _from_end(pull.along, pull.from_name, write), *cells(layout, pull.distance), "")
        for pull in plan.pulls
    )
    return Step(
        number,
        f"Base line off {base.name}",
        (
            f"Stretch a string over {base.name} {through}.",
            *_straightness(layout, base),
            "Mark two places on it as the table says. From each pull the tape square toward the slab: swing its end "
            "in a small arc and stretch the base string so that it just touches the arc at both ends.",
            f"The base string now lies over the line {plan.names[0]} to {plan.names[1]}. Tie it off well past both.",
        ),
        measured(layout, ("toward", f"along {base.name}"), "pull square", rows, (1, 2.4)),
        Picture(tape_steps.base_line(layout, plan)),
    )


def _straightness(layout: Layout, base: BaseLine) -> Iterator[str]:
    """How well the points of a best-fit line agree: the crew sees it when the string is stretched."""
    if base.residuals:
        offs = [f"{name} {_hand(layout, off)}" for name, off in base.residuals]
        yield f"It is the best line through its points; off the string lie {', '.join(offs)}, looking along it."


def _hand(layout: Layout, off: float) -> str:
    text = layout.notation.length(abs(off))
    if text == layout.notation.length(0.0):
        return text
    return f"{text} {'left' if off > 0 else 'right'}"


def _from_end(along: float, name: str, write: Words) -> str:
    if along < 0:
        return f"{write(-along)} past {name}"
    return f"{write(along)} from {name}" if write(along) != write(0.0) else f"at {name}"


def _marks_step(layout: Layout, plan: TapePlan, number: int) -> Step:
    """The first mark from the second line, the second by the width."""
    write = layout.notation.both
    start = plan.start
    first = 0 if start is None else start.mark
    second = 1 - first
    if start is None:
        words: tuple[str, ...] = (
            f"No second line is known, so the first mark is the end of the pull of step 1: mark {plan.names[0]} on the "
            "base string where the tape met it.",
        )
    else:
        line = layout.lines[start.line]
        words = (
            f"Stretch a string over {start.line} from {line.start_name} to {line.end_name}.",
            f"From where it crosses the base string measure {write(start.along)} along the base string to "
            f"{plan.names[first]}. Square from {start.line} that is {write(start.square)}: check it.",
        )
    return Step(
        number,
        f"Marks on the base line: {plan.names[first]}, then {plan.names[second]}",
        (
            *words,
            f"From {plan.names[first]} measure {write(plan.width)} along the base string to {plan.names[second]}.",
            *_temporary(plan, (0, 1)),
        ),
        measured(
            layout,
            ("from", "to"),
            "distance",
            ((plan.names[first], plan.names[second], *cells(layout, plan.width), ""),),
            (0.8, 0.8),
        ),
        Picture(tape_steps.base_marks(layout, plan)),
    )


def _temporary(plan: TapePlan, which: tuple[int, ...]) -> Iterator[str]:
    names = [plan.names[i] for i in which if not plan.real[i]]
    if names:
        yield f"{' and '.join(names)}: a mark on the string only, no corner of the slab. Take it away at the end."


def _far_step(layout: Layout, plan: TapePlan, number: int) -> Step:
    write = layout.notation.both
    one, two, _, _ = plan.names
    return Step(
        number,
        "Far line, parallel to the base line",
        (
            f"From the base string pull {write(plan.depth)} square at {one} and the same at {two}, away from "
            f"{plan.reference.name}. Stretch the far string so that it just touches both arcs.",
        ),
        None,
        Picture(tape_steps.far_line(layout, plan)),
    )


def _diagonal_step(layout: Layout, plan: TapePlan, number: int) -> Step:
    one, two, three, four = plan.names
    text = cells(layout, plan.diagonal)
    return Step(
        number,
        f"Far corners by the diagonals: {three} and {four}",
        (
            f"Hold the tape at {one}; where its mark meets the far string is {three}. Hold it at {two}; where it meets "
            f"the far string is {four}.",
            *_temporary(plan, (2, 3)),
        ),
        measured(layout, ("from", "to"), "diagonal", ((one, three, *text, ""), (two, four, *text, "")), (0.8, 0.8)),
        Picture(tape_steps.diagonals(layout, plan)),
    )


def _closing_step(layout: Layout, plan: TapePlan, number: int) -> Step:
    _, _, three, four = plan.names
    return Step(
        number,
        f"Closing check: {four} to {three}",
        (
            f"Measure {four} to {three}. It must be {layout.notation.both(plan.width)}; nothing was set by it. Measure "
            "both sides of the frame too.",
            f"If it is off, keep {plan.names[0]} and {plan.names[1]} and move only the far string and its marks: "
            "equal diagonals prove the frame square only when opposite sides agree as well.",
        ),
        measured(
            layout,
            ("from", "to"),
            "must be",
            (
                (four, three, *cells(layout, plan.width), ""),
                (plan.names[0], four, *cells(layout, plan.depth), ""),
                (plan.names[1], three, *cells(layout, plan.depth), ""),
            ),
            (0.8, 0.8),
        ),
        Picture(tape_steps.closing(layout, plan)),
    )


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
    return Step(
        number,
        "Marks along the sides",
        ("Measure each mark from the corner named, along the string of the side toward the next corner.",),
        Table(("mark", "from corner", *heads(layout, "along the side")), rows, (1, 1.2, *shares(layout))),
        None,
    )
