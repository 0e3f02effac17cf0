"""Which measurement files were taken in, when, and against which site file? A log beside the outputs.

`measured.jsonl` holds one line of JSON a file taken in. Lines are added at the end and never changed; a file taken in
again gets another line, because the log says what was done. Each line holds the SHA-256 of the line before it, so that
a line that was changed, moved or taken out shows at the next one; nothing shows that the last lines are missing.

    a kill while a line is written     leaves the beginning of that line at the end of the file; the next one begins on
                                       a line of its own, and its `before` counts the piece as a line like any other
    a full disk                        the piece is taken back, as far as the disk allows; else as after a kill
    a run into the folder meanwhile    waits, as runs wait for one another (`bundle.py`); the log is in no manifest, so
                                       `make` carries it over as it does whatever is not its own
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import stat
from collections.abc import Iterator
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime
from pathlib import Path, PurePath
from typing import Any

from staking.errors import OutputError
from staking.exports.bundle import alone_in
from staking.exports.into_folder import check_named
from staking.sitefile.declared import Site
from staking.version import VERSION

LOG = "measured.jsonl"
FORMAT = 1  # raised when a reader of the lines would have to change

_BEGIN = b'{"log": "staking measured", "format": '  # how every line begins, and how the log knows that it is one
_LARGEST = 64_000_000  # bytes; a log of a hundred thousand lines is a third of it
_REMEDY = "give permission or make room, or name another folder"


@dataclass(frozen=True, slots=True)
class Taken:
    """A measurement file taken in.

    file: its name. sha256, size [bytes]: of its content. taken_as: "compare", "tape", "levels" or another verb in
    words. revision, site_file, site_sha256: of the site file it was held against; empty where there was none. at: date
    and time in UTC, ISO 8601 to the second; empty until it is written.
    """

    file: str
    sha256: str
    size: int
    taken_as: str
    revision: str = ""
    site_file: str = ""
    site_sha256: str = ""
    version: str = VERSION
    at: str = ""


@dataclass(frozen=True, slots=True)
class Fault:
    """A line, counted from 1, that does not say what it should, and what is wrong with it."""

    line: int
    words: str


@dataclass(frozen=True, slots=True)
class Log:
    """What a log says. taken: every line that can be read, the oldest first. faults: what is wrong with others."""

    taken: tuple[Taken, ...] = ()
    faults: tuple[Fault, ...] = ()

    def made_from(self, site_sha256: str) -> tuple[Taken, ...]:
        """What was held against a site file: each content once for each thing it was taken as, as it was last taken."""
        own = (each for each in self.taken if each.site_sha256 == site_sha256)
        return tuple({(each.sha256, each.taken_as): each for each in own}.values())

    def words(self, site_sha256: str) -> tuple[str, ...]:
        """What was held against a site file, a line a file, and what is wrong with the log; without any times."""
        files = (f"{each.file}, by {each.taken_as}. SHA-256: {each.sha256}." for each in self.made_from(site_sha256))
        return (*files, *(f"Line {fault.line} of the log: {fault.words}." for fault in self.faults))


def taken(name: str, content: bytes, taken_as: str, site: Site | None = None) -> Taken:
    """The entry of a file that was read. name: may be a path, of which the last part is kept. site: held against it."""
    entry = Taken(PurePath(name).name, hashlib.sha256(content).hexdigest(), len(content), taken_as)
    if site is None:
        return entry
    return replace(entry, revision=site.revision, site_file=PurePath(site.file).name, site_sha256=site.fingerprint)


def append(folder: Path, entry: Taken, *, now: datetime | None = None) -> Taken:
    """Add a line to the log of a folder, which is made where it is not there; returns the entry with its time.

    now: left out, the clock. When it returns, the line is on the disk. Raises OutputError, with every line that was
    there before still there, where the folder cannot be written or something else has the log's name.
    """
    stamped = _stamped(entry, now or datetime.now(UTC))
    try:
        if folder.name in ("", ".."):
            folder = Path(os.path.abspath(folder))
        check_named(folder)
        folder.parent.mkdir(parents=True, exist_ok=True)
        with alone_in(folder), _made(folder):
            before = _known(folder / LOG)
            _write(folder / LOG, before, _line(stamped, before))
    except OSError as error:
        raise OutputError(f"{folder / LOG} cannot be written: {error.strerror or error}", _REMEDY) from error
    return stamped


@contextlib.contextmanager
def _made(folder: Path) -> Iterator[None]:
    """A folder that is there; where it had to be made for a line that cannot be written, it is taken away again."""
    fresh = not folder.exists()
    folder.mkdir(exist_ok=True)
    try:
        yield
    except BaseException:
        if fresh:
            with contextlib.suppress(OSError):
                folder.rmdir()
        raise


def read(folder: Path) -> Log:
    """The log of a folder; an empty one where there is none. Raises OutputError where another file has its name."""
    try:
        lines = _known(folder / LOG).split(b"\n")
    except OSError as error:
        raise OutputError(f"{folder / LOG} cannot be read: {error.strerror or error}", _REMEDY) from error
    entries, faults = [], []
    before = ""
    for number, line in enumerate(lines if lines[-1] else lines[:-1], 1):
        found = _read_line(line)
        if isinstance(found, str):
            faults.append(Fault(number, found))
        else:
            entry, said = found
            entries.append(entry)
            if said != before:
                faults.append(Fault(number, "what stands before it is not what stood there when it was written"))
        before = _sha256(line)
    return Log(tuple(entries), tuple(faults))


def _stamped(entry: Taken, now: datetime) -> Taken:
    at = now.astimezone(UTC).replace(microsecond=0, tzinfo=None).isoformat()
    return replace(entry, at=f"{at}Z")


def _sha256(line: bytes) -> str:
    return hashlib.sha256(line).hexdigest()


def _known(path: Path) -> bytes:
    """The log as it stands; empty where there is none, or no more than how the first line begins.

    Raises OutputError for a file that is not our log.
    """
    try:
        regular = stat.S_ISREG(path.lstat().st_mode)
    except FileNotFoundError:
        return b""
    if not regular:
        raise _foreign(path)
    with path.open("rb") as file:
        content = file.read(_LARGEST + 1)
    if _BEGIN.startswith(content):
        return b""
    if len(content) > _LARGEST or not content.startswith(_BEGIN):
        raise _foreign(path)
    return content


def _foreign(path: Path) -> OutputError:
    return OutputError(f"{path} was not written by staking", "move it elsewhere, or name another folder")


def _line(entry: Taken, before: bytes) -> bytes:
    """The line to add, with whatever ends the one before it."""
    torn = bool(before) and not before.endswith(b"\n")
    last = before.removesuffix(b"\n").rpartition(b"\n")[2]
    facts = {**asdict(entry), "before": _sha256(last) if before else ""}
    text = json.dumps(facts, ensure_ascii=False, allow_nan=False)
    return (b"\n" if torn else b"") + _BEGIN + f"{FORMAT}, {text[1:]}\n".encode()


def _write(path: Path, before: bytes, line: bytes) -> None:
    handle = os.open(path, os.O_WRONLY | os.O_APPEND | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o666)
    try:
        if not before and os.fstat(handle).st_size < len(_BEGIN):
            os.ftruncate(handle, 0)  # the piece of a first line that says nothing yet
        with _taken_back(handle, path, len(before)):
            left = memoryview(line)
            while left:
                left = left[os.write(handle, left) :]
            os.fsync(handle)
    finally:
        os.close(handle)
    if not before:
        _flush_name(path.parent)


@contextlib.contextmanager
def _taken_back(handle: int, path: Path, size: int) -> Iterator[None]:
    """Whatever was written is taken off again where not all of it could be; a log of no line is taken away."""
    try:
        yield
    except OSError:
        with contextlib.suppress(OSError):
            os.ftruncate(handle, size)
            if not size:
                path.unlink()
        raise


def _flush_name(folder: Path) -> None:
    """Make the name of a new log outlast a power cut, where the system lets a folder be opened."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _read_line(line: bytes) -> tuple[Taken, str] | str:
    """The entry of a line and what it says of the line before; or what is wrong with it."""
    try:
        facts: Any = json.loads(line)
    except ValueError:
        return "cut short, as by a crash while it was written, or changed"
    if not isinstance(facts, dict) or not line.startswith(_BEGIN):
        return "no line of this log"
    if facts["format"] != FORMAT:
        return f"of another version of the program (format {facts['format']})"
    kinds = {"size": int}
    names = [*Taken.__slots__, "before"]
    if not all(isinstance(facts.get(name), kinds.get(name, str)) for name in names):
        return "no line of this log"
    return Taken(**{name: facts[name] for name in Taken.__slots__}), facts["before"]
