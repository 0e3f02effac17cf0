"""What comparing two revisions of a job yields; frozen; metres on the ground of the new revision, from its anchor."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from functools import cached_property

from staking.findings import Finding
from staking.layout.meanings import Pair, Stood
from staking.layout.revision import Driven, Revision, Room
from staking.layout.wall_lines import FromSide
from staking.survey.points import Point, Vector, distance, vector
from staking.survey.similarity import Similarity

INCH = 0.0254  # metres
STAYS = INCH / 16  # metres; half of the 1/8 in that tolerances.SOURCE allows a short length; own choice


def is_turned(turn: float, reach: float) -> bool:
    """Whether a turn [deg] alone moves what is so far from where it turned [m]."""
    return abs(math.radians(turn)) * reach > STAYS


@dataclass(frozen=True, slots=True)
class Given:
    """A given point that both revisions have, with its place by each. rise [m]: None where a height is not known."""

    name: str
    old: Point
    new: Point

    @property
    def move(self) -> Vector:
        """From the old place to the new one [m]."""
        return vector(self.old, self.new)

    @property
    def rise(self) -> float | None:
        """New less old elevation [m]."""
        return None if self.old.up is None or self.new.up is None else self.new.up - self.old.up


@dataclass(frozen=True)
class Shifted:
    """Coordinates of all given points that changed together: nothing moved, the figures of the ground did.

    at: the middle of the old ones. shift [m]: of it. turn [deg], clockwise.
    """

    at: Point
    shift: Vector
    turn: float


@dataclass(frozen=True)
class Followed:
    """A stake of the old revision and the one of the new for the same thing, both on the new ground.

    rise [m]: of its design height against the given elevations, None where either height is not known.
    """

    old: Driven
    new: Driven
    rise: float | None
    walls: tuple[FromSide, ...] = ()

    @property
    def move(self) -> Vector:
        """From the old place to the new one [m]."""
        return vector(self.old.at, self.new.at)

    @property
    def moved(self) -> bool:
        """Whether it stands elsewhere now."""
        return self.move.length > STAYS

    @property
    def renamed(self) -> bool:
        """Whether it bears another name now."""
        return self.old.name != self.new.name

    @property
    def other_height(self) -> bool:
        """Whether its height changed, or is known now and was not, or the other way round."""
        known = (self.old.at.up is None, self.new.at.up is None)
        return known[0] != known[1] or abs(self.rise or 0.0) > STAYS


@dataclass(frozen=True, slots=True)
class Size:
    """A size before and after [m]; areas [m2]. None where a revision does not have it."""

    what: str
    before: float | None
    after: float | None


@dataclass(frozen=True, slots=True)
class RoomChange:
    """A margin before and after; None where a revision does not have it."""

    before: Room | None
    after: Room | None

    @property
    def either(self) -> Room:
        """The later one that there is."""
        found = self.after or self.before
        assert found is not None  # noqa: S101 # made from one or two
        return found

    @property
    def crossed(self) -> bool:
        """Whether the new revision is too near, where the old one was not."""
        short = self.after is not None and self.after.room < 0
        return short and (self.before is None or self.before.room >= 0)


@dataclass(frozen=True)
class Whole:
    """How the outline as a whole lies: shift of its middle [m], turn [deg, clockwise], what is left of it [m].

    carry: the shift and turn. reach [m]: from its middle to the farthest corner. other_numbers: every old corner is a
    corner still, of another number.
    """

    carry: Similarity
    shift: Vector
    left: float
    reach: float
    other_numbers: bool = False

    @property
    def turn(self) -> float:
        """Of the outline [deg], clockwise."""
        return self.carry.turn

    @property
    def same_shape(self) -> bool:
        """Whether shift and turn alone carry the old outline onto the new one, to within STAYS."""
        return self.left <= STAYS

    @property
    def turned(self) -> bool:
        """Whether the turn alone moves a corner."""
        return is_turned(self.turn, self.reach)

    @property
    def moved(self) -> bool:
        """Whether it is the same outline in another place."""
        return self.same_shape and not self.other_numbers and (self.turned or self.shift.length > STAYS)


@dataclass(frozen=True)
class Changes:
    """Two revisions held against one another. before, after: their stakes and outlines on one ground.

    traps: old stakes beside a place where a stake of another name is wanted. reused: names that mean something else
    now. lift [m]: by which all given elevations changed together.
    """

    old: Revision
    new: Revision
    before: Stood
    after: Stood
    given: tuple[Given, ...]
    shifted: Shifted | None
    lift: float
    followed: tuple[Followed, ...]
    gone: tuple[Driven, ...]
    fresh: tuple[Driven, ...]
    traps: tuple[Pair, ...]
    reused: tuple[Pair, ...]
    whole: Whole | None
    sizes: tuple[Size, ...]
    rooms: tuple[RoomChange, ...]
    old_parts: tuple[tuple[str, tuple[Point, ...]], ...] = ()
    new_parts: tuple[tuple[str, tuple[Point, ...]], ...] = ()
    findings: tuple[Finding, ...] = field(default=())

    @cached_property
    def moved(self) -> tuple[Followed, ...]:
        """Stakes that stand elsewhere now."""
        return tuple(each for each in self.followed if each.moved)

    @cached_property
    def together(self) -> tuple[Followed, ...]:
        """Stakes that moved as the outline did, to within STAYS; none where it did not move as a whole."""
        whole = self.whole
        if whole is None or not whole.moved:
            return ()
        return tuple(it for it in self.moved if distance(whole.carry.apply(it.old.at), it.new.at) <= STAYS)

    @cached_property
    def otherwise(self) -> tuple[Followed, ...]:
        """Stakes that moved by a way of their own."""
        with_it = {id(each) for each in self.together}
        return tuple(each for each in self.moved if id(each) not in with_it)

    @property
    def lifted(self) -> float | None:
        """By which the design height of all stakes that moved together rose [m]; None where not by the same."""
        rises = [each.rise for each in self.together if each.rise is not None]
        if not rises or len(rises) < len(self.together) or max(rises) - min(rises) > STAYS:
            return None
        return sum(rises) / len(rises)

    @cached_property
    def renamed(self) -> tuple[Followed, ...]:
        """Stakes that stay where they are and need a new name."""
        return tuple(each for each in self.followed if each.renamed and not each.moved)

    @cached_property
    def regraded(self) -> tuple[Followed, ...]:
        """Stakes that stay where they are, but whose marks of cut and fill are void."""
        return tuple(each for each in self.followed if each.other_height and not each.moved)

    @cached_property
    def staying(self) -> tuple[Followed, ...]:
        """Stakes at which nothing is to be done."""
        return tuple(it for it in self.followed if not (it.moved or it.renamed or it.other_height))

    @cached_property
    def to_pull(self) -> tuple[Driven, ...]:
        """Old stakes that must not stand any more, in their old order."""
        wrong = {id(each.old) for each in self.moved} | {id(stake) for stake in self.gone}
        return tuple(stake for stake in self.before.stakes if id(stake) in wrong)

    @cached_property
    def farthest(self) -> Followed | None:
        """The stake that moved most."""
        return max(self.moved, key=lambda each: each.move.length, default=None)

    @property
    def control_changed(self) -> tuple[Given, ...]:
        """Given points that have another place or height now."""
        return tuple(it for it in self.given if it.move.length > STAYS or abs(it.rise or 0.0) > STAYS)

    @property
    def crossed(self) -> tuple[RoomChange, ...]:
        """Margins that the new revision crosses and the old one did not."""
        return tuple(each for each in self.rooms if each.crossed)

    @property
    def to_do(self) -> bool:
        """Whether anything is to be pulled, set, named, measured or loaded anew, or must be settled before."""
        ground = self.to_pull or self.fresh or self.renamed or self.regraded or self.traps
        return bool(ground or self.control_changed or self.crossed)
