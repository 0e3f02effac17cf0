"""Boards or panels along each side, and what holds them: which pieces, and by which arithmetic?"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence

from staking.layout.boards import Run, spaces
from staking.layout.computed import Layout
from staking.layout.cutting import LEAST, Cut, Sawn, lay, pack, sawn
from staking.layout.form_heights import FormHeight, tiers_of
from staking.layout.quantities import Takeoff
from staking.sheets.takeoff_row import Row, length_row
from staking.sitefile.takeoff_declared import Forms

GROUP = "Forms"
WHOLE = 1e-6  # metres; a board that is shortened by less is used whole


def form_rows(layout: Layout, takeoff: Takeoff) -> Iterator[Row]:
    """The string, openings, and the boards or panels of each run."""
    forms, write = layout.site.declared.forms, layout.notation.length
    if forms is None:
        return
    how = f"the actual thickness of the {forms.kind[:-1]}, square out from the edge of the concrete"
    yield length_row(layout, GROUP, "string, outside each mark", forms.size[0], how)
    for opening in takeoff.openings:
        how = f"{write(opening.width)} + 2 x {write(forms.opening_allowance)} allowance, in the form of {opening.side}"
        yield length_row(layout, GROUP, f"opening for {opening.part}", opening.whole, how)
    if forms.lengths:
        yield from (_panels if forms.kind == "panels" else _boards)(layout, takeoff, forms)


def _boards(layout: Layout, takeoff: Takeoff, forms: Forms) -> Iterator[Row]:
    bought: list[Sawn] = []
    fillers: list[float] = []
    for run in takeoff.runs:
        cuts, tiers = _cuts(run, forms), len(tiers_of(forms, needed(takeoff, run)))
        bought += [Sawn(cut.stock, (cut.stock,)) for cut in cuts if _whole(cut)] * tiers
        fillers += [cut.used for cut in cuts if not _whole(cut)] * tiers
        how = _board_words(layout, run, forms, tiers) + _height_words(layout, takeoff, run)
        yield Row(GROUP, run.label, str(len(cuts) * tiers), "pieces", how)
    bought += sawn(fillers, forms.lengths)
    name = forms.board or " x ".join(layout.notation.length(each) for each in forms.size)
    for stock in sorted({board.stock for board in bought}, reverse=True):
        own = [board for board in bought if board.stock == stock]
        item = f"boards of {layout.notation.length(stock)}"
        yield Row(GROUP, item, str(len(own)), "boards", _sawn_words(layout, own), buy=f"{item}, {name}")


def _cuts(run: Run, forms: Forms) -> tuple[Cut, ...]:
    return lay(run.length, forms.lengths, forms.lap, LEAST)


def _whole(cut: Cut) -> bool:
    return cut.stock - cut.used < WHOLE


def _sawn_words(layout: Layout, boards: Sequence[Sawn]) -> str:
    """How many stay whole, and what the others are sawn into; equal ones together."""
    cut = (board.pieces for board in boards if board.stock - board.pieces[0] >= WHOLE)
    ways = Counter(" + ".join(map(layout.notation.length, pieces)) for pieces in cut)  # equal as they are written
    whole = len(boards) - ways.total()
    words = [f"{whole} whole"] if whole else []
    words += [f"{count} sawn: {pieces}" for pieces, count in ways.items()]
    return "; ".join(words)


def _board_words(layout: Layout, run: Run, forms: Forms, tiers: int) -> str:
    write, cuts = layout.notation.length, _cuts(run, forms)
    whole = Counter(cut.stock for cut in cuts if _whole(cut))
    pieces = [f"{count} x {write(stock)}" for stock, count in whole.items()]
    pieces += [f"{write(cut.used)} (sawn)" for cut in cuts if not _whole(cut)]
    laps = f", less {len(cuts) - 1} x {write(forms.lap)} lap" if len(cuts) > 1 and forms.lap else ""
    high = f"; {tiers} boards high" if tiers > 1 else ""
    return f"{_run_words(layout, run)}: {' + '.join(pieces)}{laps}{high}"


def _run_words(layout: Layout, run: Run) -> str:
    """What a run measures, corners included."""
    write = layout.notation.length
    sign = "+" if run.past > 0 else "-"
    corners = f" {sign} {write(abs(run.past))} at corners = {write(run.length)}" if abs(run.past) > WHOLE else ""
    bent = " (an arc: bent, or short straight pieces)" if run.bent else ""
    return f"{write(run.concrete)}{corners}{bent}"


def _height_words(layout: Layout, takeoff: Takeoff, run: Run) -> str:
    found = needed(takeoff, run)
    return f"; needs {layout.notation.length(found.need)} down to {closed_by(found)}" if found else ""


def closed_by(found: FormHeight) -> str:
    """Where the form ends below."""
    return "the ground" if found.ground else "the underside"


def needed(takeoff: Takeoff, run: Run) -> FormHeight | None:
    """How high the form of a run must be; None where no thickness is known."""
    return next((each for each in takeoff.heights if each.label == run.label), None)


def _panels(layout: Layout, takeoff: Takeoff, forms: Forms) -> Iterator[Row]:
    write = layout.notation.length
    used: Counter[tuple[float, float]] = Counter()
    fillers: dict[str, list[str]] = {}
    for run in takeoff.runs:
        laid, tiers = pack(run.length, forms.lengths), tiers_of(forms, needed(takeoff, run))
        used.update((length, high) for high in tiers for length in laid.panels)
        if laid.filler > WHOLE:
            fillers.setdefault(f"{write(laid.filler)} x {write(math.fsum(tiers))}", []).append(run.label)
        kinds = " + ".join(f"{count} x {write(length)}" for length, count in Counter(laid.panels).items()) or "no panel"
        filler = f" + filler {write(laid.filler)}" if laid.filler > WHOLE else ""
        high = f"; {' + '.join(map(write, tiers))} high"
        how = f"{_run_words(layout, run)}: {kinds}{filler}{high}{_height_words(layout, takeoff, run)}"
        yield Row(GROUP, run.label, str(len(laid.panels) * len(tiers)), "panels", how)
    for size, count in sorted(used.items(), reverse=True):
        item = f"panels {' x '.join(map(write, size))}"
        yield Row(GROUP, item, str(count), "panels", "sum of the rows above, length x height", buy=item)
    if fillers:
        how = "; ".join(f"{size} for {', '.join(labels)}" for size, labels in fillers.items())
        made = str(sum(map(len, fillers.values())))
        yield Row(GROUP, "fillers, made to measure", made, "fillers", how, buy="fillers")
    yield from _corners(takeoff, forms)


def _corners(takeoff: Takeoff, forms: Forms) -> Iterator[Row]:
    found = takeoff.corners
    pairs = (
        ("outside corners", found.outside, "square corners of the outline, joined by an angle as high as the form"),
        ("inside corners", found.inside if forms.inside_corner else 0, "square corners, a piece at each"),
        ("other corners", found.other, "not square: made to measure"),
    )
    for item, count, how in pairs:
        if count:
            yield Row(GROUP, item, str(count), "corners", how, buy=f"pieces for {item} of panels")


def stake_rows(layout: Layout, takeoff: Takeoff) -> Iterator[Row]:
    """Stakes and braces, where their spacing is declared."""
    forms = layout.site.declared.forms
    if forms is None:
        return
    for what, spacing in (("stakes", forms.stake_spacing), ("braces", forms.brace_spacing)):
        if spacing is not None:
            yield _driven(layout, takeoff, forms, what, spacing)


def _driven(layout: Layout, takeoff: Takeoff, forms: Forms, what: str, spacing: float) -> Row:
    """Stakes or braces: one at both ends of every run and between, and stakes at joints of boards too."""
    counts = [spaces(run.length, spacing) + 1 for run in takeoff.runs]
    at_joints = what == "stakes" and forms.kind == "boards" and bool(forms.lengths)
    joints = sum(len(_cuts(run, forms)) - 1 for run in takeoff.runs) if at_joints else 0
    shown = " + ".join(map(str, counts))
    more = f", + {joints} at joints of boards" if at_joints else ""
    how = f"at most {layout.notation.length(spacing)} apart along each run, and at its ends: {shown}{more}"
    return Row("Stakes and braces", what, str(sum(counts) + joints), what, how, buy=what)
