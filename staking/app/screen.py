"""What the terminal shows: margins in plain lines, a whole layout in tables."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from staking.findings import Severity
from staking.layout.computed import Layout, Margin, SideLength
from staking.notation import Notation
from staking.survey.points import azimuth_of

if TYPE_CHECKING:
    from rich.console import Console

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
    """Everything computed, in tables as wide as the terminal; entry by entry where a table has no room in it."""
    from rich.console import Console

    # what people wrote is printed as they wrote it: [x] in a name is no style
    console = Console(highlight=False, soft_wrap=False, markup=False)
    for title, head, rows in _tables(layout):
        _show_table(console, title, head, tuple(rows))


def _show_table(console: Console, title: str, head: tuple[str, ...], rows: tuple[tuple[str, ...], ...]) -> None:
    from rich.table import Column, Table

    widths = _widths((head, *rows), console.width - 3 * len(head) - 1)  # a bar and two blanks a column, and a last bar
    if widths is None:
        for line in _stacked(title, head, rows):
            console.print(line, soft_wrap=True)
        return
    columns = [Column(name, width=width, overflow="fold") for name, width in zip(head, widths, strict=True)]
    table = Table(*columns, title=title, title_justify="left", header_style="bold")
    for row in rows:
        table.add_row(*row)
    console.print(table)


def _widths(rows: tuple[tuple[str, ...], ...], room: int) -> list[int] | None:
    """How wide each column is, lines broken between words only; None where even so there is no room."""
    from rich.cells import cell_len

    columns = tuple(zip(*rows, strict=True))
    least = [max(cell_len(word) for cell in column for word in cell.split() or [""]) for column in columns]
    if sum(least) > room:
        return None
    widths = [max(cell_len(line) for cell in column for line in cell.split("\n")) for column in columns]
    while sum(widths) > room:
        widest = max((at for at, width in enumerate(widths) if width > least[at]), key=lambda at: widths[at])
        widths[widest] -= 1
    return widths


def _stacked(title: str, head: tuple[str, ...], rows: tuple[tuple[str, ...], ...]) -> Iterator[str]:
    """A table as lines: its entries one below the other, in each the names of the columns before what stands there."""
    longest = max(map(len, head))
    yield title
    for row in rows:
        for mark, name, cell in zip(("-", *" " * len(head)), head, row, strict=False):
            yield f"{mark} {name:{longest}} {', '.join(cell.splitlines())}".rstrip()


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
            (
                t.corner,
                f"{t.line}, beyond it" if t.beyond else t.line,
                write.both(t.distance),
                f"{write.length(t.along)} from {t.from_name}",
            )
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
