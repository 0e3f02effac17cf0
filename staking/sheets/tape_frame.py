"""The first steps of the tape sheet: a frame of four marks round the slab, set by the tape and proved by diagonals."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from staking.drawing import tape_steps
from staking.kinds.ground import BaseLine
from staking.layout.computed import Layout
from staking.layout.tape_plan import TapePlan
from staking.sheets.columns import cells, measured
from staking.sheets.page import Picture, Step

Words = Callable[[float], str]


def base_step(layout: Layout, plan: TapePlan, number: int) -> Step:
    """The base line, parallel to what the slab is square to."""
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


def marks_step(layout: Layout, plan: TapePlan, number: int) -> Step:
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


def far_step(layout: Layout, plan: TapePlan, number: int) -> Step:
    """The far line, parallel to the base line."""
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


def diagonal_step(layout: Layout, plan: TapePlan, number: int) -> Step:
    """The far marks, on the far line by the diagonals."""
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


def closing_step(layout: Layout, plan: TapePlan, number: int) -> Step:
    """What proves the frame, and what gives way where it is off."""
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
