"""Base course, vapour sheet and reinforcement: how much, and by which arithmetic?"""

from __future__ import annotations

from collections.abc import Iterator

from staking.kinds.joints import joint_spacing
from staking.layout.boards import spaces
from staking.layout.computed import Layout
from staking.layout.covering import Bars, Rolls, bars, panels, rolls, runs_of_bars, strips
from staking.layout.quantities import Takeoff
from staking.sheets.takeoff_row import Row, divided, length_row, more_by, volume_row
from staking.sitefile.takeoff_declared import Reinforcement

STEEL = "Reinforcement (schedule only)"


def base_rows(layout: Layout, takeoff: Takeoff) -> Iterator[Row]:
    """As compacted, and as it is delivered where that is declared."""
    base, write = layout.site.declared.base, layout.notation
    if base is None:
        return
    volume, more = takeoff.base * base.thickness, base.loose is not None or base.waste is not None
    beyond = f", reaching {write.length(base.beyond)} past slab and parts" if base.beyond else ""
    how = f"{write.area(takeoff.base)}{beyond}, x {write.length(base.thickness)} = {divided(layout, volume)}"
    name = "" if more else "base course, as compacted"
    yield volume_row(layout, "Base course", "compacted in place", volume, how, buy=name)
    if more:
        whole, how = more_by(layout, volume, base.loose, base.waste)
        loose = f"; {write.share(base.loose)} more when loose" if base.loose is not None else ""
        waste = f"; {write.share(base.waste)} waste" if base.waste is not None else ""
        yield volume_row(layout, "Base course", "to order", whole, f"{how}{loose}{waste}", buy="base course")


def sheet_rows(layout: Layout, takeoff: Takeoff) -> Iterator[Row]:
    """Strips along the longer extent, turned up at the edges, and rolls where their length is known."""
    sheet, write = layout.site.declared.vapour_sheet, layout.notation.length
    if sheet is None:
        return
    along, across = (each + 2 * sheet.turn_up for each in (max(takeoff.extent), min(takeoff.extent)))
    count = strips(across, sheet.width, sheet.lap)
    up = (
        f"with {write(sheet.turn_up)} turned up at each edge {write(along)} x {write(across)}; "
        if sheet.turn_up
        else ""
    )
    how = (
        f"{up}({write(across)} - {write(sheet.lap)} lap) / ({write(sheet.width)} - {write(sheet.lap)} lap), rounded "
        f"up: {count} strips, each {write(along)} long; {layout.notation.area(count * along * sheet.width)}"
    )
    item = f"sheet {write(sheet.width)} wide"
    yield length_row(layout, "Vapour sheet", item, count * along, how, buy="" if sheet.length else f"vapour {item}")
    if sheet.length:
        found = rolls(count, along, sheet.length, sheet.lap)
        how = f"{count} strips one after another; {_ends(layout, found, sheet.lap)}"
        item = f"rolls of {write(sheet.length)}"
        yield Row(
            "Vapour sheet", item, str(found.count), "rolls", how, buy=f"vapour sheet, {item} x {write(sheet.width)}"
        )


def _ends(layout: Layout, found: Rolls, lap: float) -> str:
    """What is lapped where a roll ends within a strip."""
    if not found.laps:
        return "no roll ends within one"
    return f"{found.laps} lap{'s' if found.laps > 1 else ''} of {layout.notation.length(lap)} where a roll ends"


def steel_rows(layout: Layout, takeoff: Takeoff) -> Iterator[Row]:
    """The schedule, in the order declared."""
    for steel in layout.site.declared.reinforcement:
        yield from _MAKERS[steel.kind](layout, takeoff, steel)


def _net(takeoff: Takeoff, steel: Reinforcement) -> tuple[float, float]:
    """The extent inside the cover [m], along the front and away from it."""
    return takeoff.extent[0] - 2 * steel.cover, takeoff.extent[1] - 2 * steel.cover


def _mesh(layout: Layout, takeoff: Takeoff, steel: Reinforcement) -> Iterator[Row]:
    write, net = layout.notation.length, _net(takeoff, steel)
    each, along, across = steel.width or steel.length, max(net), min(net)
    rows, inside = strips(across, each, steel.lap), f"inside the cover {write(along)} x {write(across)}"
    if steel.kind == "rolls":
        found, what = rolls(rows, along, steel.length, steel.lap), "rolls"
        count = found.count
        how = f"{inside}; {rows} rows each {write(along)} long; {_ends(layout, found, steel.lap)}"
    else:
        columns, what = strips(along, steel.length, steel.lap), "sheets"
        count = rows * columns
        how = f"{inside}; {rows} rows of {columns} sheets"
    how += f"; rows lap {write(steel.lap)}"
    item = f"{what} of {steel.name}, {write(steel.length)} x {write(each)}"
    yield Row(STEEL, item, str(count), what, how, buy=item)


def _both_ways(layout: Layout, takeoff: Takeoff, steel: Reinforcement) -> Iterator[Row]:
    write, spacing, net = layout.notation.length, steel.spacing or steel.length, _net(takeoff, steel)
    for way, (along, across) in (("along the front", net), ("away from the front", net[::-1])):
        laid = bars((along + 2 * steel.hook, across), spacing, steel.length, steel.lap)
        spread = f"{write(across)} inside the cover / {write(spacing)}: {laid.count - 1} spaces, {laid.count} bars"
        yield _bar_row(layout, steel, laid, way, spread)


def _edge(layout: Layout, _: Takeoff, steel: Reinforcement) -> Iterator[Row]:
    for side in layout.sides:
        along = side.length - 2 * steel.cover + 2 * steel.hook
        if along > 0:
            laid = runs_of_bars(steel.count or 1, along, steel.length, steel.lap)
            yield _bar_row(layout, steel, laid, side.label, f"{_bar_count(laid.count)} along {side.label}")


def _bar_count(count: int) -> str:
    """A number of bars."""
    return f"{count} bar{'s' if count > 1 else ''}"


def _bar_row(layout: Layout, steel: Reinforcement, laid: Bars, way: str, spread: str) -> Row:
    """Runs of bars, how each is pieced together, and the stock bars it takes."""
    write = layout.notation.length
    hooks = f" with hooks of {write(steel.hook)}" if steel.hook else ""
    laps = f" + {laid.laps} x {write(steel.lap)} lap = {write(laid.length)}" if laid.laps else ""
    pieces = f"{laid.whole} x {write(steel.length)} + {write(laid.filler)}" if laid.whole else write(laid.filler)
    from_one = f", {laid.per} such pieces from one bar" if laid.per > 1 else ""
    how = f"{spread}, each {write(laid.run)}{hooks}{laps}: {pieces}{from_one}; in all {write(laid.count * laid.length)}"
    stock = f"bars of {write(steel.length)}"
    return Row(STEEL, f"{steel.name}, {way}, {stock}", str(laid.stock), "bars", how, buy=f"{steel.name}, {stock}")


def _dowels(layout: Layout, takeoff: Takeoff, steel: Reinforcement) -> Iterator[Row]:
    declared, thickness = layout.site.declared.concrete, layout.slab.thickness
    apart = (declared.joint_spacing if declared else None) or (joint_spacing(thickness) if thickness else None)
    if apart is None:
        return
    write, spacing = layout.notation.length, steel.spacing or steel.length
    lines = [count - 1 for count in panels(takeoff.extent, apart).counts]
    each = [spaces(net, spacing) + 1 for net in _net(takeoff, steel)[::-1]]
    count = sum(a * b for a, b in zip(lines, each, strict=True))
    how = (
        f"{lines[0]} joints away from the front x {each[0]} dowels + {lines[1]} along it x {each[1]}, at most "
        f"{write(spacing)} apart, inside the cover"
    )
    item = f"dowels {steel.name}, {write(steel.length)} long"
    yield Row(STEEL, item, str(count), "dowels", how, buy=item)


_MAKERS = {"bars": _both_ways, "mesh": _mesh, "rolls": _mesh, "edge": _edge, "dowels": _dowels}
