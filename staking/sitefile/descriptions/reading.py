"""Which courses does a pasted description of a lot give, from which words, and what of it cannot be read?"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from staking.findings import Finding, Place, Severity
from staking.sitefile.descriptions.call import Call
from staking.sitefile.descriptions.calls import Calls, read_calls
from staking.sitefile.descriptions.curves import Curve, read_curve
from staking.sitefile.descriptions.described import Description, ReadCourse, StatedArea, Unread, Words
from staking.sitefile.descriptions.items import Item, made_plain, one_line
from staking.sitefile.descriptions.measures import said_units
from staking.sitefile.descriptions.scan import scanned
from staking.sitefile.descriptions.unread import Source, left_over
from staking.sitefile.descriptions.words import PARCEL

LONGEST = 100_000  # characters; a description of a thousand courses is shorter
MOST_BLANKS = 500  # in a row; no page is as wide, and endless blanks cost time

CODES: Mapping[str, str] = MappingProxyType(
    {
        "description-long": "The text is longer than any description of one lot, or holds endless blanks.",
        "description-empty": "No course was found in the text.",
        "description-parcels": "The text describes more than one parcel.",
        "description-exception": "The text excepts a part from what it describes.",
        "description-incomplete": "A course lacks something that its record needs.",
        "description-open": "A course leaves something open that changes where it runs.",
        "description-commencing": "The text starts away from the lot, and does not say where the lot begins.",
        "description-magnetic": "The text speaks of magnetic directions; bearings are kept as printed.",
        "description-taken": "Something was put together or taken from other words; the message says how.",
    }
)
"""Every code of a finding about a description, and what it means."""

_TAIL = re.compile(r"[\s;,.]+(?:and)?\s*$", re.IGNORECASE)
_BESIDE = "it stands beside the course, which was read without it"


def read_description(text: str, *, file: str = "description") -> Description:
    """What a description by courses says, with the words of each course; nothing is guessed.

    text: as pasted, with any line ends. file: the name that findings give as their place. Courses are kept as they are
    printed: their digits, their units, their order. What cannot be read is listed in `unread`, what is missing or open
    is a finding, and a text that is not the description of one parcel has a finding that says stop, and no courses.

    >>> read_description("Thence N 12-30-15 E 102.50 feet").courses[0].fields["length"]
    '102.50 ft'
    """
    source = Source(text, file)
    if len(text) > LONGEST or re.search(rf"\s{{{MOST_BLANKS}}}", text):
        message = f"the text has more than {LONGEST} characters, or {MOST_BLANKS} blanks in a row"
        return _refused((), Finding("description-long", Severity.STOP, message, remedy="paste one description"))
    plain = made_plain(text)
    items = scanned(plain, said_units(plain))
    read = read_calls(plain, items, said_units(plain))
    return _Story(source, plain, items, read).told()


def _refused(unread: tuple[Unread, ...], *findings: Finding) -> Description:
    return Description((), (), unread, (), "", findings)


@dataclass(frozen=True)
class _Story:
    """The calls of a description, and the text that they stand in."""

    source: Source
    plain: str
    items: tuple[Item, ...]
    read: Calls

    def told(self) -> Description:
        calls = tuple(call for call in self.read.calls if self._is_course(call))
        if stop := self._stop(calls):
            words = tuple(Unread(w, f.message, f.remedy) for f, w in stop)
            return _refused(words, *(finding for finding, _ in stop))
        count = self._ties(calls)
        courses, notes = self._courses(calls, count)
        findings = (*self._of_whole(count), *self._of_courses(courses, count), *notes)
        areas = tuple(StatedArea(*item.value.split(" ", 1)) for item in self.read.areas)
        unread = tuple(sorted(self._unread(calls, courses), key=lambda piece: piece.words.start))
        return Description(courses[count:], courses[:count], unread, areas, _unit(courses), findings)

    # -- which calls are courses

    def _is_course(self, call: Call) -> bool:
        """Not what stands before the first course, or between courses and names nothing."""
        if call.started:
            return True
        said = call.ends or any(call.start < at < call.end for at in self.read.loose)
        return call.marker == "strong" and (said or bool(call.refused))

    def _ties(self, calls: tuple[Call, ...]) -> int:
        """How many of the first calls lead from a point of commencement to the point of beginning."""
        tied = next((number for number, call in enumerate(calls) if not call.tie_from), len(calls))
        if not self.read.commenced:
            return tied
        again = next((number for number, call in enumerate(calls) if number and self._begun(calls, number)), 0)
        arrived = next((number + 1 for number, call in enumerate(calls[:-1]) if call.ends), 0)
        return min((count for count in (again, arrived) if count), default=tied)

    def _begun(self, calls: tuple[Call, ...], number: int) -> bool:
        """Whether the words `beginning at` stand between a call and the one before it."""
        between = [c for c in self.read.calls if calls[number - 1].start < c.start <= calls[number].start]
        return any(call.marker == "begin" for call in between)

    def _stop(self, calls: tuple[Call, ...]) -> tuple[tuple[Finding, Words], ...]:
        """Why the text is not the description of one parcel by courses."""
        found = [*self._exceptions(), *self._parcels(calls)]
        if not found and not any(call.started for call in calls):
            words = self.source.words(0, len(self.source.text))
            message = "no course was found: no bearing with a distance, no curve"
            remedy = "paste the words from the point of beginning on, as `thence N 12-30-15 E 102.50 feet`"
            found = [(Finding("description-empty", Severity.STOP, message, remedy=remedy), words)]
        return tuple(found)

    def _exceptions(self) -> Iterator[tuple[Finding, Words]]:
        for item in self.read.exceptions:
            words = self.source.words(item.start, item.end)
            message = f"`{one_line(words.text)}` takes a part away from what is described; only a whole parcel is read"
            remedy = "give the courses of the parcel that remains"
            yield Finding("description-exception", Severity.STOP, message, self.source.place(words), remedy), words

    def _parcels(self, calls: tuple[Call, ...]) -> Iterator[tuple[Finding, Words]]:
        heads = {
            (found["kind"] or "", found["which"] or found["order"]): found for found in PARCEL.finditer(self.plain)
        }
        if len(heads) > 1:
            second = list(heads.values())[1]
            yield self._two_parcels(second.start(), second.end(), "more than one parcel is described")
            return
        ends = [number for number, call in enumerate(calls) if call.ends]
        first = self._ties(calls)
        closed = next((number for number in ends if number >= first), len(calls))
        later = next((call for call in calls[closed + 1 :] if call.directed or call.curve), None)
        if later is not None:
            why = "the courses are back at the beginning, and more courses follow: another parcel, or a tie?"
            yield self._two_parcels(later.start, later.end, why)

    def _two_parcels(self, start: int, end: int, message: str) -> tuple[Finding, Words]:
        start += len(self.plain[start:end]) - len(self.plain[start:end].lstrip())
        words = self.source.words(start, end)
        remedy = "paste the text of one parcel only, and say `commencing at` where the first courses only lead to it"
        return Finding("description-parcels", Severity.STOP, message, self.source.place(words), remedy), words

    # -- courses

    def _courses(self, calls: tuple[Call, ...], ties: int) -> tuple[tuple[ReadCourse, ...], tuple[Finding, ...]]:
        courses: list[ReadCourse] = []
        notes: list[Finding] = []
        for number, call in enumerate(calls):
            before = courses[-1] if courses else None
            words = self._words(call)
            if call.curve:
                curve = read_curve(call, self.plain, before)
                courses.append(_curve_course(curve, words))
                said = curve.notes
            else:
                last = number == len(calls) - 1
                courses.append(_line_course(call, words, last=last))
                closing = courses[-1].to_start and not call.ends
                said = ("the last course gives no distance: it is taken to run to the beginning",) if closing else ()
            pieces = (*call.given.values(),)
            for note in (*said, *(item.note for item in pieces if item.note)):
                message = f"{course_name(number, ties)}: {note}"
                notes.append(
                    Finding(
                        "description-taken", Severity.NOTE, message, Place(self.source.file, words.line, words.column)
                    )
                )
        return tuple(courses), tuple(notes)

    def _words(self, call: Call) -> Words:
        text = _TAIL.sub("", self.source.text[call.start : call.end])
        return self.source.words(call.start, call.start + len(text))

    def _of_whole(self, ties: int) -> Iterator[Finding]:
        if self.read.commenced and not ties:
            message = "the text starts away from the lot and does not say where the lot begins: all courses are sides"
            yield Finding(
                "description-commencing", Severity.STRONG, message, remedy="strike the courses that only lead to it"
            )
        if statement := next((item for item in self.items if item.kind == "statement"), None):
            words = self.source.words(statement.start, statement.end)
            message = f"`{one_line(words.text)}`: bare numbers are lengths in {statement.value}"
            feet = ", and so are feet" if statement.value == "ftUS" else ""
            yield Finding("description-taken", Severity.NOTE, message + feet, self.source.place(words))
        for item in self.read.magnetic[:1]:
            words = self.source.words(item.start, item.end)
            message = (
                f"the text says `{one_line(words.text)}`: bearings are kept as printed, and no declination is applied"
            )
            yield Finding("description-magnetic", Severity.WARNING, message, self.source.place(words))

    def _of_courses(self, courses: tuple[ReadCourse, ...], ties: int) -> Iterator[Finding]:
        for number, course in enumerate(courses):
            place = Place(self.source.file, course.words.line, course.words.column)
            name = course_name(number, ties)
            if course.missing:
                needs = " and ".join(f"no {_KEY_WORDS[key]}" for key in course.missing)
                message = f"{name} has {needs} that can be read: `{_short(course.words.text)}`"
                yield Finding("description-incomplete", Severity.STRONG, message, place, "write what the original says")
            for question in course.open:
                yield Finding("description-open", Severity.WARNING, f"{name} leaves open {question}", place)

    # -- what was not read

    def _unread(self, calls: tuple[Call, ...], courses: tuple[ReadCourse, ...]) -> Iterator[Unread]:
        by_start = {call.start: course for call, course in zip(calls, courses, strict=True)}
        for call in self.read.calls:
            for item in call.refused:
                yield Unread(self.source.words(item.start, item.end), item.why, item.remedy)
            course = by_start.get(call.start)
            inside = tuple(item for item in self.items if call.start <= item.start < call.end)
            if course is not None and "bearing" in course.missing and "bearing" not in call.lost:
                yield from self._nameless(inside, call)
            else:
                yield from left_over(self.source, inside, self.read.loose, _why_left(course))

    def _nameless(self, inside: tuple[Item, ...], call: Call) -> Iterator[Unread]:
        """Of a call without a bearing the words that stand where the bearing should."""
        length = call.given.get("length")
        words = [i for i in inside if i.kind not in ("strong", "weak", "numbered", "sign", "for", "beginning")]
        front = [i for i in words if length is None or i.end <= length.start]
        why = "it names no bearing, so the course cannot be laid out"
        remedy = "have it measured, or find a bearing and a distance for it"
        if call.ends and not call.given and all(i.kind == "filler" for i in front):
            return
        for group in (front, [i for i in words if length is not None and i.start >= length.end]):
            loose = frozenset(i.start for i in group if i.start in self.read.loose or group is front)
            for piece in left_over(self.source, tuple(group), loose, why if group is front else _BESIDE):
                yield Unread(piece.words, piece.why, remedy if group is front else "")


def _why_left(course: ReadCourse | None) -> str:
    if course is None:
        return "it belongs to no course"
    return "it is not understood" if course.missing else _BESIDE


_KEY_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "bearing": "bearing",
        "length": "distance",
        "turn": "word for left or right",
        "radius": "radius",
        "arc": "second measure",
    }
)


def course_name(number: int, ties: int) -> str:
    """What a course is called: ties and sides are counted apart, from 1."""
    return f"tie {number + 1}" if number < ties else f"course {number - ties + 1}"


def _short(text: str) -> str:
    line = one_line(text)
    return line if len(line) <= 80 else f"{line[:77]}..."


def _curve_course(curve: Curve, words: Words) -> ReadCourse:
    return ReadCourse("curve", curve.fields, words, missing=curve.missing, open=curve.open, tangent=curve.tangent)


def _line_course(call: Call, words: Words, *, last: bool) -> ReadCourse:
    keys: tuple[str, ...] = ("bearing", "azimuth", "length")
    fields = {key: call.given[key].value for key in keys if key in call.given}
    to_start = not call.measured and (call.ends or (last and call.directed))
    missing = [] if {"bearing", "azimuth"} & fields.keys() else ["bearing"]
    if "length" not in fields and not to_start:
        missing.append("length")
    return ReadCourse("line", MappingProxyType(fields), words, to_start=to_start, missing=tuple(missing))


def _unit(courses: tuple[ReadCourse, ...]) -> str:
    """The one unit of all lengths; empty where there are several or none."""
    keys = ("length", "radius", "arc", "chord", "tangent")
    units = {course.fields[key].split(" ")[1] for course in courses for key in keys if key in course.fields}
    return units.pop() if len(units) == 1 else ""
