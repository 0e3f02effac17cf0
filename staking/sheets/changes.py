"""The sheet of what changed: what to pull, what to set, what to mark anew, and what may stay."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from staking.drawing.changes import changes_drawing
from staking.findings import Severity
from staking.layout.changed import STAYS, Changes, Followed, Given
from staking.layout.changes_found import listed
from staking.layout.moves import toward
from staking.layout.revision import Revision
from staking.sheets.cautions import ALWAYS
from staking.sheets.changes_rows import (
    by_strings,
    height_words,
    heights,
    how_far,
    room_rows,
    size_rows,
    verdict,
    which_way,
    whole_words,
)
from staking.sheets.heads import FOOT_WORDS, finding_lines, overruled
from staking.sheets.page import Block, Bullets, Cautions, Heading, Paragraph, Picture, Sheet, Signatures, Table

CHANGE_CAUTIONS = (
    "Pull every old stake that this sheet names, and fill the holes, before anyone strings from the new ones. Where "
    "stakes of two revisions stand together, nothing on the lot tells them apart.",
    "Gather every older sheet and list of this job. Destroy it, or write SUPERSEDED across each page and keep it out "
    "of the crew's hands; delete the old list from the instrument.",
)


def changes_sheet(changes: Changes) -> Sheet:
    """The sheet."""
    blocks: list[Block] = [
        Heading("In short"),
        Paragraph(f"{_sentence(verdict(changes))}. {_sentence(whole_words(changes))}.", strong=True),
        Paragraph(_measure(changes)),
        *_found(changes),
        Cautions((*CHANGE_CAUTIONS, *ALWAYS)),
        *_given(changes),
        Picture(changes_drawing(changes), _CAPTION, 300),
        *_pull(changes),
        *_moved(changes),
        *_fresh(changes),
        *_renamed(changes),
        *_regraded(changes),
        *_stay(changes),
        *_sizes(changes),
        *_rooms(changes),
        Signatures(("Old stakes pulled by", "New stakes set by", "Checked by (not the one who set them)")),
    ]
    return Sheet("What changed", _facts(changes), tuple(blocks), _foot(changes), overruled(changes.new.despite))


_CAPTION = (
    "Dashed: the old outline. Heavy: the new one. A cross: pull it. A triangle: set it. A ring: it stays. Arrows show "
    "which way and how far; short ones are drawn longer. North is up."
)


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"


def _facts(changes: Changes) -> tuple[tuple[str, str], ...]:
    old, new = changes.old, changes.new
    system = f"{new.system.crs}, {new.system.values} values" if new.system.crs else "local, assumed"
    pairs = (
        ("Job", new.job),
        ("Lot", new.lot_words),
        ("Old", _which(old)),
        ("New", _which(new)),
        ("Lengths", f"{FOOT_WORDS[new.system.unit.name]}, on the ground, level"),
        ("Coordinates", system),
    )
    return tuple((label, value) for label, value in pairs if value)


def _which(revision: Revision) -> str:
    return f"{_sentence(revision.words)}; {revision.site_file}, fingerprint {revision.fingerprint[:12]}"


def _foot(changes: Changes) -> str:
    old, new = changes.old, changes.new
    marks = f"{old.fingerprint[:12]} to {new.fingerprint[:12]}"
    return f"{new.job} | revision {old.revision} to {new.revision} | site file {marks} | not a boundary survey"


def _measure(changes: Changes) -> str:
    """What counts as unmoved, and why."""
    return (
        f"A stake that moved by {changes.new.notation.allowance(STAYS)} or less counts as unmoved: half of what the "
        "tape sheet allows a length under 10 ft (own choice). Stakes are compared by what they are for, not by their "
        "names alone."
    )


def _found(changes: Changes) -> Iterator[Block]:
    if lines := finding_lines(changes.findings, Severity.NOTE):
        yield Heading("Know this first")
        yield Bullets(lines)


def _given(changes: Changes) -> Iterator[Block]:
    """Given points that moved or changed their height, before anything that hangs on them; not where all did alike."""
    points = changes.control_changed
    if not points or changes.shifted is not None:
        return
    write = changes.new.notation
    rows = tuple(
        (
            point.name,
            write.length(point.move.length),
            toward(write, point.move) if point.move.length > STAYS else "-",
            _rise(changes, point),
        )
        for point in points
    )
    yield Heading("Given points with other figures")
    yield Paragraph("Measure them again before anything is set from them; what was set from them moved with them.")
    yield Table(("point", "moved", "toward", "height"), rows, (1, 1, 1.6, 1.2))


def _rise(changes: Changes, point: Given) -> str:
    if point.rise is None or abs(point.rise) <= STAYS:
        return "-"
    return f"{changes.new.notation.length(abs(point.rise))} {'higher' if point.rise > 0 else 'lower'}"


def _pull(changes: Changes) -> Iterator[Block]:
    if not changes.gone:
        return
    rows = tuple((stake.name, stake.note, "") for stake in changes.gone)
    yield Heading(f"Gone: pull these ({len(rows)})")
    yield Paragraph("They are for nothing any more. Fill the holes.")
    yield Table(("old stake", "what it was", "pulled"), rows, (0.8, 4.4, 0.8), to_fill=frozenset({2}))


def _moved(changes: Changes) -> Iterator[Block]:
    """Those that moved with the whole slab, its way said once; then those that moved by a way of their own."""
    if not changes.moved:
        return
    if changes.together:
        yield Heading(f"Moved with the whole slab: pull the old one, set the new one ({len(changes.together)})")
        yield Paragraph(f"{_sentence(whole_words(changes))}. {_PULL_FIRST}")
        yield _ways(changes, changes.together, each_its_own=changes.whole is None or changes.whole.turned)
    if changes.otherwise:
        how = "Moved otherwise" if changes.together else "Moved"
        yield Heading(f"{how}: pull the old one, set the new one ({len(changes.otherwise)})")
        yield Paragraph(_PULL_FIRST)
        yield _ways(changes, changes.otherwise, each_its_own=True)


_PULL_FIRST = (
    "Pull them all before the first new one is driven. How far each moved is there to check by, not to set by: "
    "measure new places from the given points and lines. In and out are square to the old wall line; out is away "
    "from the slab. A direction is given as fine as it is known over so short a way."
)


def _ways(changes: Changes, stakes: Sequence[Followed], *, each_its_own: bool) -> Table:
    """A row a stake. each_its_own: with how far and which way, which need no column where all are the same."""
    said = not each_its_own and changes.lifted is not None
    rows = tuple(_way(changes, each, each_its_own=each_its_own, height=not said) for each in stakes)
    if not each_its_own:
        plain = ("stake", "what it is", "by the old strings", "old pulled", "new set")
        return Table(plain, rows, (0.7, 2.8, 2.6, 0.6, 0.6), to_fill=frozenset({3, 4}))
    head = ("stake", "what it is", "moved", "toward", "by the old strings", "old pulled", "new set")
    return Table(head, rows, (0.6, 2.1, 0.85, 1.15, 2.2, 0.6, 0.6), frozenset({2}), frozenset({5, 6}))


def _way(changes: Changes, each: Followed, *, each_its_own: bool, height: bool) -> tuple[str, ...]:
    name = f"{each.new.name} (was {each.old.name})" if each.renamed else each.new.name
    higher = f"concrete {height_words(changes, each)}" if each.other_height and height else ""
    way = (how_far(changes, each), which_way(changes, each)) if each_its_own else ()
    return name, each.new.note, *way, "; ".join(filter(None, (by_strings(changes, each), higher))) or "-", "", ""


def _fresh(changes: Changes) -> Iterator[Block]:
    if not changes.fresh:
        return
    rows = tuple((stake.name, stake.note, "") for stake in changes.fresh)
    yield Heading(f"New: set these ({len(rows)})")
    yield Paragraph("Once every old one is pulled, from the given points and lines, by the new sheets.")
    yield Table(("stake", "what it is", "set"), rows, (0.8, 4.4, 0.8), to_fill=frozenset({2}))


def _renamed(changes: Changes) -> Iterator[Block]:
    if not changes.renamed:
        return
    rows = tuple((it.old.name, it.new.name, it.new.note, "") for it in changes.renamed)
    yield Heading(f"Write a new name on these ({len(rows)}); they stay where they are")
    yield Paragraph("Take the old lath off first: a stake with two names is read by the wrong one.")
    yield Table(("old name", "new name", "what it is", "written"), rows, (0.8, 0.8, 3.6, 0.8), to_fill=frozenset({3}))


def _regraded(changes: Changes) -> Iterator[Block]:
    if not changes.regraded:
        return
    rows = tuple(
        (it.new.name, it.new.note, *heights(changes, it), height_words(changes, it), "") for it in changes.regraded
    )
    yield Heading(f"Strike out cut and fill on these ({len(rows)}), and mark them anew")
    yield Paragraph(f"Design heights in {changes.new.notation.unit_words}.")
    head = ("stake", "what it is", "was", "is", "concrete", "done")
    yield Table(head, rows, (0.7, 2.8, 1.0, 1.0, 1.2, 0.6), frozenset({2, 3}), frozenset({5}))


def _stay(changes: Changes) -> Iterator[Block]:
    yield Heading("These stay as they are")
    names = listed([each.new.name for each in changes.staying])
    yield Paragraph(names or "None.")


def _sizes(changes: Changes) -> Iterator[Block]:
    if rows := tuple(size_rows(changes)):
        yield Heading("Sizes")
        yield Table(("of", "was", "is", "difference"), rows, (2.2, 1.3, 1.3, 1.5), frozenset({1, 2, 3}))


def _rooms(changes: Changes) -> Iterator[Block]:
    if rows := tuple(room_rows(changes)):
        yield Heading("Room to lines and areas")
        yield Table(("to", "spare was", "spare is", ""), rows, (2.4, 1.2, 1.2, 1.6), frozenset({1, 2}))
        yield Paragraph("A setback has no plus tolerance; the authority's word goes before this sheet.")
