"""The form is out of square or of a wrong size: which corners stay, and where must the others go?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from staking.field.allowed import Tolerances
from staking.field.compared import CheckedLength, Deviation
from staking.field.moves_told import in_shape, moves_told
from staking.field.placement import placement_of
from staking.field.shape import differ_words, pair_out, square_pairs
from staking.field.words import steps_words
from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.notation import Notation
from staking.survey.points import Point, Vector, vector
from staking.survey.similarity import Similarity, hold_and_turn

FEWEST = 3  # corners that make a shape


@dataclass(frozen=True)
class _Way:
    """One way to put it right: corners that are held by index, and where each corner must go [m]."""

    held: tuple[int, ...]
    moves: tuple[Vector, ...]

    def count(self, allowed: float) -> int:
        """How many corners must move."""
        return sum(move.length > allowed for move in self.moves)

    @property
    def total(self) -> float:
        """How far all of them together are moved [m]."""
        return sum(move.length for move in self.moves)


def shape_finding(
    layout: Layout, corners: Sequence[Deviation], lengths: Sequence[CheckedLength], tolerances: Tolerances
) -> Iterator[Finding]:
    """One finding where the shape is out: what is to be moved, seen from in front of the slab."""
    if len(corners) < FEWEST or in_shape(layout, corners, {}, tolerances):
        return
    allowed = _allowed(corners)
    to_place, *others = _ways(corners)
    remedy = f"seen from the front, move {moves_told(layout, corners, tolerances, allowed)}: then "
    remedy += "it stands as drawn" if to_place.count(allowed) else "its sides and diagonals are right"
    fewer = [way for way in others if 0 < way.count(allowed) < to_place.count(allowed)]
    for way in sorted(fewer, key=lambda each: (each.count(allowed), round(each.total, 4))):
        if in_shape(layout, corners, _told(layout, corners, way, allowed), tolerances):
            hold = " and ".join(corners[at].design.name for at in way.held)
            moves = _moves(layout, corners, way, allowed)
            remedy += f"\nor hold {hold} and move {moves}: then its shape is right, and it stands where it stands"
            break
    message = f"the form is {_what(corners, lengths, layout.notation)}"
    yield Finding("measured-out-of-shape", Severity.STRONG, message, None, f"{remedy}\nmeasure both diagonals again")


def corners_finding(layout: Layout, corners: Sequence[Deviation], tolerances: Tolerances) -> Iterator[Finding]:
    """Corners that are out while the slab as a whole and its shape are within tolerance: where they go."""
    out = [each.design.name for each in corners if each.answer == "out"]
    if out:
        message = f"{', '.join(out)} out of tolerance, while shape and place of the whole are within theirs"
        remedy = f"seen from the front, move {moves_told(layout, corners, tolerances, _allowed(corners))}"
        yield Finding("measured-corner-out", Severity.WARNING, message, None, f"{remedy}: then it stands as drawn")


def _allowed(corners: Sequence[Deviation]) -> float:
    return max((each.allowed.plus_minus or 0.0 for each in corners), default=0.0)


def _told(layout: Layout, corners: Sequence[Deviation], way: _Way, far: float) -> dict[str, Vector]:
    """The steps as `_moves` tells them: parts below half of `far` [m] left out."""
    right = layout.slab.form.pose.right
    steps = zip((each.design.name for each in corners), way.moves, strict=True)
    return {name: _large(step, right, far / 2) for name, step in steps if step.length > far}


def _large(step: Vector, right: Vector, least: float) -> Vector:
    parts = [(way, step.dot(way)) for way in (right, right.left()) if abs(step.dot(way)) >= least]
    return Vector(sum(way.east * size for way, size in parts), sum(way.north * size for way, size in parts))


def _moves(layout: Layout, corners: Sequence[Deviation], way: _Way, far: float) -> str:
    """Where corners that are farther off must go, as one says it in front of the slab."""
    write, right = layout.notation, layout.slab.form.pose.right
    steps = dict(zip((each.design.name for each in corners), way.moves, strict=True))
    return steps_words(steps, far, far / 2, right, write)


def _what(corners: Sequence[Deviation], lengths: Sequence[CheckedLength], write: Notation) -> str:
    """Out of square where the sides are right, else out of shape."""
    out = [each for each in lengths if each.kind != "tie" and each.answer == "out"]
    pair = max(square_pairs(lengths), key=lambda two: abs(two[0].measured - two[1].measured), default=None)
    if pair is not None and (out or pair_out(pair)) and all(each.kind == "diagonal" for each in out):
        return f"out of square and its sides are right: {differ_words(pair, write)}"
    if not out:
        return f"out of shape, {_worst(corners, write)}, while each side and diagonal is within tolerance"
    worst = max(out, key=lambda each: abs(each.difference))
    longer = "long" if worst.difference > 0 else "short"
    return f"out of shape: {worst.kind} {worst.start}-{worst.end} is {write.small(abs(worst.difference))} {longer}"


def _worst(corners: Sequence[Deviation], write: Notation) -> str:
    """The corner that lies worst when the drawing is laid over those measured, and how far off."""
    placement = placement_of(corners)
    name, rest = max(placement.shape if placement else (), key=lambda each: each[1].length)
    return f"{name} by {write.small(rest.length)}"


def _ways(corners: Sequence[Deviation]) -> Iterator[_Way]:
    """Each corner to its place; and one corner held with the line to another."""
    yield _Way((), tuple(vector(each.measured.at, each.design.at) for each in corners))
    design, measured = [each.design.at for each in corners], [each.measured.at for each in corners]
    for hold in range(len(corners)):
        for toward in ((hold + 1) % len(corners), hold - 1):
            try:
                move = hold_and_turn(design, measured, hold, toward % len(corners))
            except ValueError:
                continue
            yield _Way((hold, toward % len(corners)), tuple(_steps(move, design, measured)))


def _steps(move: Similarity, design: Sequence[Point], measured: Sequence[Point]) -> Iterator[Vector]:
    return (vector(there, move.apply(wanted)) for wanted, there in zip(design, measured, strict=True))
