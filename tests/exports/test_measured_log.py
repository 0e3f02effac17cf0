"""The log of measurement files: lines are added and never lost, whatever happens on the way."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
from collections.abc import Callable
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest
from making import sample

from staking.errors import OutputError
from staking.exports.bundle import write_bundle
from staking.exports.measured_log import LOG, Taken, append, read, taken

FIRST = taken("shots/day 1.csv", b"101,0,0\n", "compare")
SECOND = taken("tape.csv", b"101,102,36' 1/4\n", "tape")
NOON = datetime(2026, 6, 3, 12, 0, 30, 999, tzinfo=UTC)


def lines(folder: Path) -> list[bytes]:
    """The lines of a log as they stand."""
    return (folder / LOG).read_bytes().split(b"\n")


def test_what_is_appended_is_read(tmp_path: Path) -> None:
    """Name, fingerprint, size, what it was taken as and the time of each, the oldest first; the folder is made."""
    folder = tmp_path / "job" / "out"
    append(folder, FIRST, now=NOON)
    append(folder, SECOND, now=NOON)
    log = read(folder)
    assert [each.file for each in log.taken] == ["day 1.csv", "tape.csv"]
    assert (log.taken[0].sha256, log.taken[0].size) == (hashlib.sha256(b"101,0,0\n").hexdigest(), 8)
    assert (log.taken[1].taken_as, log.taken[1].at, log.faults) == ("tape", "2026-06-03T12:00:30Z", ())


def test_an_empty_log_is_no_fault(tmp_path: Path) -> None:
    """A folder without a log, and no folder at all, have nothing to say."""
    assert read(tmp_path) == read(tmp_path / "none")
    assert not read(tmp_path).taken


def test_what_it_was_held_against(tmp_path: Path) -> None:
    """Revision, name and fingerprint of the site file stand in the line."""
    site = sample("sloping_lot").site
    append(tmp_path, taken("shots.csv", b"", "compare", site))
    [entry] = read(tmp_path).made_from(site.fingerprint)
    assert (entry.revision, entry.site_file) == ("A", "site.toml")


def test_the_time_is_utc(tmp_path: Path) -> None:
    """A clock of another zone is brought to UTC, to the second."""
    west = NOON.astimezone(timezone(timedelta(hours=-7)))
    assert append(tmp_path, FIRST, now=west).at == "2026-06-03T12:00:30Z"


def test_every_line_says_what_stood_before_it(tmp_path: Path) -> None:
    """The SHA-256 of the line before, without its end, stands in each line but the first."""
    for _ in range(3):
        append(tmp_path, FIRST)
    found = lines(tmp_path)
    assert json.loads(found[0])["before"] == ""
    assert json.loads(found[2])["before"] == hashlib.sha256(found[1]).hexdigest()


def test_what_the_report_was_made_from(tmp_path: Path) -> None:
    """Each content once for each thing it was taken as, of one site file only, as it was last taken."""
    for site in ("old", "new"):
        for entry in (FIRST, FIRST, SECOND):
            append(tmp_path, Taken(entry.file, entry.sha256, entry.size, entry.taken_as, site_sha256=site))
    assert [each.file for each in read(tmp_path).made_from("new")] == ["day 1.csv", "tape.csv"]


def _changed(found: list[bytes]) -> list[bytes]:
    return [found[0], found[1].replace(b"day 1", b"day 2"), *found[2:]]


def _without(found: list[bytes]) -> list[bytes]:
    return [found[0], *found[2:]]


def _turned(found: list[bytes]) -> list[bytes]:
    return [found[1], found[0], *found[2:]]


def _spoiled(found: list[bytes]) -> list[bytes]:
    return [found[0], b"{}", *found[2:]]


@pytest.mark.parametrize(("change", "at"), [(_changed, [3]), (_without, [2]), (_turned, [1, 2, 3]), (_spoiled, [2, 3])])
def test_a_changed_line_shows(tmp_path: Path, change: Callable[[list[bytes]], list[bytes]], at: list[int]) -> None:
    """A line changed, taken out, moved or spoiled is named, or the one behind it is."""
    for _ in range(4):
        append(tmp_path, FIRST)
    (tmp_path / LOG).write_bytes(b"\n".join(change(lines(tmp_path))))
    assert [fault.line for fault in read(tmp_path).faults] == at


def test_a_line_of_a_newer_program_is_kept(tmp_path: Path) -> None:
    """A format that is not known is named and not guessed at; lines go on behind it."""
    append(tmp_path, FIRST)
    text = (tmp_path / LOG).read_bytes()
    (tmp_path / LOG).write_bytes(text.replace(b'"format": 1', b'"format": 2'))
    append(tmp_path, SECOND)
    log = read(tmp_path)
    assert [each.file for each in log.taken] == ["tape.csv"]
    assert [(fault.line, "another version" in fault.words) for fault in log.faults] == [(1, True)]


@pytest.mark.parametrize("length", [1, 30, 60, 200, -2, -1])
def test_a_torn_last_line_costs_no_other(tmp_path: Path, length: int) -> None:
    """After a crash in the middle of a line all others are read, and the next one stands on its own line."""
    append(tmp_path, FIRST)
    append(tmp_path, SECOND)
    whole = (tmp_path / LOG).read_bytes()
    start = whole.index(b"\n") + 1
    (tmp_path / LOG).write_bytes(whole[:start] + whole[start:][:length])
    append(tmp_path, FIRST)
    log = read(tmp_path)
    recovered = length == -1  # all but the end of the line
    assert [each.file for each in log.taken] == ["day 1.csv", *(["tape.csv"] if recovered else []), "day 1.csv"]
    assert [fault.line for fault in log.faults] == ([] if recovered else [2])


@pytest.mark.parametrize(("length", "faults"), [(0, 0), (10, 0), (50, 1)])
def test_a_torn_first_line_is_gone_on_with(tmp_path: Path, length: int, faults: int) -> None:
    """What says nothing yet gives way; what says something stays as a line that cannot be read."""
    append(tmp_path, FIRST)
    (tmp_path / LOG).write_bytes((tmp_path / LOG).read_bytes()[:length])
    append(tmp_path, SECOND)
    log = read(tmp_path)
    assert ([each.file for each in log.taken], len(log.faults)) == (["tape.csv"], faults)


KILL = """
import os, sys
from pathlib import Path
from staking.exports import measured_log
left = int(sys.argv[2])
def deadly(real, half):
    def call(*args):
        global left
        left -= 1
        if left == 0 and half:
            real(args[0], bytes(args[1])[:50])
        if left == 0:
            os._exit(9)
        return real(*args)
    return call
for name in ("mkdir", "open", "write", "fsync", "close"):
    setattr(os, name, deadly(getattr(os, name), name == "write"))
measured_log.append(Path(sys.argv[1]), measured_log.taken("third.csv", b"3", "levels"))
os._exit(0)
"""


@pytest.mark.parametrize("fresh", [False, True])
def test_a_kill_at_any_step(tmp_path: Path, *, fresh: bool) -> None:
    """A run killed before, in the middle of, or after any call to the disk loses no line that was there."""
    statuses = []
    for at in range(1, 30):
        folder = tmp_path / str(at)
        if not fresh:
            append(folder, FIRST)
            append(folder, SECOND)
        run = subprocess.run([sys.executable, "-c", KILL, folder, str(at)], check=False)
        statuses.append(run.returncode)
        append(folder, FIRST)
        files = [each.file for each in read(folder).taken]
        there = [] if fresh else ["day 1.csv", "tape.csv"]
        assert [name for name in files if name != "third.csv"] == [*there, "day 1.csv"]
        assert len(read(folder).faults) <= 1
        if run.returncode == 0:
            break
    assert statuses[-1] == 0
    assert len(statuses) > 5


AGAIN = """
import sys
from pathlib import Path
from staking.exports.measured_log import append, taken
for number in range(20):
    append(Path(sys.argv[1]), taken(f"{sys.argv[2]}-{number}.csv", b"", "compare"))
"""


def test_two_processes_at_once(tmp_path: Path) -> None:
    """Runs that add lines at the same time, and one that writes the folder anew, lose and mix up none."""
    folder = tmp_path / "out"
    runs = [subprocess.Popen([sys.executable, "-c", AGAIN, folder, name]) for name in ("a", "b")]
    written = 0
    while any(run.poll() is None for run in runs):
        write_bundle(folder, {"points.csv": str(written).encode()}, {})
        written += 1
    assert [run.wait() for run in runs] == [0, 0]
    log = read(folder)
    assert log.faults == ()
    for name in ("a", "b"):
        own = [each.file for each in log.taken if each.file.startswith(name)]
        assert own == [f"{name}-{number}.csv" for number in range(20)]
    assert written


def test_a_new_set_keeps_the_log(tmp_path: Path) -> None:
    """Outputs written anew into the folder leave its log as it is."""
    folder = tmp_path / "out"
    append(folder, FIRST)
    before = (folder / LOG).read_bytes()
    for _ in range(2):
        write_bundle(folder, {"points.csv": b""}, {})
    assert (folder / LOG).read_bytes() == before


def test_after_a_set_that_was_cut_short(tmp_path: Path) -> None:
    """A line added after a kill between the two renames goes behind those of the old folder."""
    folder = tmp_path / "out"
    write_bundle(folder, {"points.csv": b""}, {})
    append(folder, FIRST)
    folder.rename(folder.with_name(".out.staking-old"))
    append(folder, SECOND)
    assert [each.file for each in read(folder).taken] == ["day 1.csv", "tape.csv"]


def _text(path: Path) -> None:
    path.write_bytes(b"my own notes\n")


def _link(path: Path) -> None:
    path.symlink_to(path.with_name("elsewhere"))


@pytest.mark.parametrize("make", [_text, _link, Path.mkdir])
def test_a_foreign_file_of_that_name_is_left_alone(tmp_path: Path, make: Callable[[Path], None]) -> None:
    """A file, link or folder that is not our log is named, neither read nor written."""
    make(tmp_path / LOG)
    before = (tmp_path / LOG).read_bytes() if (tmp_path / LOG).is_file() else None
    for call in (lambda: append(tmp_path, FIRST), lambda: read(tmp_path)):
        with pytest.raises(OutputError, match="was not written by staking"):
            call()
    assert before is None or (tmp_path / LOG).read_bytes() == before
    assert not (tmp_path / "elsewhere").exists()


def test_a_folder_that_may_not_be_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The refusal is one sentence, with what to do."""
    real = os.open

    def refusing(path: str, flags: int, *more: int) -> int:
        if flags & os.O_CREAT:
            raise PermissionError(13, "Permission denied")
        return real(path, flags, *more)

    monkeypatch.setattr(os, "open", refusing)  # tests may run as root, who may everything
    with pytest.raises(OutputError, match=r"measured\.jsonl cannot be written: Permission denied") as refused:
        append(tmp_path, FIRST)
    assert refused.value.remedy


def test_a_full_disk_leaves_no_piece(tmp_path: Path) -> None:
    """Where the system cuts a line off, what was written of it is taken back."""
    append(tmp_path, FIRST)
    before = (tmp_path / LOG).read_bytes()
    program = (
        "import resource, signal, sys\nfrom pathlib import Path\nfrom staking.errors import OutputError\n"
        "from staking.exports.measured_log import append, taken\n"
        "signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "size = int(sys.argv[2])\nresource.setrlimit(resource.RLIMIT_FSIZE, (size, size))\n"
        "try:\n    append(Path(sys.argv[1]), taken('x', b'', 'tape'))\n"
        "except OutputError as refused:\n    print(refused.message)\n"
    )
    words = [sys.executable, "-c", program, str(tmp_path), str(len(before) + 20)]
    done = subprocess.run(words, capture_output=True, check=True, text=True)
    assert "File too large" in done.stdout
    assert (tmp_path / LOG).read_bytes() == before
