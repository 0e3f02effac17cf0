"""How is what was read of a description, and what was not, printed for somebody who compares it with the original?"""

from __future__ import annotations

from collections.abc import Iterator

from staking.findings import as_text
from staking.sitefile.descriptions.described import Description, ReadCourse, Unread
from staking.sitefile.descriptions.items import one_line


def as_report(description: Description) -> str:
    """The courses with the words each came from, the words that were not read, the stated area, and the findings."""
    return "\n".join(_lines(description)) + "\n"


def _lines(description: Description) -> Iterator[str]:
    for number, course in enumerate(description.tie, start=1):
        yield from _course(f"tie {number}", course)
    for number, course in enumerate(description.courses, start=1):
        yield from _course(str(number), course)
    for area in description.areas:
        yield f"stated area: {area.value} {area.unit}"
    if description.unread:
        yield "not read:"
    for piece in description.unread:
        yield from _unread(piece)
    for finding in description.findings:
        yield as_text(finding)


def _course(name: str, course: ReadCourse) -> Iterator[str]:
    yield f"{name:>6}  {understood(course)}"
    yield f'        from line {course.line}: "{_seen(course.words.text)}"'


def understood(course: ReadCourse) -> str:
    """A course in one line.

    >>> from staking.sitefile.descriptions.reading import read_description
    >>> understood(read_description("thence along a curve to the left, radius 60 feet, arc 47.12 feet").courses[0])
    'curve to the left, radius 60 ft, arc 47.12 ft'
    """
    fields = course.fields
    if course.kind == "line":
        said = [
            fields.get("bearing") or (f"azimuth {fields['azimuth']}" if "azimuth" in fields else "bearing not read")
        ]
        said.append("to the beginning" if course.to_start else fields.get("length", "distance not read"))
        return ", ".join(said)
    turn = f"curve to the {fields['turn']}" if "turn" in fields else "curve, left or right not read"
    rest = [f"{key.replace('_', ' ')} {value}" for key, value in fields.items() if key != "turn"]
    return ", ".join([turn, *rest, *(f"{key} not read" for key in course.missing if key != "turn")])


def _unread(piece: Unread) -> Iterator[str]:
    yield f'  {piece.words.line}:{piece.words.column}  "{_seen(piece.words.text)}": {piece.why}'
    if piece.remedy:
        yield f"    -> {piece.remedy}"


def _seen(text: str) -> str:
    return "".join(sign if sign.isprintable() else "\ufffd" for sign in one_line(text))
