"""How do people on the ground say how far off something is?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from staking.field.compared import Deviation
from staking.layout.wall_lines import FromSide
from staking.notation import Notation
from staking.survey.points import Vector

_NOTHING = ("0 in", "0 mm")
SECOND = 0.5 / 3600  # degrees; a turn below this is written as none


def side_words(each: FromSide, write: Notation) -> str:
    """Off a wall line, as 3/8 in outside front; on front, where it is less than is written."""
    off = write.small(abs(each.out))
    if off in _NOTHING:
        return f"on {each.side}"
    return f"{off} {'outside' if each.out > 0 else 'inside'} {each.side}"


def wall_words(each: Deviation, write: Notation) -> str:
    """Where a point lies to its wall lines; by north and east where it has none, along the line where it has one."""
    if not each.sides:
        return step_words(each.plan, write)
    words = [side_words(side, write) for side in each.sides]
    if len(each.sides) == 1:
        (side,) = each.sides
        along = write.small(abs(side.along))
        if along not in _NOTHING:
            words.append(f"{along} along it toward {side.end if side.along > 0 else side.start}")
    return "on its place" if all(word.startswith("on ") for word in words) else ", ".join(words)


def step_words(step: Vector, write: Notation) -> str:
    """A step as north and east, as 3/8 in north, 1/4 in west."""
    parts = []
    for value, forward, back in ((step.north, "north", "south"), (step.east, "east", "west")):
        text = write.small(abs(value))
        if text not in _NOTHING:
            parts.append(f"{text} {forward if value > 0 else back}")
    return ", ".join(parts) or "on its place"


def own_words(step: Vector, right: Vector, write: Notation, least: float = 0.0) -> str:
    """A step as one says it who stands in front of the slab and looks at it. least [m]: what is less is left out."""
    parts = []
    for value, forward, back in (
        (step.dot(right.left()), "to the back", "to the front"),
        (step.dot(right), "to the right", "to the left"),
    ):
        text = write.small(abs(value))
        if text not in _NOTHING and abs(value) >= least:
            parts.append(f"{text} {forward if value > 0 else back}")
    return ", ".join(parts) or _NOTHING[write.unit.name == "m"]


def up_words(up: float, write: Notation) -> str:
    """A difference of height: 1/4 in high."""
    text = write.small(abs(up))
    return "at its height" if text in _NOTHING else f"{text} {'high' if up > 0 else 'low'}"


def about(metres: float, write: Notation) -> str:
    """A small length [m]; where it is less than is written, less than the least that is."""
    text = write.small(metres)
    least = "1 mm" if write.unit.name == "m" else f"1/{write.fraction} in"
    return f"less than {least}" if text in _NOTHING else text


def figure_words(metres: float, write: Notation) -> str:
    """A figure that is allowed [m], never more than it is: 1/4 in."""
    return write.allowance(metres).replace('"', " in")


def turn_words(turn: float, write: Notation) -> str:
    """A turn [deg], above 0 clockwise, to the second."""
    return f"{write.azimuth(abs(turn))} {'clockwise' if turn >= 0 else 'counter-clockwise'}"


def placed_words(shift: Vector, turn: float, right: Vector, write: Notation) -> str:
    """What a shift [m] and a turn [deg] do to a slab, as shifted 1/4 in to the front and turned 0°06'00" clockwise."""
    own = own_words(shift, right, write)
    moved = "not shifted" if own in _NOTHING else f"shifted {own}"
    return f"{moved} and " + ("not turned" if abs(turn) < SECOND else f"turned {turn_words(turn, write)}")


def steps_words(steps: Mapping[str, Vector], far: float, least: float, right: Vector, write: Notation) -> str:
    """Each point and its step where that is more than `far` [m], parts below `least` left out; and who stays."""
    going = {name: step for name, step in steps.items() if step.length > far}
    words = [f"{name} {own_words(step, right, write, least)}" for name, step in going.items()]
    staying = [name for name in steps if name not in going]
    return "; ".join([*words, *([stay_words(staying)] if staying else [])])


def stay_words(names: Sequence[str]) -> str:
    """Who is not moved.

    >>> stay_words(["101"]), stay_words(["101", "102"])
    ('101 stays', '101, 102 stay')
    """
    return f"{', '.join(names)} {'stays' if len(names) == 1 else 'stay'}"
