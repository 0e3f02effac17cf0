"""What the rod man reads at every corner and mark: design heights, readings from each set-up, cut or fill of stakes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.layout.design import Grade, SetUp
from staking.notation import Notation
from staking.sheets.cautions import ALWAYS
from staking.sheets.heads import facts, finding_lines, foot, overruled
from staking.sheets.page import Block, Bullets, Cautions, Heading, Paragraph, Sheet, Signatures, Table
from staking.survey.surface import cut
from staking.units import UNITS

LEVEL_CAUTIONS = (
    "Check the level before the first reading (two pegs, level in the middle and near one), and read the benchmark "
    "again at the end: the reading must be the first one.",
    "A cut or fill in feet and one in inches look alike. Both are written; say the unit aloud.",
)


def grades_sheet(layout: Layout, findings: Sequence[Finding], despite: Sequence[str] = ()) -> Sheet:
    """The sheet; without a floor it says what to add."""
    blocks: list[Block] = [Cautions((*LEVEL_CAUTIONS, *ALWAYS)), *_floor(layout)]
    for index, setup in enumerate(layout.setups, 1):
        blocks += [*_setup(layout, index, setup), *_tops(layout, setup.tops, f"read from set-up {index}")]
    blocks += _tops(layout, layout.stake_tops, "as they were found")
    heights = tuple(finding for finding in findings if finding.code.startswith(("floor-", "rod-", "level-", "ramp-")))
    if lines := finding_lines(heights, Severity.NOTE):
        blocks += [Heading("Findings about heights"), Bullets(lines)]
    blocks.append(Signatures(("Read by", "Rod held by", "Checked by")))
    return Sheet("Heights for the rod", facts(layout), tuple(blocks), foot(layout), warning=overruled(despite))


def rod_notation(layout: Layout) -> tuple[Notation, str]:
    """How readings are written, and the name of it: feet and inches, tenths or metres."""
    metric = layout.site.unit.name == "m"
    units = layout.site.declared.rod.units or ("metres" if metric else "feet and inches")
    unit = UNITS["m"] if units == "metres" else UNITS["ft"] if metric else layout.site.unit
    return Notation(unit, fraction=layout.notation.fraction, decimals=3 if units == "metres" else 2), units


def reading(layout: Layout, length: float) -> str:
    """A reading or length [m] as the rod has it."""
    notation, units = rod_notation(layout)
    return f"{notation.decimal(length)} ft" if units == "tenths" else notation.length(length)


def both_ways(layout: Layout, length: float) -> str:
    """A cut or fill [m] in two units, so that feet are not taken for inches."""
    notation, units = rod_notation(layout)
    if units == "metres":
        return f"{notation.decimal(length)} m ({notation.decimal(length * 1000, 0)} mm)"
    decimal = f"{notation.decimal(length, 2)} ft"
    return f"{decimal} ({notation.length(length)})" if units == "tenths" else f"{notation.length(length)} ({decimal})"


def cut_words(layout: Layout, down: float) -> str:
    """CUT where the design lies below [m, positive], FILL where it lies above, and how much."""
    text = both_ways(layout, abs(down))
    if text == both_ways(layout, 0.0):
        return "at grade"
    return f"{'CUT' if down > 0 else 'FILL'} {text}"


def on_the_rod(layout: Layout, read: float) -> str:
    """What the rod reads [m]; above the line of sight what it reads upside down."""
    if read >= 0:
        return reading(layout, read)
    return f"above the line of sight: rod upside down reads {reading(layout, -read)}"


def _height(layout: Layout, up: float) -> str:
    return layout.notation.decimal(up)


def _floor(layout: Layout) -> Iterator[Block]:
    yield Heading("Design heights")
    if layout.design is None or not layout.grades:
        yield Paragraph("The site file gives no height of the floor. Add [floor] with elevation, or above and by.")
        return
    corners = [grade for grade in layout.grades if grade.kind == "corner"]
    high, low = max(corners, key=lambda g: round(g.up, 6)), min(corners, key=lambda g: round(g.up, 6))
    floor = layout.design.floor
    words = "The floor is level" if floor.steepness == 0 else f"The floor falls {layout.notation.fall(floor.steepness)}"
    ends = f"Highest corner: {high.name}, {_height(layout, high.up)}. Lowest: {low.name}, {_height(layout, low.up)}"
    if _height(layout, high.up) == _height(layout, low.up):
        ends = f"All corners: {_height(layout, high.up)}"
    unit = layout.notation.unit_words
    yield Paragraph(f"{words}. {ends}. Heights are of the finished concrete, in {unit}.", strong=True)
    yield Paragraph(
        "An offset stake or nail has the height of the string over it: from one end of a side to the other "
        "it lies on the "
        "top edge. At a step the higher side is given."
    )
    if footings := tuple(_footings(layout)):
        yield Bullets(footings)
    if not layout.setups:
        yield Paragraph("Add [[level_setups]] with a benchmark for the readings of the rod.")
        rows = tuple((g.name, g.what, _height(layout, g.up), "") for g in layout.grades)
        yield Table(("point", "what", "height", "found"), rows, (0.9, 3.2, 1.1, 1.1), frozenset({2}), frozenset({3}))


def _footings(layout: Layout) -> Iterator[str]:
    """Each footing once, with the heights of its top and underside."""
    found = {piece.name: piece for piece in (layout.design.footings if layout.design else ())}
    for name, piece in found.items():
        under = "" if piece.bottom is None else f", underside {_height(layout, piece.bottom.up)}"
        yield f"Footing {name}: top {_height(layout, piece.top.up)}{under}, level."


def _setup(layout: Layout, index: int, setup: SetUp) -> Iterator[Block]:
    yield Heading(f"Set-up {index}: benchmark {setup.benchmark}, height {_height(layout, setup.height)}")
    yield from _straightened(layout, layout.site.declared.level_setups[index - 1].at)
    if setup.backsight is None or setup.sight is None:
        yield Paragraph(
            "Read the rod on the benchmark and write it down. The reading for a point is that one, plus or "
            "less the figure of its row. Below 0 the point lies above the line of sight: "
            "read the rod upside down, or set the level higher."
        )
        yield Table(("backsight on the benchmark", "height of instrument"), (("", ""),), to_fill=frozenset({0, 1}))
        wide = tuple((*_named(layout, g), _from_backsight(layout, setup, g), "", "") for g in layout.grades)
        head = ("point", "what", "height", "backsight", "to read", "found")
        yield Table(head, wide, (0.8, 2.6, 1.0, 1.3, 1.1, 1.1), frozenset({2, 3}), frozenset({4, 5}))
        return
    yield Paragraph(
        f"Backsight {reading(layout, setup.backsight)}; height of instrument {_height(layout, setup.sight)}. "
        "A larger reading than that of the row: the rod stands too low, fill. A smaller one: cut.",
    )
    rows = tuple((*_named(layout, g), on_the_rod(layout, setup.reads(g.at) or 0.0), "") for g in layout.grades)
    titles = ("point", "what", "height", "rod reads", "found")
    yield Table(titles, rows, (0.8, 2.6, 1.0, 1.7, 1.1), frozenset({2}), frozenset({4}))


def _straightened(layout: Layout, at: str) -> Iterator[Block]:
    """What is said of a level whose line of sight is known not to be level. at: the point it stands at."""
    pegs = layout.site.declared.rod.pegs
    if pegs is None:
        return
    per = 100 * float(layout.site.unit.metres)
    slope = f"{'rises' if pegs > 0 else 'falls'} {layout.notation.decimal(abs(pegs) * per)} in 100"
    told = f"The line of sight of this level {slope} by the two-peg test"
    if not at:
        yield Paragraph(f"{told}; nothing is corrected for it, since the set-up does not say where the level stands.")
    else:
        yield Paragraph(
            f"{told}. It stands at {at}; the readings below allow for the distance of each point from there."
        )


def _tops(layout: Layout, tops: Mapping[str, float], where: str) -> Iterator[Block]:
    rows = stake_tops(layout, tops)
    if rows:
        yield Heading(f"Cut or fill from the tops of stakes, {where}")
        yield Table(
            ("stake", "top", "concrete", "from the top of the stake"),
            tuple(_top_row(layout, grade, top) for grade, top in rows),
            (0.8, 1.2, 1.2, 2.4),
            frozenset({1, 2}),
        )


def _from_backsight(layout: Layout, setup: SetUp, grade: Grade) -> str:
    more = setup.from_backsight(grade.at)
    return f"{'plus' if more >= 0 else 'less'} {reading(layout, abs(more))}"


def _named(layout: Layout, grade: Grade) -> tuple[str, str, str]:
    return grade.name, grade.what, _height(layout, grade.up)


def _top_row(layout: Layout, grade: Grade, top: float) -> tuple[str, str, str, str]:
    return grade.name, _height(layout, top), _height(layout, grade.up), cut_words(layout, cut(top, grade.up))


def stake_tops(layout: Layout, tops: Mapping[str, float]) -> list[tuple[Grade, float]]:
    """Each stake with a design height whose top is known, with that height [m]."""
    known = {grade.name: grade for grade in layout.grades}
    return [(known[name], top) for name, top in tops.items() if name in known]
