"""What the terminal shows: margins in plain lines, a whole layout in tables."""

from __future__ import annotations

from collections.abc import Iterator

from staking.findings import Severity
from staking.layout.computed import Layout, Margin, SideLength
from staking.notation import Notation
from staking.survey.points import azimuth_of

_MARKS = {Severity.NOTE: "ok", Severity.WARNING: "thin", Severity.STRONG: "very thin", Severity.STOP: "TOO NEAR"}


def margin_lines(layout: Layout) -> Iterator[str]:
    """One line a margin: what, how far, how far at the least, how much to spare."""
    write = layout.notation.length
    for margin in layout.margins:
        required = (
            "no figure given"
            if margin.rule == "lot line" and margin.what == "outline"
            else f"{write(margin.required)} required"
        )
        yield (
            f"{margin.rule} {margin_words(margin)}: {write(margin.distance)}, {required}, "
            f"{write(margin.room)} to spare, {_MARKS[margin.severity]}{_uncertain(layout, margin)}"
        )


def _uncertain(layout: Layout, margin: Margin) -> str:
    return "" if margin.uncertainty is None else f" (line known to {layout.notation.length(margin.uncertainty)})"


def margin_words(margin: Margin) -> str:
    """What a margin is measured to and, where it is not the outline, from."""
    return margin.of if margin.what == "outline" else f"{margin.of}, {margin.what}"


def show_layout(layout: Layout) -> None:
    """Everything computed, in tables as wide as the terminal."""
    from rich.console import Console
    from rich.table import Table

    console = Console(highlight=False, soft_wrap=False)
    for title, head, rows in _tables(layout):
        table = Table(*head, title=title, title_justify="left", header_style="bold")
        for row in rows:
            table.add_row(*row)
        console.print(table)


_Rows = Iterator[tuple[str, ...]]


def _tables(layout: Layout) -> Iterator[tuple[str, tuple[str, ...], _Rows]]:
    write = layout.notation
    yield (
        "Sides of the formed outline",
        ("side", "from", "to", "length", "bearing"),
        ((s.label, s.start, s.end, _along(s, write), write.bearing(s.azimuth)) for s in layout.sides),
    )
    yield (
        "Diagonals",
        ("from", "to", "length", "of"),
        ((d.start, d.end, write.both(d.length), d.of) for d in layout.diagonals),
    )
    yield (
        "Ties square to the lines",
        ("corner", "line", "distance", "foot on the line"),
        (
            (t.corner, t.line, write.both(t.distance), f"{write.length(t.along)} from {t.from_name}")
            for t in layout.ties
        ),
    )
    if layout.lines:
        yield ("Lines to measure from", ("line", "from", "to", "length", "bearing", "straight within"), _lines(layout))
    yield (
        "Room to lines and areas",
        ("rule", "of", "distance", "required", "to spare"),
        (
            (m.rule, margin_words(m), write.both(m.distance), write.length(m.required), write.both(m.room))
            for m in layout.margins
        ),
    )
    yield ("Stakes", ("name", "north", "east", "kind", "note"), _stakes(layout))


def _along(side: SideLength, write: Notation) -> str:
    """The length of a side; of an arc with its radius. The bearing beside it is that of the chord."""
    if side.radius is None:
        return write.both(side.length)
    return f"{write.both(side.length)}\narc, R {write.both(side.radius)}"


def _lines(layout: Layout) -> _Rows:
    write = layout.notation
    for base in layout.lines.values():
        yield (
            base.name,
            base.start_name,
            base.end_name,
            write.both(base.line.length),
            write.bearing(azimuth_of(base.line.direction)),
            write.length(base.straightness) if base.residuals else "-",
        )


def _stakes(layout: Layout) -> _Rows:
    for stake in layout.stakes:
        at = layout.frame.to_file(stake.at)
        yield (
            stake.name,
            layout.notation.coordinate(at.north),
            layout.notation.coordinate(at.east),
            stake.kind,
            stake.note,
        )
