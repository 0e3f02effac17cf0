"""A folder of files: complete or not at all, whatever happens on the way, and nobody else's file lost."""

from __future__ import annotations

import errno
import hashlib
import json
import os
import signal
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from staking.errors import OutputError
from staking.exports.bundle import MANIFEST, write_bundle

OLD = {"points.csv": b"old points", "layout.dxf": b"old drawing", "gone.txt": b"no longer made"}
NEW = {"points.csv": b"new points", "layout.dxf": b"new drawing", "layout.json": b"{}"}
FACTS = {"version": "0.1.0", "revision": "B"}
CALLS = ("rename", "fsync", "mkdir", "unlink", "rmdir")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """An output folder with an older set, and two things of somebody else in it."""
    out = write_bundle(tmp_path / "out", OLD, FACTS)
    (out / "photo.jpg").write_bytes(b"photo")
    (out / "letters").mkdir()
    (out / "letters" / "to_owner.txt").write_bytes(b"letter")
    return out


def state(folder: Path) -> dict[str, bytes]:
    """Every file below a folder."""
    files = (path for path in sorted(folder.rglob("*")) if path.is_file())
    return {str(path.relative_to(folder)): path.read_bytes() for path in files}


def own(folder: Path) -> dict[str, bytes]:
    """The files of the set, without manifest and what is somebody else's."""
    return {name: data for name, data in state(folder).items() if name not in (*FOREIGN, MANIFEST)}


FOREIGN = {"photo.jpg": b"photo", os.path.join("letters", "to_owner.txt"): b"letter"}


def test_a_new_folder_holds_the_set_and_its_manifest(tmp_path: Path) -> None:
    """The manifest lists every file with size and SHA-256, besides the facts given."""
    out = write_bundle(tmp_path / "out", NEW, FACTS)
    manifest = json.loads((out / MANIFEST).read_text("utf-8"))
    digest = hashlib.sha256(b"new points").hexdigest()
    assert own(out) == NEW
    assert (manifest["tool"], manifest["revision"]) == ("staking", "B")
    assert manifest["files"]["points.csv"] == {"sha256": digest, "size": 10}


def test_the_same_input_gives_the_same_bytes(tmp_path: Path) -> None:
    """Two runs, into two folders, are equal byte by byte, manifest included."""
    assert state(write_bundle(tmp_path / "a", NEW, FACTS)) == state(write_bundle(tmp_path / "b", NEW, FACTS))


def test_a_newer_set_replaces_the_older_one(folder: Path) -> None:
    """The new set is there, stale files are gone, what is somebody else's stays, and nothing lies beside."""
    write_bundle(folder, NEW, FACTS)
    assert own(folder) == NEW
    assert FOREIGN.items() <= state(folder).items()
    assert [path.name for path in folder.parent.iterdir()] == ["out"]


def test_what_is_kept_goes_in_once_and_stays(folder: Path) -> None:
    """A file to keep is in no manifest, outlasts the next set, and takes nobody's place."""
    write_bundle(folder, NEW, FACTS, kept={"older.json": b"older", "photo.jpg": b"no photo"})
    write_bundle(folder, NEW, FACTS, kept={"older.json": b"another"})
    write_bundle(folder, NEW, FACTS)
    found = state(folder)
    assert (found["older.json"], found["photo.jpg"]) == (b"older", b"photo")
    assert "older.json" not in json.loads(found[MANIFEST])["files"]


def test_the_mode_of_the_folder_stays(folder: Path) -> None:
    """A folder shared with a group is still shared afterwards."""
    folder.chmod(0o770)
    write_bundle(folder, NEW, FACTS)
    assert folder.stat().st_mode & 0o777 == 0o770


def test_relative_folders_work(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder named from where one stands is written there."""
    monkeypatch.chdir(tmp_path)
    write_bundle(Path("out"), NEW, FACTS)
    assert own(tmp_path / "out") == NEW


def _edited(folder: Path) -> None:
    (folder / "points.csv").write_bytes(b"edited by hand")


def _linked(folder: Path) -> None:
    (folder / "points.csv").unlink()
    (folder / "points.csv").symlink_to(folder / "photo.jpg")


def _foreign_name(folder: Path) -> None:
    (folder / "layout.json").write_bytes(b"not ours")


def _folder_in_the_way(folder: Path) -> None:
    (folder / "layout.json").mkdir()


def _no_manifest(folder: Path) -> None:
    (folder / MANIFEST).unlink()


def _other_manifest(folder: Path) -> None:
    (folder / MANIFEST).write_text('{"tool": "another"}', "utf-8")


def _broken_manifest(folder: Path) -> None:
    (folder / MANIFEST).write_text('{"tool": "staking", "files": [1]}', "utf-8")


@pytest.mark.parametrize(
    ("spoil", "names"),
    [
        (_edited, "points.csv was changed"),
        (_linked, "points.csv was changed"),
        (_foreign_name, "layout.json was not written by staking"),
        (_folder_in_the_way, "layout.json was not written by staking"),
        (_no_manifest, "layout.dxf was not written by staking"),
        (_other_manifest, "layout.dxf was not written by staking"),
        (_broken_manifest, "layout.dxf was not written by staking"),
    ],
)
def test_files_that_would_be_lost_stop_the_run(folder: Path, spoil: Callable[[Path], None], names: str) -> None:
    """A changed file of ours, or somebody else's under our name, is named, and nothing is changed."""
    spoil(folder)
    before = state(folder)
    with pytest.raises(OutputError, match=names) as refused:
        write_bundle(folder, NEW, FACTS)
    assert refused.value.remedy
    assert state(folder) == before
    assert [path.name for path in folder.parent.iterdir()] == ["out"]


def test_a_manifest_never_reaches_outside(folder: Path) -> None:
    """A manifest that lists a path elsewhere removes nothing there."""
    victim = folder.parent / "victim"
    victim.write_bytes(b"precious")
    manifest = json.loads((folder / MANIFEST).read_text("utf-8"))
    manifest["files"]["../victim"] = {"sha256": hashlib.sha256(b"precious").hexdigest(), "size": 8}
    (folder / MANIFEST).write_text(json.dumps(manifest), "utf-8")
    write_bundle(folder, NEW, FACTS)
    assert victim.read_bytes() == b"precious"


def _make_file(path: Path) -> Path:
    path.write_bytes(b"")
    return path


def _make_link(path: Path) -> Path:
    (path.parent / "real").mkdir()
    path.symlink_to(path.parent / "real")
    return path


def _make_loop(path: Path) -> Path:
    path.symlink_to(path)
    return path


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (_make_file, "is a file"),
        (_make_link, "is a link"),
        (_make_loop, "is a link"),
        (lambda path: _make_file(path) / "below", "is not a folder"),
        (lambda path: path.with_name("o" * 300), "name too long"),
        (lambda path: path.with_name("o\0t"), "U\\+0000"),
    ],
)
def test_folders_that_cannot_be(tmp_path: Path, make: Callable[[Path], Path], says: str) -> None:
    """A folder that is a link, a file, or below a file is refused in one sentence."""
    out = make(tmp_path / "out")
    before = sorted(os.listdir(tmp_path))
    with pytest.raises(OutputError, match=f"(?i){says}") as refused:
        write_bundle(out, NEW, FACTS)
    assert "\n" not in refused.value.message
    assert sorted(os.listdir(tmp_path)) == before


def test_folders_above_are_made(tmp_path: Path) -> None:
    """A folder deep in others that do not exist yet is made with them."""
    write_bundle(tmp_path / "deep" / "er", NEW, FACTS)
    assert (tmp_path / "deep" / "er" / "manifest.json").exists()


def test_the_folder_one_stands_in_is_refused(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder is not pulled from under the feet of whoever works in it."""
    monkeypatch.chdir(folder / "letters")
    for named in (folder, Path(".."), Path(".")):
        with pytest.raises(OutputError, match="working in"):
            write_bundle(named, NEW, FACTS)


def test_a_folder_without_permission_is_refused(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder that may not be written into is refused before anything is moved."""
    monkeypatch.setattr(os, "access", lambda _path, _mode: False)  # tests may run as root, who may everything
    with pytest.raises(OutputError, match="may not be written"):
        write_bundle(folder, NEW, FACTS)
    assert own(folder) == OLD


@pytest.mark.parametrize(
    "name", ["../x", "a/b", "a\\b", "", ".", "..", ".hidden", "CON", "nul.txt", "x.", "é", MANIFEST]
)
def test_names_that_cannot_be(tmp_path: Path, name: str) -> None:
    """A file name that leads elsewhere, or that some system cannot hold, is refused."""
    with pytest.raises(OutputError, match="cannot be the name"):
        write_bundle(tmp_path / "out", {name: b""}, FACTS)
    assert list(tmp_path.iterdir()) == []


def _failing(monkeypatch: pytest.MonkeyPatch, at: int, *, from_there: bool) -> Iterator[int]:
    """Makes the at-th call that changes the disk fail, or every one from there; yields how many there were."""
    count = [0]

    def spoiled(real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*args: Any, **options: Any) -> Any:
            count[0] += 1
            if count[0] == at or (from_there and count[0] > at):
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            return real(*args, **options)

        return call

    with monkeypatch.context() as patch:
        for name in CALLS:
            patch.setattr(os, name, spoiled(getattr(os, name)))
        yield count[0]
    yield count[0]


@pytest.mark.parametrize("from_there", [False, True])
@pytest.mark.parametrize("at", range(1, 20))
def test_a_full_disk_at_any_step(folder: Path, monkeypatch: pytest.MonkeyPatch, at: int, *, from_there: bool) -> None:
    """Whichever step fails, an old or a new set is whole, and the next run brings everything to order."""
    failing = _failing(monkeypatch, at, from_there=from_there)
    next(failing)
    failed = False
    try:
        write_bundle(folder, NEW, FACTS)
    except OutputError as refused:
        failed = "No space left" in refused.message
    calls = next(failing)
    assert failed == (at <= calls)
    left = folder if folder.exists() else folder.with_name(".out.staking-old")
    assert own(left) in (OLD, NEW)
    write_bundle(folder, NEW, FACTS)
    assert own(folder) == NEW
    assert FOREIGN.items() <= state(folder).items()
    assert [path.name for path in folder.parent.iterdir()] == ["out"]


KILL_CALLS = 16  # that change the disk, from making the new folder to removing the old one
KILL = """
import os, signal, sys
from pathlib import Path
from staking.exports.bundle import write_bundle
left = int(sys.argv[2])
def deadly(real):
    def call(*args, **options):
        global left
        left -= 1
        if left == 0:
            os.kill(os.getpid(), signal.SIGKILL)
        return real(*args, **options)
    return call
for name in ("rename", "fsync", "mkdir", "unlink", "rmdir"):
    setattr(os, name, deadly(getattr(os, name)))
write_bundle(Path(sys.argv[1]), {"points.csv": b"half", "layout.dxf": b"a set"}, {"revision": "C"})
"""


@pytest.mark.parametrize("at", range(1, KILL_CALLS + 1))
def test_a_kill_at_any_step(folder: Path, at: int) -> None:
    """A run killed at any step leaves nothing that the next run does not bring to order."""
    run = subprocess.run([sys.executable, "-c", KILL, folder, str(at)], capture_output=True, check=False)
    assert run.returncode == -signal.SIGKILL
    left = folder if folder.exists() else folder.with_name(".out.staking-old")
    assert own(left) in (OLD, {"points.csv": b"half", "layout.dxf": b"a set"})
    write_bundle(folder, NEW, FACTS)
    assert own(folder) == NEW
    assert FOREIGN.items() <= state(folder).items()
    assert [path.name for path in folder.parent.iterdir()] == ["out"]


def _cut_short_in_the_gap(folder: Path) -> Path:
    """As after a kill between the two renames."""
    old = folder.with_name(".out.staking-old")
    folder.rename(old)
    return old


def test_the_gap_is_closed_even_where_the_next_run_is_refused(folder: Path) -> None:
    """After a kill between the renames, a run that is refused still brings the old set back."""
    _edited(folder)
    _cut_short_in_the_gap(folder)
    with pytest.raises(OutputError, match="was changed"):
        write_bundle(folder, NEW, FACTS)
    assert own(folder) == OLD | {"points.csv": b"edited by hand"}


def test_an_empty_folder_made_in_the_gap_gives_way(folder: Path) -> None:
    """An empty folder that somebody made after a kill between the renames does not cost the old set."""
    _cut_short_in_the_gap(folder)
    folder.mkdir()
    write_bundle(folder, NEW, FACTS)
    assert own(folder) == NEW
    assert FOREIGN.items() <= state(folder).items()


def test_a_folder_filled_in_the_gap_stops_the_run(folder: Path) -> None:
    """Where somebody filled a new folder meanwhile, both are left alone and named."""
    old = _cut_short_in_the_gap(folder)
    folder.mkdir()
    (folder / "photo.jpg").write_bytes(b"another photo")
    with pytest.raises(OutputError, match="cut short"):
        write_bundle(folder, NEW, FACTS)
    assert own(old) == OLD
    assert state(folder) == {"photo.jpg": b"another photo"}


def test_two_of_one_name_are_both_kept(folder: Path) -> None:
    """A file in the old folder whose name is taken in the new one is left, and both are named."""
    old = _cut_short_in_the_gap(folder)
    write_bundle(folder.with_name("other"), NEW, FACTS).rename(folder)
    (folder / "photo.jpg").write_bytes(b"another photo")
    with pytest.raises(OutputError, match=r"photo\.jpg is in its place"):
        write_bundle(folder, NEW, FACTS)
    assert (old / "photo.jpg").read_bytes() == b"photo"
    assert (folder / "photo.jpg").read_bytes() == b"another photo"


def test_two_runs_at_once_are_both_whole(folder: Path) -> None:
    """Runs into one folder at the same time wait for one another."""
    sets = [{"points.csv": f"set {n}".encode(), "layout.dxf": f"set {n}".encode()} for n in range(6)]
    threads = [threading.Thread(target=write_bundle, args=(folder, files, FACTS)) for files in sets]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert own(folder) in sets
    assert FOREIGN.items() <= state(folder).items()


def test_a_run_that_lasts_is_not_waited_for_forever(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where another run holds the folder too long, this one gives up and says so."""
    fcntl = pytest.importorskip("fcntl")
    monkeypatch.setattr("staking.exports.bundle._PATIENCE", 0.1)
    handle = os.open(folder.parent, os.O_RDONLY)
    fcntl.flock(handle, fcntl.LOCK_EX)
    with pytest.raises(OutputError, match="another run"):
        write_bundle(folder, NEW, FACTS)
    os.close(handle)
    assert own(folder) == OLD


def test_a_limit_on_file_size_leaves_no_half_file(folder: Path) -> None:
    """A file that the system cuts off is not left behind, and the old set stays."""
    program = (
        "import resource, signal, sys\nfrom pathlib import Path\nfrom staking.errors import OutputError\n"
        "from staking.exports.bundle import write_bundle\n"
        "signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\nresource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))\n"
        "try:\n    write_bundle(Path(sys.argv[1]), {'points.csv': b'x' * 100000}, {})\n"
        "except OutputError as refused:\n    print(refused.message)\n"
    )
    done = subprocess.run([sys.executable, "-c", program, folder], capture_output=True, check=True, text=True)
    assert "File too large" in done.stdout
    assert own(folder) == OLD
    assert [path.name for path in folder.parent.iterdir()] == ["out"]


def test_a_drive_without_locks_is_written_to(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the drive knows no locks, the set is written all the same."""
    fcntl = pytest.importorskip("fcntl")

    def unknown(_handle: int, _how: int) -> None:
        raise OSError(errno.ENOLCK, os.strerror(errno.ENOLCK))

    monkeypatch.setattr(fcntl, "flock", unknown)
    write_bundle(folder, NEW, FACTS)
    assert own(folder) == NEW
