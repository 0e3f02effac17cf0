"""Which slips of the pen keep TOML from reading a file, all of them, and how should the lines look?

The standard reader stops at the first mistake and names what it expected. This scan reads line by line, so that one
slip does not hide the next; where a line can be mended it says how, and the mended text can be read on.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import islice

from staking.sitefile.quoting import DOTTED_KEY, ValueScan

ENTRIES = (  # tables that may stand several times
    "point_files",
    "lot.courses",
    "keep_clear",
    "separations",
    "references",
    "stakes",
    "stakeout",
    "slab.parts",
    "slab.recesses",
    "slab.thickened",
    "slab.footings",
    "level_setups",
    "ground",
    "ground.break_lines",
    "reinforcement",
    "levels",
    "revisions",
    "features",
    "pairs",
    "second_system",
    "setup.shots",
    "on_earth",
)

_DOTTED = re.compile(DOTTED_KEY)
_STATEMENT = re.compile(rf"[ \t]*(?P<key>{DOTTED_KEY}(?=[ \t]*=)|[^=#\n]*)[ \t]*=")
_HEADER = re.compile(
    rf"[ \t]*(?P<open>\[{{1,2}})[ \t]*(?P<name>{DOTTED_KEY}(?=[ \t]*\])|[^\[\]#,=]*)"
    r"[ \t]*(?P<close>\]{0,2})[ \t]*(?:#.*)?$"
)
_COLON = re.compile(rf"[ \t]*(?P<key>{DOTTED_KEY})[ \t]*:[ \t]*(?P<value>.*)")
_BARE_HEADER = re.compile(r"[ \t]*\[{1,2}[A-Za-z_][A-Za-z0-9_.-]*\]{0,2}[ \t]*(?:#.*)?$")
MOST = 300  # slips that are looked for; a file with more is no site file
_LONGEST = 1000  # characters; nobody writes longer lines by hand
_LIKE_LATIN = str.maketrans("аеорсухАВЕКМНОРСТХіϳοΟαν", "aeopcyxABEKMHOPCTXijoOav")  # Cyrillic and Greek


@dataclass(frozen=True, slots=True)
class Slip:
    """A mistake in the writing. line counts from 1, start and end columns from 0.

    fix: the number of the line to be replaced, and its new text; None where nobody can know what was meant.
    """

    line: int
    start: int
    end: int
    message: str
    remedy: str = ""
    fix: tuple[int, str] | None = None


def find_slips(text: str) -> tuple[Slip, ...]:
    """The slips in a text that TOML cannot read, in file order, up to MOST; none in a text that it can read."""
    scan = _Scan(text.split("\n"))
    slips = list(islice(scan.slips(), MOST))
    whole = [replace(slip, fix=(slip.fix[0], scan.fixed[slip.fix[0]])) if slip.fix else slip for slip in slips]
    return tuple(sorted(whole, key=lambda slip: (slip.line, slip.start)))


def mended(text: str, slips: tuple[Slip, ...]) -> str:
    """The text with every line replaced that has a fix; no line is added or taken away."""
    lines = text.split("\n")
    for slip in slips:
        if slip.fix:
            lines[slip.fix[0] - 1] = slip.fix[1]
    return "\n".join(lines)


@dataclass
class _Scan:
    """What is known at the beginning of a line: brackets and texts that are open, tables and keys seen."""

    lines: list[str]
    open: list[tuple[str, int, int]] = field(default_factory=list)
    multi: tuple[str, int, int] | None = None
    last: int = 0  # the last line with a statement or a part of one
    table: str = ""
    tables: dict[str, int] = field(default_factory=dict)
    keys: dict[str, int] = field(default_factory=dict)
    fixed: dict[int, str] = field(default_factory=dict)  # lines as they should be; one may have several slips

    def slips(self) -> Iterator[Slip]:
        """Every slip, as it is met."""
        for slip in self._run():
            if slip.fix:
                self.fixed[slip.fix[0]] = slip.fix[1]
            yield slip

    def _run(self) -> Iterator[Slip]:
        for number, raw in enumerate(self.lines, start=1):
            line = raw.rstrip("\r")
            if self.multi:
                self._inside_text(line, number)
            elif line.strip() and len(line) <= _LONGEST and not line.lstrip().startswith("#"):
                yield from self._line(line, number)
                self.last = number
        yield from self._unclosed()
        if self.multi:
            delimiter, number, column = self.multi
            yield Slip(number, column, column + 3, f"the text that begins here is not closed with {delimiter}")

    def _inside_text(self, line: str, number: int) -> None:
        assert self.multi is not None  # noqa: S101 - the caller has looked
        end = line.find(self.multi[0])
        if end >= 0:
            self.multi = None
            while line[end : end + 1] == line[end + 3 : end + 4] and line[end]:
                end += 1
            scan = ValueScan(line, end + 3, number, self.open, values=1).run()
            self._note_text(scan, number)

    def _note_text(self, scan: ValueScan, number: int) -> None:
        if scan.multi:
            self.multi = (scan.multi, number, scan.line.rfind(scan.multi))

    def _line(self, line: str, number: int) -> Iterator[Slip]:
        statement = _STATEMENT.match(line)
        key = statement["key"].rstrip() if statement else ""
        if self.open and (_BARE_HEADER.match(line) or (_DOTTED.fullmatch(key) and self.open[-1][0] == "[")):
            yield from self._unclosed()
        if self.open:
            yield from self._values(line, 0, number)
        elif header := _HEADER.match(line):
            yield from self._header(line, number, header)
        elif (colon := _COLON.match(line)) and not _DOTTED.fullmatch(key):
            yield from self._colon(line, number, colon)
        elif statement:
            yield from self._statement(line, number, statement)
        else:
            yield self._no_sign(line, number)

    def _unclosed(self) -> Iterator[Slip]:
        """The innermost bracket that should have been closed before this line."""
        if self.open:
            sign, number, column = self.open[-1]
            closing = "".join({"[": "]", "{": "}"}[bracket] for bracket, _, _ in reversed(self.open))
            self.open.clear()
            mended_line = _without_comment(self.fixed.get(self.last, self.lines[self.last - 1])) + closing
            remedy = f"write   {mended_line.strip()}"
            yield Slip(number, column, column + 1, f"the {sign} is not closed", remedy, (self.last, mended_line))

    def _values(self, line: str, at: int, number: int) -> Iterator[Slip]:
        scan = ValueScan(line, at, number, self.open).run()
        self._note_text(scan, number)
        if scan.faults:
            yield _slip_of_values(scan, number)
        if self.open and self.open[-1][0] == "{" and not scan.multi:
            yield self._broken_table(line[: scan.end], number)

    def _broken_table(self, line: str, number: int) -> Slip:
        _, begun, column = self.open[-1]
        more = line.rstrip().endswith((",", "{"))
        fix = None if more else line.rstrip() + "}" * sum(sign == "{" for sign, _, _ in self.open)
        self.open[:] = [] if more else [each for each in self.open if each[0] != "{"]
        remedy = f"write   {fix.strip()}" if fix else "close it with } on the line on which it begins"
        return Slip(
            begun, column, column + 1, "the { is not closed on its line", remedy, (number, fix) if fix else None
        )

    def _header(self, line: str, number: int, found: re.Match[str]) -> Iterator[Slip]:
        name = found["name"].rstrip()
        start, end = found.start("open"), max(found.end("name"), found.end("close"))
        if not name or not _DOTTED.fullmatch(name):
            better = name.strip().replace(" ", "_").translate(_LIKE_LATIN)
            wrong = f"this is no name of a table{_odd_letter(name)}"
            yield self._header_slip(line, (number, start, end), wrong, better)
        elif len(found["open"]) != len(found["close"]):
            yield self._header_slip(line, (number, start, end), "the brackets of this table do not match", name)
        elif len(found["open"]) == 1 and name in self.tables:
            yield self._table_again(name, (number, start, end))
        self.table = name
        self.keys.clear()
        self.tables.setdefault(name, number)

    def _header_slip(self, line: str, where: tuple[int, int, int], message: str, name: str) -> Slip:
        number, start, end = where
        twice = name in ENTRIES
        fixed = f"{line[:start]}{'[[' if twice else '['}{name}{']]' if twice else ']'}"
        fix = (number, fixed) if _DOTTED.fullmatch(name) else None
        return Slip(number, start, end, message, f"write   {fixed.strip()}" if fix else "", fix)

    def _table_again(self, name: str, where: tuple[int, int, int]) -> Slip:
        first = self.tables[name]
        remedy = f"write [[{name}]] for each entry" if name in ENTRIES else "move its keys to the first one"
        return Slip(*where, f"the table [{name}] stands twice; first on line {first}", remedy)

    def _statement(self, line: str, number: int, found: re.Match[str]) -> Iterator[Slip]:
        key = found["key"].rstrip()
        if not _DOTTED.fullmatch(key):
            yield self._bad_key(line, number, found)
            self._note_text(ValueScan(line, found.end(), number, self.open).run(), number)
        elif key in self.keys:
            where = f" in [{self.table}]" if self.table else ""
            message = f'the key "{key}" stands twice{where}; first on line {self.keys[key]}'
            start = found.start("key")
            yield Slip(number, start, start + len(key), message, "keep one of the two", (number, ""))
        else:
            self.keys[key] = number
            yield from self._values(line, found.end(), number)

    def _bad_key(self, line: str, number: int, found: re.Match[str]) -> Slip:
        key = found["key"].rstrip()
        start = found.start("key")
        end = start + max(1, len(key))
        latin = key.translate(_LIKE_LATIN)
        better = latin if _DOTTED.fullmatch(latin) else '"' + key.strip("\"'“”") + '"'
        odd = _odd_letter(key)
        message = f"this is no plain key{odd}" if odd else "a key with blanks or signs must stand in quotes"
        if not key:
            message = "there is no key before the ="
        fixed = line[:start] + better + line[end:]
        values = ValueScan(fixed, fixed.index("=", len(better)) + 1, number, []).run() if key else None
        if values is None or values.faults:
            return Slip(number, start, end, message)
        return Slip(number, start, end, message, f"write   {fixed[: values.end].strip()}", (number, fixed))

    def _colon(self, line: str, number: int, found: re.Match[str]) -> Iterator[Slip]:
        at = found.end("key")
        start = line.index(":", at)
        fixed = f"{line[: found.end('key')]} = {found['value']}"
        self.keys.setdefault(found["key"], number)
        scan = ValueScan(fixed, found.end("key") + 2, number, self.open).run()
        slip = _slip_of_values(scan, number) if scan.faults else None
        fix = slip.fix if slip else (number, fixed)
        remedy = slip.remedy if slip else f"write   {fixed[: scan.end].strip()}"
        yield Slip(number, start, start + 1, "between a key and its value stands =, not :", remedy, fix)

    def _no_sign(self, line: str, number: int) -> Slip:
        text = _without_comment(line)
        start = len(line) - len(line.lstrip())
        first, _, rest = text.strip().partition(" ")
        remedy = f"write   {first} = {rest.strip()}" if _DOTTED.fullmatch(first) and rest else "put a # before notes"
        return Slip(number, start, len(text), "this is neither a [table] nor a key = value", remedy)


def _slip_of_values(scan: ValueScan, number: int) -> Slip:
    """The first bad value of a line, with the line as it should be, mended throughout."""
    first = scan.faults[0]
    lines = [_mended_line(scan, which) for which in range(max(1, len(first.ways)))]
    reasons = [reason for _, reason in first.ways] or [""]
    if not all(fault.ways for fault in scan.faults):
        return Slip(number, first.start, first.end, first.message, _without_way(first.message))
    shown = [line.strip() for line, _ in lines]
    widest = max(map(len, shown))
    remedy = "\n".join(
        f"{'or' if which else 'write':7} {line:{widest}}{f'  ({reason})' if reason else ''}".rstrip()
        for which, (line, reason) in enumerate(zip(shown, reasons, strict=True))
    )
    return Slip(number, first.start, first.end, first.message, remedy, (number, lines[0][1]))


def _without_way(message: str) -> str:
    if "comma" in message:
        return "write a point before decimals, 12.5, and nothing between thousands, 1234.5"
    return "begin a new line for the next key" if "behind" in message else "write a value, or delete the line"


def _mended_line(scan: ValueScan, which: int) -> tuple[str, str]:
    """The line without and with its comment, every fault written in its first way, the first one in way `which`."""
    line, end = scan.line, scan.end
    for fault in reversed(scan.faults):
        if fault.ways:
            way = fault.ways[which if fault is scan.faults[0] else 0][0]
            line = line[: fault.start] + way + line[fault.end :]
            end += len(way) - (fault.end - fault.start)
    return line[:end], line


def _without_comment(line: str) -> str:
    """A line up to the # that is outside quotes, as far as one can tell."""
    found = re.match(r"""(?:"(?:\\.|[^"\\])*"|'[^']*'|[^#"']|["'])*?(?=#|$)""", line.rstrip("\r"))
    return (found[0] if found else line).rstrip()


def _odd_letter(text: str) -> str:
    """The first letter from outside ASCII, by its code point."""
    odd = next((sign for sign in text if not sign.isascii()), None)
    if odd is None:
        return ""
    return f": it holds {odd}, U+{ord(odd):04X} {unicodedata.name(odd, 'without a name')}"
