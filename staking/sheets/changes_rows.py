"""How is a change said, on the sheet and on the screen: how far a stake moved, which way, from which string?"""

from __future__ import annotations

from collections.abc import Iterator

from staking.layout.changed import STAYS, Changes, Followed, RoomChange, Size
from staking.layout.moves import toward, turned_by
from staking.layout.revision import Room
from staking.layout.wall_lines import FromSide
from staking.notation import Notation

_NONE = "-"


def verdict(changes: Changes) -> str:
    """The answer in one sentence."""
    if not changes.to_do:
        return "nothing that stands on the ground changed"
    parts = [
        (len(changes.moved), "moved"),
        (len(changes.fresh), "new"),
        (len(changes.gone), "gone"),
        (len(changes.renamed), "with another name"),
        (len(changes.regraded), "with another height"),
    ]
    said = ", ".join(f"{count} {word}" for count, word in parts if count)
    return f"stakes: {said}" if said else "no stake moved, but see what is said above"


def whole_words(changes: Changes) -> str:
    """How the outline as a whole lies now."""
    whole, write = changes.whole, changes.new.notation
    if whole is None:
        before, after = len(changes.before.outline), len(changes.after.outline)
        return f"the outline has {after} corners now and had {before}"
    if whole.other_numbers:
        return "the outline stands where it stood, with its corners numbered from another one"
    if not whole.same_shape:
        return "the outline has another size or shape"
    if not whole.moved:
        return "the outline stands where it stood"
    turned = f"turned by {turned_by(write, whole.turn, whole.reach)} about its middle"
    if whole.shift.length <= STAYS:
        return f"the whole slab {turned}{_with_it(changes)}"
    moved = f"the whole slab moved {_step(write, whole.shift.length)} toward {toward(write, whole.shift)}"
    return f"{moved}{f', and {turned}' if whole.turned else ', not turned'}{_with_it(changes)}"


def _with_it(changes: Changes) -> str:
    """How many stakes moved as the whole slab did, and by how much their concrete rose."""
    count, rise = len(changes.together), changes.lifted
    with_it = f"; {count} stake{'s' * (count != 1)} moved with it" if count else ""
    higher = f"; concrete {_higher(changes, rise)}" if rise is not None and abs(rise) > STAYS else ""
    return f"{with_it}{higher}; size and shape are the same"


def how_far(changes: Changes, each: Followed) -> str:
    """The way from the old place of a stake to the new one."""
    return _step(changes.new.notation, each.move.length)


def _step(write: Notation, metres: float) -> str:
    """How far a thing moved; one that counts is not written as one that does not."""
    text = write.length(metres)
    return f"just over {text}" if metres > STAYS and text == write.length(STAYS) else text


def which_way(changes: Changes, each: Followed) -> str:
    """Which way that was, no finer than it is known."""
    return toward(changes.new.notation, each.move)


def by_strings(changes: Changes, each: Followed) -> str:
    """The same as steps square to and along the old wall lines; empty where it belongs to none."""
    notation = changes.new.notation
    steps = []
    for wall in each.walls:
        if abs(wall.out) > STAYS:
            steps.append(f"{_step(notation, abs(wall.out))} {'out' if wall.out > 0 else 'in'} from side {wall.side}")
        if len(each.walls) == 1 and abs(wall.along) > STAYS:
            steps.append(f"{_step(notation, abs(wall.along))} along side {wall.side} toward {_end(wall)}")
    return ", ".join(steps)


def _end(wall: FromSide) -> str:
    """The corner toward which it moved along a side."""
    return wall.end if wall.along > 0 else wall.start


def height_words(changes: Changes, each: Followed) -> str:
    """How its design height changed, in words."""
    if each.rise is None:
        return "no height now" if each.new.at.up is None else "has a height now"
    return _higher(changes, each.rise)


def _higher(changes: Changes, rise: float) -> str:
    return f"{changes.new.notation.length(abs(rise))} {'higher' if rise > 0 else 'lower'}"


def heights(changes: Changes, each: Followed) -> tuple[str, str]:
    """Its design height as the old revision wrote it and as the new one does."""
    write = changes.new.notation.decimal
    old, new = each.old.at.up, each.new.at.up
    return (
        _NONE if old is None else write(old - changes.lift),
        _NONE if new is None else write(new),
    )


def size_rows(changes: Changes) -> Iterator[tuple[str, str, str, str]]:
    """What, before, after, and the difference, of every size that changed."""
    for size in changes.sizes:
        was, now = _sized(changes, size, size.before), _sized(changes, size, size.after)
        yield size.what, was, now, _difference(changes, size)


def _sized(changes: Changes, size: Size, value: float | None) -> str:
    write = changes.new.notation
    if value is None:
        return _NONE
    if size.what == "floor":
        return write.decimal(value)
    return write.area(value) if size.what == "area" else write.length(value)


def _difference(changes: Changes, size: Size) -> str:
    if size.before is None or size.after is None:
        return "new" if size.before is None else "gone"
    more = size.after - size.before
    words = ("higher", "lower") if size.what == "floor" else ("more", "less")
    written = changes.new.notation.area(abs(more)) if size.what == "area" else changes.new.notation.length(abs(more))
    return f"{written} {words[0] if more > 0 else words[1]}"


def room_rows(changes: Changes) -> Iterator[tuple[str, str, str, str]]:
    """To what, room before, room after, and what that is, of every margin that changed."""
    write = changes.new.notation
    for change in changes.rooms:
        was, now = _spare(write, change.before), _spare(write, change.after)
        yield rule_words(change.either), was, now, room_words(change)


def rule_words(room: Room) -> str:
    """What a margin is measured to and, where it is not the outline, from."""
    what = "" if room.what == "outline" else f" ({room.what})"
    return f"{room.rule} {room.of}{what}"


def _spare(write: Notation, room: Room | None) -> str:
    return _NONE if room is None else write.length(room.room)


def room_words(change: RoomChange) -> str:
    """Whether a margin is better, worse or crossed now."""
    if change.crossed:
        return "TOO NEAR now"
    if change.before is None or change.after is None:
        return "new" if change.before is None else "no more asked for"
    if change.after.room < 0:
        return "still TOO NEAR"
    if change.before.room < 0:
        return "clears now"
    other = change.after.required != change.before.required
    way = "better" if change.after.room > change.before.room else "worse"
    return f"{way}, another figure required" if other else way
