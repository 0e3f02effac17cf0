"""What changed from one revision of a job to another: which stakes moved, how far, which are new, which must be pulled?

Both are laid on the ground of the new one by the coordinates they share. Where the coordinates of all given points
changed together, old stakes are carried along with them: it is the figures that changed, not the ground.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import zip_longest

from staking.errors import InputError
from staking.findings import Place
from staking.layout.changed import (
    INCH,
    STAYS,
    Changes,
    Followed,
    Given,
    RoomChange,
    Shifted,
    Size,
    Whole,
)
from staking.layout.changes_found import changes_found
from staking.layout.meanings import ON_SLAB, Matched, Pair, Stood, matched, meaning_of, neighbours
from staking.layout.revision import Corner, Driven, Revision, Room, System, told_by
from staking.layout.wall_lines import FromSide, WallLine
from staking.sitefile.places import mistake
from staking.survey.lines import Line
from staking.survey.paths import path_area, pieces_of
from staking.survey.points import Point, distance, mean, vector
from staking.survey.similarity import Similarity, best_fit, residuals

CONFUSED = 12 * INCH  # metres; an old stake so near to the place of another one can be taken for it; own choice
_AREA = 0.01  # square metres; smaller changes of an area are not worth a line

Carry = Callable[[Point], Point]


def changes_of(old: Revision, new: Revision) -> Changes:
    """Old and new held against one another. Raises InputError where their coordinates cannot be compared."""
    _check_comparable(old, new)
    given = tuple(_given(old, new))
    together = _together(given)
    lift = _lift(given)
    on_ground = new.system.frame.to_ground

    def carried(place: Point) -> Point:
        on_new = on_ground(place)
        at = together.apply(on_new) if together else on_new
        return replace(at, up=None if place.up is None else place.up + lift)

    before, after = _stood(old, carried), _stood(new, on_ground)
    found = matched(before, after, STAYS)
    changes = Changes(
        old=old,
        new=new,
        before=before,
        after=after,
        given=given,
        shifted=_shifted(together),
        lift=lift,
        followed=tuple(_followed(pair, before) for pair in found.pairs),
        gone=found.gone,
        fresh=found.fresh,
        traps=tuple(_traps(before, after, found)),
        reused=tuple(_reused(before, after)),
        whole=_whole(before.outline, after.outline),
        sizes=tuple(_sizes(old, new, lift)),
        rooms=tuple(_rooms(old.rooms, new.rooms)),
        old_parts=tuple((name, tuple(map(carried, corners))) for name, corners in old.parts),
        new_parts=tuple((name, tuple(map(on_ground, corners))) for name, corners in new.parts),
    )
    return replace(changes, findings=tuple(changes_found(changes)))


def _check_comparable(old: Revision, new: Revision) -> None:
    """Raise InputError where a place of one has no place in the other."""
    first, second = old.system, new.system
    measured = [system.which == "measured" for system in (first, second)]  # a fit leaves given coordinates as they are
    if (first.crs, first.values, measured[0]) == (second.crs, second.values, measured[1]):
        return
    words = f"the old revision holds {_words(first)}, the new one {_words(second)}; a stake of one cannot be found in"
    remedy = "compare two revisions in one system"
    if first.crs == second.crs and first.crs and measured[0] == measured[1]:
        remedy = "write both with `staking make --in grid`, or both with --in ground, and compare the two layout files"
    elif measured[0] != measured[1]:
        remedy = "compare the two layout files of one system: layout.json, or layout_measured.json"
    raise InputError(mistake("revisions-apart", f"{words} the other", Place(new.source), remedy))


def _words(system: System) -> str:
    if system.which == "measured":
        scaled = "with" if system.values == "grid" else "without"
        return f"coordinates of the measured system, {scaled} the scale of its fit"
    return f"{system.values} values of {system.crs}" if system.crs else f"{system.values} values of a local system"


def _given(old: Revision, new: Revision) -> Iterator[Given]:
    """The given points of both, each by its coordinates on the new ground."""
    to_ground = new.system.frame.to_ground
    for name, place in new.given:
        if name in old.points:
            yield Given(name, to_ground(old.points[name]), to_ground(place))


def _together(given: Sequence[Given]) -> Similarity | None:
    """How the coordinates of all given points changed together; None where one stayed, or where they do not agree."""
    if len(given) < 2 or any(point.move.length <= STAYS for point in given):
        return None
    pairs = [(point.old, point.new) for point in given]
    try:
        similarity, _ = best_fit(pairs)
    except ValueError:
        return None
    left = max(step.length for step in residuals(similarity, pairs))
    return similarity if left <= STAYS else None


def _shifted(together: Similarity | None) -> Shifted | None:
    if together is None:
        return None
    return Shifted(together.pivot, vector(together.pivot, together.image), together.turn)


def _lift(given: Sequence[Given]) -> float:
    """By which all given elevations changed together [m]; 0 where they did not, or not by the same."""
    rises = [point.rise for point in given if point.rise is not None]
    if not rises or max(rises) - min(rises) > STAYS or min(map(abs, rises)) <= STAYS:
        return 0.0
    return sum(rises) / len(rises)


def _stood(revision: Revision, carried: Carry) -> Stood:
    return Stood(
        tuple(replace(stake, at=carried(stake.at)) for stake in revision.stakes),
        tuple(replace(corner, at=carried(corner.at)) for corner in revision.outline),
    )


def _followed(pair: Pair, before: Stood) -> Followed:
    old, new = pair
    known = old.at.up is not None and new.at.up is not None
    rise = (new.at.up or 0.0) - (old.at.up or 0.0) if known else None
    return Followed(old, new, rise, tuple(_walls(old, new, before.outline)))


def _walls(old: Driven, new: Driven, outline: Sequence[Corner]) -> Iterator[FromSide]:
    """How it moved to the old wall line it stood on, or to both that meet in its corner."""
    count = len(outline)
    numbers = [told_by(corner.label)[0] for corner in outline]
    side, corner = told_by(old.side)[0].partition("-")[0], told_by(old.corner)[0]
    wanted = [numbers.index(side)] if side in numbers else []
    if not wanted and corner in numbers:
        wanted = [(numbers.index(corner) - 1) % count, numbers.index(corner)]
    left_hand = _counter_clockwise(outline)
    for index in wanted:
        start, end = outline[index], outline[(index + 1) % count]
        if start.bulge == 0 and distance(start.at, end.at) > 0:
            way = Line(start.at, end.at).direction
            label = f"{told_by(start.label)[0]}-{told_by(end.label)[0]}"
            out = way.right() if left_hand else way.left()
            yield WallLine(label, start.name, end.name, way, out).of(vector(old.at, new.at))


def _counter_clockwise(outline: Sequence[Corner]) -> bool:
    bulges = tuple(corner.bulge for corner in outline)
    return path_area(pieces_of(tuple(corner.at for corner in outline), bulges if any(bulges) else ())) > 0


def _traps(before: Stood, after: Stood, found: Matched) -> Iterator[Pair]:
    """Old stakes beside a place where one of another name is wanted, taken for it easily; the nearest of each."""
    own = {(id(old), id(new)) for old, new in found.pairs}
    nearest: dict[int, Pair] = {}
    for old, new in neighbours(before.stakes, after.stakes, CONFUSED):
        alike = old.kind == new.kind or {old.kind, new.kind} <= ON_SLAB
        if alike and old.name != new.name and (id(old), id(new)) not in own:
            known = nearest.setdefault(id(new), (old, new))
            if distance(old.at, new.at) < distance(known[0].at, new.at):
                nearest[id(new)] = (old, new)
    yield from nearest.values()


def _reused(before: Stood, after: Stood) -> Iterator[Pair]:
    """Stakes of one name that are for different things."""
    told = meaning_of(same_shape=len(before.outline) == len(after.outline))
    known = {stake.name: stake for stake in before.stakes}
    for new in after.stakes:
        old = known.get(new.name)
        if old is not None and told(old) != told(new):
            yield old, new


def _whole(before: Sequence[Corner], after: Sequence[Corner]) -> Whole | None:
    """How the outline as a whole moved; None where it has another number of corners."""
    if len(before) != len(after):
        return None
    old, new = [corner.at for corner in before], [corner.at for corner in after]
    try:
        similarity, _ = best_fit(list(zip(old, new, strict=True)))
    except ValueError:
        return None
    steps = residuals(similarity, list(zip(old, new, strict=True)))
    bent = max(abs(one.bulge - two.bulge) for one, two in zip(before, after, strict=True))
    across = max(distance(new[0], place) for place in new)
    left = max(bent * across / 2, *(step.length for step in steps))  # an arc rises by its bulge times half its chord
    there = all(min(distance(place, other) for other in new) <= STAYS for place in old)
    as_numbered = all(distance(*ends) <= STAYS for ends in zip(old, new, strict=True))
    shift = vector(mean(old), mean(new))
    reach = max(distance(mean(new), place) for place in new)
    return Whole(similarity, shift, left, reach, other_numbers=there and not as_numbered)


def _sizes(old: Revision, new: Revision, lift: float) -> Iterator[Size]:
    """Sizes that changed: sides, diagonals, area, thickness, ledge, height of the floor."""
    yield from _lengths("", old.sides, new.sides)
    yield from _lengths("diagonal ", old.diagonals, new.diagonals)
    if abs(old.area - new.area) > _AREA:
        yield Size("area", old.area, new.area)
    floor = None if old.floor is None else old.floor + lift
    pairs = [(what, old.sizes[what], new.sizes[what]) for what in new.sizes]
    for what, first, second in (*pairs, ("floor", floor, new.floor)):
        if first != second and (first is None or second is None or abs(first - second) > STAYS):
            yield Size(what, first, second)


def _lengths(what: str, before: Sequence[tuple[str, float]], after: Sequence[tuple[str, float]]) -> Iterator[Size]:
    """Of things in one order; where there are more or fewer now, all of them."""
    same = len(before) == len(after)
    for first, second in zip_longest(before, after) if same else ():
        if abs(first[1] - second[1]) > STAYS:
            yield Size(what + second[0], first[1], second[1])
    if not same:
        yield from (Size(what + label, length, None) for label, length in before)
        yield from (Size(what + label, None, length) for label, length in after)


def _rooms(before: Iterable[Room], after: Iterable[Room]) -> Iterator[RoomChange]:
    """Margins that changed, in the order of the new revision, those that are no more last."""
    known, later = _by_rule(before), _by_rule(after)
    for key in dict.fromkeys((*later, *known)):
        change = RoomChange(known.get(key), later.get(key))
        if _differ(change.before, change.after):
            yield change


def _by_rule(rooms: Iterable[Room]) -> dict[tuple[str, ...], Room]:
    found: dict[tuple[str, ...], Room] = {}
    for room in rooms:
        key: tuple[str, ...] = (room.rule, room.of, room.what)
        while key in found:  # one rule may be asked for twice
            key = (*key, "again")
        found[key] = room
    return found


def _differ(one: Room | None, other: Room | None) -> bool:
    if one is None or other is None:
        return True
    apart = max(abs(one.distance - other.distance), abs(one.required - other.required))
    return apart > STAYS or one.severity != other.severity
