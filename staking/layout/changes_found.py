"""What must be known before anybody drives a stake by a new revision: the dangerous changes, in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from types import MappingProxyType

from staking.findings import Finding, Severity
from staking.layout.changed import STAYS, Changes, Given, is_turned
from staking.layout.meanings import Pair
from staking.layout.moves import toward, turned_by
from staking.survey.points import distance

CODES: Mapping[str, str] = MappingProxyType(
    {
        "changes-backwards": "The new revision is dated before the old one. The two may be named in the wrong order.",
        "changes-other-job": "The two files bear different names of the job. Stakes of two jobs are not revisions of "
        "one another.",
        "changes-no-control": "No given point is in both revisions, so nothing shows that their coordinates mean the "
        "same ground.",
        "changes-together": "The coordinates of all given points changed together, as when a local system begins "
        "elsewhere. The ground did not move: old stakes are compared by where they stand between the given points. An "
        "instrument that holds the old list sets every stake wrong.",
        "changes-control": "Given points have other coordinates or elevations, and others have not, or not in the same "
        "way. What was set from such a point moved with it. The program cannot tell which figure is right.",
        "changes-benchmark": "All given elevations changed by the same. Heights are compared against the benchmarks, "
        "as the rod reads them.",
        "changes-unit": "The site file is in another unit, so that the same figure means another length.",
        "changes-vertical": "What the site file says of its heights changed. Heights are compared as if they were of "
        "one system.",
        "changes-factor": "The combined factor changed. Both revisions are laid on the ground by the new one.",
        "changes-corner-numbers": "The outline stands where it stood, but its corners are numbered from another one, "
        "so that every corner stake changes its name.",
        "changes-name-reused": "A name stands for something else than in the old revision: stake 103 was a corner and "
        "is an offset now. A crew that reads the old lath builds to the wrong mark.",
        "changes-in-the-way": "An old stake stands within a foot of the place where a stake of another name is wanted, "
        "and can be taken for it.",
        "changes-pull": "Old stakes that moved or are for nothing any more. Anybody who finds them standing will "
        "string from them.",
        "changes-heights": "Stakes stay where they are, but their design height changed: what was written on them of "
        "cut and fill is void.",
        "changes-crossed": "The new revision is nearer to a line than is required, and the old one was not.",
        "changes-same-letter": "Stakes changed, and both files bear the same revision. Sheets of the two cannot be "
        "told apart on the lot.",
    }
)

_NAMED = 12  # names in a sentence; more are counted


def changes_found(changes: Changes) -> Iterator[Finding]:
    """The findings, the ground first, then names, stakes, heights and lines."""
    for part in (_about, _control, _systems, _names, _stakes, _crossed):
        yield from part(changes)


def listed(words: Sequence[str]) -> str:
    """Words in a row, numbers that follow one another as a range, what is beyond a dozen counted.

    >>> listed(["101", "102", "103", "201", "A"])
    '101 to 103, 201, A'
    """
    runs: list[list[str]] = []
    for word in words:
        if runs and _follows(runs[-1][-1], word):
            runs[-1].append(word)
        else:
            runs.append([word])
    shown = [part for run in runs for part in (run if len(run) < 3 else [f"{run[0]} to {run[-1]}"])]
    more = len(shown) - _NAMED
    return ", ".join(shown[:_NAMED]) + (f" and {more} more" if more > 0 else "")


def _follows(one: str, other: str) -> bool:
    return one.isdecimal() and other.isdecimal() and int(other) == int(one) + 1


def _about(changes: Changes) -> Iterator[Finding]:
    old, new = changes.old, changes.new
    if old.job != new.job:
        words = f'the old revision is of "{old.job}", the new one of "{new.job}"'
        yield Finding("changes-other-job", Severity.STRONG, words, remedy="name two revisions of one job")
    if old.date and new.date and new.date < old.date:
        words = f"the new revision is dated {new.date}, the old one {old.date}"
        yield Finding("changes-backwards", Severity.WARNING, words, remedy="name the old one first")
    if old.revision == new.revision and (changes.to_pull or changes.fresh or changes.renamed or changes.regraded):
        words = f"both say revision {new.revision}" if new.lettered else "neither says which revision it is"
        remedy = "give the new one a new letter: revision in [site]"
        yield Finding("changes-same-letter", Severity.STRONG, f"{words}, but stakes changed", remedy=remedy)


def _control(changes: Changes) -> Iterator[Finding]:
    write = changes.new.notation.length
    if not changes.given:
        yield Finding(
            "changes-no-control",
            Severity.STRONG,
            "no given point is in both revisions",
            remedy="see that both count their coordinates from the same marks",
        )
    if changes.shifted is not None:
        shift, turn = changes.shifted.shift, changes.shifted.turn
        way = f" toward {toward(changes.new.notation, shift)}" if shift.length else ""
        words = f"the coordinates of all {len(changes.given)} given points changed together, by {write(shift.length)}"
        reach = max(distance(changes.shifted.at, point.old) for point in changes.given)
        turned = f", turned by {turned_by(changes.new.notation, turn, reach)}" if is_turned(turn, reach) else ""
        yield Finding(
            "changes-together",
            Severity.STRONG,
            f"{words}{way}{turned}; stakes are compared by where they stand between them",
            remedy="load the new list of points and delete the old one; never set stakes by both",
        )
    elif own := [_point(changes, point) for point in changes.control_changed if _own(changes, point)]:
        yield Finding(
            "changes-control",
            Severity.STRONG,
            f"given points have other figures now: {listed(own)}",
            remedy="settle which is right and measure it again; whatever was set from such a point moved with it",
        )
    if changes.lift:
        way = "higher" if changes.lift > 0 else "lower"
        yield Finding(
            "changes-benchmark",
            Severity.STRONG,
            f"all given elevations are {write(abs(changes.lift))} {way} now; heights are compared against them",
            remedy="write the new elevation on every benchmark, and strike out the old one",
        )


def _own(changes: Changes, point: Given) -> bool:
    """Whether a point changed otherwise than all elevations together."""
    return point.move.length > STAYS or not changes.lift


def _point(changes: Changes, point: Given) -> str:
    notation = changes.new.notation
    words = []
    if point.move.length > STAYS:
        words.append(f"{notation.length(point.move.length)} toward {toward(notation, point.move)}")
    if point.rise is not None and abs(point.rise) > STAYS:
        words.append(f"{notation.length(abs(point.rise))} {'higher' if point.rise > 0 else 'lower'}")
    return f"{point.name} {' and '.join(words)}"


def _systems(changes: Changes) -> Iterator[Finding]:
    old, new = changes.old.system, changes.new.system
    if old.unit != new.unit:
        words = f"the old revision is in {old.unit.words}, the new one in {new.unit.words}"
        yield Finding("changes-unit", Severity.WARNING, words, remedy="say the unit with every figure on the lot")
    if old.vertical != new.vertical:
        words = f'heights were "{old.vertical or "not said"}" and are "{new.vertical or "not said"}" now'
        remedy = "see that benchmarks and floor are of one system"
        yield Finding("changes-vertical", Severity.WARNING, words, remedy=remedy)
    if abs(old.factor - new.factor) > 1e-9:
        words = f"the combined factor was {old.factor:.9g} and is {new.factor:.9g} now"
        yield Finding("changes-factor", Severity.NOTE, words, remedy="set it in the instrument too")


def _names(changes: Changes) -> Iterator[Finding]:
    if changes.whole is not None and changes.whole.other_numbers:
        yield Finding(
            "changes-corner-numbers",
            Severity.STRONG,
            "the outline stands where it stood, but its corners have other numbers",
            remedy="read corner names off the new sheets only",
        )
    if changes.reused:
        old, new = changes.reused[0]
        words = (
            f"{_count(changes.reused, 'name')} for something else now: {listed([it.name for _, it in changes.reused])}"
        )
        yield Finding(
            "changes-name-reused",
            Severity.STRONG,
            f"{words}; {old.name} was {_what(old.kind, old.note)} and is {_what(new.kind, new.note)}",
            remedy="take every old lath off before the first new stake is driven, and delete the old list of points",
        )
    if changes.traps:
        yield Finding(
            "changes-in-the-way",
            Severity.STRONG,
            f"old stakes stand where others are wanted: {listed([_trap(changes, pair) for pair in changes.traps])}",
            remedy="pull them before the new ones are driven",
        )


def _count(things: Sequence[object], word: str) -> str:
    return f"{len(things)} {word}{' stands' if len(things) == 1 else 's stand'}"


def _what(kind: str, note: str) -> str:
    return f"{kind}, {note}" if note and not note.startswith(kind) else note or kind


def _trap(changes: Changes, pair: Pair) -> str:
    old, new = pair
    apart = distance(old.at, new.at)
    how = f"{changes.new.notation.length(apart)} from the place of" if apart > STAYS else "in the place of"
    return f"{old.name} {how} {new.name}"


def _stakes(changes: Changes) -> Iterator[Finding]:
    if changes.to_pull:
        names = [stake.name for stake in changes.to_pull]
        yield Finding(
            "changes-pull",
            Severity.WARNING,
            f"pull {len(names)} old stake{'s' * (len(names) != 1)} before anyone strings from them: {listed(names)}",
            remedy=f"fill the holes, and destroy every sheet of {changes.old.words} or write SUPERSEDED across it",
        )
    if changes.regraded:
        names = [each.old.name for each in changes.regraded]
        yield Finding(
            "changes-heights",
            Severity.WARNING,
            f"marks of cut and fill are void on stakes that stay: {listed(names)}{_rises(changes)}",
            remedy="strike the marks out and write new ones from the new sheet",
        )


def _rises(changes: Changes) -> str:
    """By how much, where it is the same at all of them."""
    rises = [each.rise for each in changes.regraded if each.rise is not None]
    if len(rises) < len(changes.regraded) or max(rises) - min(rises) > STAYS:
        return ""
    way = "higher" if rises[0] > 0 else "lower"
    return f"; the concrete is {changes.new.notation.length(abs(rises[0]))} {way}"


def _crossed(changes: Changes) -> Iterator[Finding]:
    for room in (each.either for each in changes.crossed):
        short = changes.new.notation.length(-room.room)
        yield Finding(
            "changes-crossed",
            Severity.STRONG,
            f"the new revision is {short} too near: {room.rule} {room.of}; the old one cleared it",
            remedy="move the slab back; `staking room` says where it clears",
        )
