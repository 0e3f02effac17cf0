"""Which quantities are there, and by which arithmetic? One row each, for the sheet and for the table."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from staking.kinds.joints import SOURCE, joint_spacing
from staking.layout.boards import Run, lay, spaces
from staking.layout.computed import Layout
from staking.layout.quantities import Solid, Takeoff, bars, loads_of, strips
from staking.notation import Notation
from staking.sitefile.takeoff_declared import Forms, Reinforcement


@dataclass(frozen=True, slots=True)
class Row:
    """A quantity. how: the arithmetic in words and figures. other: the same in another unit.

    shown: how people read it, where that is not amount and unit.
    """

    group: str
    item: str
    amount: str
    unit: str
    how: str
    other: tuple[str, str] = ("", "")
    shown: str = ""

    @property
    def quantity(self) -> str:
        """With its unit or units."""
        if self.shown:
            return self.shown
        more = f"; {' '.join(self.other)}" if self.other[0] else ""
        return f"{self.amount} {self.unit}{more}"


def rows_of(layout: Layout) -> tuple[Row, ...]:
    """All rows, in the order of the work; none for what the site file does not declare."""
    takeoff = layout.takeoff
    if takeoff is None:
        return ()
    makers = (_boards, _stakes, _base, _sheet, _steel, _concrete, _joints)
    return tuple(row for make in makers for row in make(layout, takeoff))


def _volume(layout: Layout, group: str, item: str, volume: float, how: str) -> Row:
    (amount, unit), other = layout.notation.volumes(volume)
    return Row(group, item, amount, unit, how, other)


def _length(layout: Layout, group: str, item: str, length: float, how: str) -> Row:
    write = layout.notation
    return Row(group, item, write.decimal(length), write.unit.name, how, shown=write.length(length))


def _boards(layout: Layout, takeoff: Takeoff) -> Iterator[Row]:
    forms, write = layout.site.declared.forms, layout.notation.length
    if forms is None:
        return
    thick = forms.size[0]
    how = f"the actual thickness of the board, {write(thick)}, square out from the edge of the concrete"
    yield _length(layout, "Forms", "string, outside each mark", thick, how)
    for opening in takeoff.openings:
        how = f"{write(opening.width)} + 2 x {write(forms.opening_allowance)} allowance, in the form of {opening.side}"
        yield _length(layout, "Forms", f"opening for {opening.part}", opening.whole, how)
    if forms.lengths:
        yield from _laid(layout, takeoff, forms)


def _laid(layout: Layout, takeoff: Takeoff, forms: Forms) -> Iterator[Row]:
    used: Counter[float] = Counter()
    for run in takeoff.runs:
        cuts = lay(run.length, forms.lengths, forms.lap)
        used.update(cut.stock for cut in cuts)
        yield Row("Forms", run.label, str(len(cuts)), "boards", _board_words(layout.notation, run, forms))
    for stock, count in sorted(used.items(), reverse=True):
        how = "sum of the rows above; cut-offs are not used again"
        yield Row("Forms", f"boards of {layout.notation.length(stock)}", str(count), "boards", how)


def _board_words(notation: Notation, run: Run, forms: Forms) -> str:
    write = notation.length
    cuts = lay(run.length, forms.lengths, forms.lap)
    last, whole = cuts[-1], len(cuts) - 1
    sign = "+" if run.past > 0 else "-"
    corners = f" {sign} {write(abs(run.past))} at corners = {write(run.length)}" if abs(run.past) > 1e-6 else ""
    full = f"{whole} x {write(cuts[0].stock)} + " if whole else ""
    laps = f", less {whole} x {write(forms.lap)} lap" if whole and forms.lap else ""
    cut = "whole" if last.stock - last.used < 1e-6 else f"cut from {write(last.stock)}"
    bent = "; an arc: bent boards, or short straight ones cut to fit" if run.bent else ""
    return f"{write(run.concrete)}{corners}: {full}{write(last.used)} ({cut}){laps}{bent}"


def _stakes(layout: Layout, takeoff: Takeoff) -> Iterator[Row]:
    forms = layout.site.declared.forms
    if forms is None:
        return
    for what, spacing in (("stakes", forms.stake_spacing), ("braces", forms.brace_spacing)):
        if spacing is not None:
            yield _driven(layout, takeoff, forms, what, spacing)


def _driven(layout: Layout, takeoff: Takeoff, forms: Forms, what: str, spacing: float) -> Row:
    """Stakes or braces: one at both ends of every run and between, and stakes at joints of boards too."""
    counts = [spaces(run.length, spacing) + 1 for run in takeoff.runs]
    at_joints = what == "stakes" and bool(forms.lengths)
    joints = sum(len(lay(run.length, forms.lengths, forms.lap)) - 1 for run in takeoff.runs) if at_joints else 0
    shown = " + ".join(map(str, counts))
    more = f", + {joints} at joints of boards" if at_joints else ""
    how = f"at most {layout.notation.length(spacing)} apart along each run, and at its ends: {shown}{more}"
    return Row("Stakes and braces", what, str(sum(counts) + joints), what, how)


def _base(layout: Layout, takeoff: Takeoff) -> Iterator[Row]:
    base = layout.site.declared.base
    if base is not None:
        write, volume = layout.notation, takeoff.base * base.thickness
        beyond = f", reaching {write.length(base.beyond)} past slab and parts" if base.beyond else ""
        how = f"{write.area(takeoff.base)}{beyond}, x {write.length(base.thickness)} = {_divided(layout, volume)}"
        yield _volume(layout, "Base course", "compacted in place", volume, how)


def _divided(layout: Layout, volume: float) -> str:
    """Cubic feet divided by 27 into yards; cubic metres as they are."""
    ordered = " ".join(layout.notation.volumes(volume)[0])
    return ordered if layout.site.unit.name == "m" else f"{layout.notation.cubic(volume)} / 27 = {ordered}"


def _sheet(layout: Layout, takeoff: Takeoff) -> Iterator[Row]:
    sheet, write = layout.site.declared.vapour_sheet, layout.notation.length
    if sheet is not None:
        along, across = max(takeoff.extent), min(takeoff.extent)
        count = strips(across, sheet.width, sheet.lap)
        how = (
            f"({write(across)} - {write(sheet.lap)} lap) / ({write(sheet.width)} - {write(sheet.lap)} lap), rounded "
            f"up: {count} strips, each {write(along)} long; {layout.notation.area(count * along * sheet.width)}"
        )
        yield _length(layout, "Vapour sheet", f"roll {write(sheet.width)} wide", count * along, how)


def _steel(layout: Layout, takeoff: Takeoff) -> Iterator[Row]:
    for steel in layout.site.declared.reinforcement:
        net = (takeoff.extent[0] - 2 * steel.cover, takeoff.extent[1] - 2 * steel.cover)
        if steel.kind == "mesh":
            yield _mesh(layout, steel, net)
        else:
            yield _bars(layout, steel, net, "along the front")
            yield _bars(layout, steel, net[::-1], "away from the front")


def _mesh(layout: Layout, steel: Reinforcement, net: tuple[float, float]) -> Row:
    write, along, across = layout.notation.length, max(net), min(net)
    each = steel.width or steel.length
    rows, columns = strips(across, each, steel.lap), strips(along, steel.length, steel.lap)
    how = (
        f"inside the cover {write(along)} x {write(across)}; laps {write(steel.lap)}: {rows} rows of {columns} "
        f"sheets {write(steel.length)} x {write(each)}"
    )
    return Row("Reinforcement (schedule only)", steel.name, str(rows * columns), "sheets", how)


def _bars(layout: Layout, steel: Reinforcement, net: tuple[float, float], way: str) -> Row:
    write, spacing = layout.notation.length, steel.spacing or steel.length
    laid = bars(net, spacing, steel.length, steel.lap)
    laps = f" + {laid.laps} x {write(steel.lap)} lap = {write(laid.length)}" if laid.laps else ""
    how = (
        f"{write(net[1])} inside the cover / {write(spacing)}: {laid.count - 1} spaces, {laid.count} bars, each "
        f"{write(laid.run)}{laps}; in all {write(laid.count * laid.length)}"
    )
    count = laid.count * (laid.laps + 1)
    item = f"{steel.name}, {way}, bars of {write(steel.length)}"
    return Row("Reinforcement (schedule only)", item, str(count), "bars", how)


def _concrete(layout: Layout, takeoff: Takeoff) -> Iterator[Row]:
    declared = layout.site.declared.concrete
    if declared is None or not takeoff.solids:
        return
    names = Counter(solid.name for solid in takeoff.solids)
    for solid in takeoff.solids:
        deep = f", {layout.notation.length(solid.thickness)} deep" if names[solid.name] > 1 else ""
        yield _volume(layout, "Concrete", f"{solid.name}{deep}", solid.volume, _solid_words(layout.notation, solid))
    if takeoff.twice > 1e-6:
        how = "what another footing or the slab already holds, counted once"
        yield _volume(layout, "Concrete", "less, counted twice", -takeoff.twice, how)
    yield _volume(layout, "Concrete", "in the forms", takeoff.volume, f"sum: {_divided(layout, takeoff.volume)}")
    ordered = takeoff.volume * (1 + (declared.waste or 0.0))
    if declared.waste is not None:
        plain = " ".join(layout.notation.volumes(takeoff.volume)[0])
        how = f"{plain} + {layout.notation.share(declared.waste)} waste"
        yield _volume(layout, "Concrete", "to order", ordered, how)
    if declared.truck is not None:
        loads, last = loads_of(ordered, declared.truck)
        texts = [" ".join(layout.notation.volumes(each)[0]) for each in (ordered, declared.truck, last)]
        how = f"{texts[0]} / {texts[1]} = {layout.notation.times(ordered / declared.truck)}; the last holds {texts[2]}"
        yield Row("Concrete", "loads", str(loads), "loads", how)


def _solid_words(notation: Notation, solid: Solid) -> str:
    thick = notation.length(solid.thickness)
    plan = " x ".join(map(notation.length, solid.sides)) if solid.sides else notation.area(solid.area)
    falls = "; top and underside fall alike" if solid.falls else ""
    return f"{plan} x {thick} = {notation.cubic(solid.volume)}{falls}"


def _joints(layout: Layout, takeoff: Takeoff) -> Iterator[Row]:
    declared, thickness = layout.site.declared.concrete, layout.slab.thickness
    if declared is None or thickness is None:
        return
    write, figure = layout.notation.length, joint_spacing(thickness)
    if figure is not None:
        how = f"24 x {write(thickness)} = {write(figure)}; {SOURCE}"
        yield _length(layout, "Contraction joints", "at most apart, suggested", figure, how)
    apart = declared.joint_spacing or figure
    if apart is not None:
        panels = [spaces(each, apart) for each in takeoff.extent]
        size = [each / count for each, count in zip(takeoff.extent, panels, strict=True)]
        ratio = layout.notation.times(max(size) / min(size))
        how = (
            f"at most {write(apart)}: panels {write(size[0])} x {write(size[1])}, long side {ratio} times the short "
            "one (at most 1.5, better 1.25: a trade article on joints)"
        )
        yield Row(
            "Contraction joints", "panels", str(panels[0] * panels[1]), "panels", f"{panels[0]} x {panels[1]}; {how}"
        )
