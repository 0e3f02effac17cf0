"""The stakes: what every entry of [[stakes]] asks for, each place once, and its name."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from staking.kinds.slab import Form
from staking.kinds.stakes import BatterBoards, Offsets
from staking.kinds.stakes.placing import ANYWHERE, Board, KeptOut, Place, Series, SetOut
from staking.layout.computed import Stake
from staking.layout.excavation import beside
from staking.layout.trouble import Trouble
from staking.sitefile.declared import Numbering, Site, StakesKind

SERIES: tuple[Series, ...] = ("corners", "offsets", "batter_boards", "marks")
ON_SLAB = {"corner": 1, "part corner": 2, "mark": 3}  # kinds that mark the slab itself, the first to stay
TOGETHER = 0.001  # metres; two of one purpose nearer than this are one stake


def stakes_of(
    site: Site, form: Form, trouble: Trouble, kept: KeptOut = ANYWHERE
) -> tuple[tuple[Stake, ...], tuple[Board, ...]]:
    """Stakes in the order of their series, with their names; and the batter boards.

    kept: where boards and offsets may stand; an entry that is fixed does not ask.
    """
    places: list[Place] = []
    boards: list[Board] = []
    for index, wanted in enumerate(site.declared.stakes):
        with trouble.at("stakes", index):
            out = _set_out(wanted, form, beside(kept, [place.at for place in places]))
            places.extend(replace(place, entry=index) for place in out.places)
            boards.extend(out.boards)
    trouble.stop()
    ordered = sorted(_each_once(places), key=lambda place: SERIES.index(place.series))
    names = _names(ordered, site.declared.numbering, frozenset(site.given))
    write = site.notation.length
    stakes = tuple(
        Stake(
            name,
            place.at,
            place.kind,
            place.series,
            place.words.format(*map(write, place.lengths)),
            side=place.side,
            corner=place.corner,
            along=place.along,
            part=place.part,
            entry=place.entry,
            moved=place.moved,
        )
        for name, place in zip(names, ordered, strict=True)
    )
    return stakes, tuple(boards)


def _set_out(wanted: StakesKind, form: Form, kept: KeptOut) -> SetOut:
    if isinstance(wanted, BatterBoards | Offsets) and not wanted.fixed:
        return wanted.set_out(form, kept)
    return wanted.set_out(form)


def _each_once(places: Sequence[Place]) -> list[Place]:
    """Every place once: a mark or a part's corner where another stake marks the slab already is that stake.

    The stake that stays takes on the words of the others. Strings on one line share the stake at their end.
    """
    kept: dict[tuple[str, int, int], Place] = {}
    for place in sorted(places, key=lambda place: ON_SLAB.get(place.kind, 0)):
        purpose = "on the slab" if place.kind in ON_SLAB else place.kind
        cell = (purpose, round(place.at.east / TOGETHER), round(place.at.north / TOGETHER))
        near = ((purpose, cell[1] + i, cell[2] + j) for i in (0, -1, 1) for j in (0, -1, 1))
        there = next((key for key in near if key in kept), None)
        if there is None:
            kept[cell] = place
        elif place.kind == "part corner":
            first = kept[there]
            kept[there] = replace(first, words=f"{first.words}; {place.words}")
    return list(kept.values())


def _names(places: Sequence[Place], numbering: Numbering, taken: frozenset[str]) -> list[str]:
    """Numbers, one series a kind, none that a given point has.

    Where a series would run into the next one (more than a hundred stakes), all series begin ten times higher.
    """
    counts = Counter(place.series for place in places)
    starts = {series: getattr(numbering, series) for series in SERIES}
    if numbering == Numbering():
        while any(count > 10 ** (len(str(starts[series])) - 1) for series, count in counts.items()):
            starts = {series: (start - 1) * 10 + 1 for series, start in starts.items()}
    used = {name.lower() for name in taken}
    names = []
    for place in places:
        number = starts[place.series]
        while str(number) in used:
            number += 1
        used.add(str(number))
        starts[place.series] = number + 1
        names.append(str(number))
    return names
