"""Were the corners of a tape book counted the other way round, or from another corner, than on the drawing?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from staking.field.tape_book import TapeReading
from staking.field.taped import Places, design_places, known_places
from staking.layout.computed import Layout

FAR = 0.3  # metres: readings that come nearer to the drawing are of its corners; own choice
NEAR = 0.1  # metres: with the right corners, forms are set at least so well; own choice
FEWEST = 4  # readings; fewer fit some order of the corners by chance; own choice
MOST = 60  # corners; an outline of more is not tried in every order; own choice

Order = tuple[tuple[str, str], ...]


def other_corners(layout: Layout, readings: Sequence[TapeReading]) -> Order:
    """Each corner as the book seems to count it, and what the drawing calls it; empty where it counts as the drawing.

    Tried are all ways to begin at another corner, and to go round the other way. Where several fit, as a rectangle
    fits itself, the one with the smallest misfit is taken, the other way round from the same corner before others.
    """
    places, names = {**known_places(layout), **design_places(layout)}, layout.corner_names
    taped = [each for each in readings if set(each.span.ends) & set(names)]
    if not len(taped) >= FEWEST or len(names) > MOST or _misfit(taped, places) <= FAR:
        return ()
    tries = [(round(_misfit(taped, {**places, **_placed(order, places)}), 3), order) for order in _orders(names)]
    least, order = min(tries, key=lambda each: each[0])
    return order if least <= NEAR else ()


def _misfit(readings: Sequence[TapeReading], places: Places) -> float:
    return max(abs(each.value - each.span.length(places)) for each in readings)


def _placed(order: Order, places: Places) -> Places:
    return {name: places[there] for name, there in order}


def _orders(names: Sequence[str]) -> Iterator[Order]:
    count = len(names)
    for start in range(count):
        for way in (-1, 1):
            if (start, way) != (0, 1):
                yield tuple((name, names[(start + way * at) % count]) for at, name in enumerate(names))
