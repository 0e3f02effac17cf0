"""How do a job's files get into a folder complete or not at all, with nobody else's file lost?

The new set is written beside the folder and swapped in by renaming. Steps, and what a kill after each leaves:

    1 write .NAME.staking-new, flush everything     old set in place; the next run removes the leftover
    2 rename NAME to .NAME.staking-old              no folder; the next run renames it back
    3 rename .NAME.staking-new to NAME              new set in place; the next run goes on with 4
    4 move files that are not ours into NAME        as after 3
    5 remove our old files, manifest last           as after 3
    6 remove .NAME.staking-old                      done

What is ours is what `manifest.json` lists, with the SHA-256 it lists. A file of ours that somebody changed, and a
file of somebody else under one of our names, stop the run before anything is touched.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import re
import stat
import sys
import time
from collections.abc import Collection, Iterator, Mapping
from pathlib import Path
from types import MappingProxyType

from staking.errors import OutputError
from staking.exports.into_folder import check_movable, check_named, check_open

if sys.platform != "win32":
    import fcntl

MANIFEST = "manifest.json"

_TOOL = "staking"
_VERB = "make"  # where a manifest names no other
_REMEDY = "name a folder in a place that you may write to, or make room or give permission"
_NAME = re.compile(r"[A-Za-z0-9_][A-Za-z0-9._-]{0,99}")
_DEVICES = re.compile(r"(con|prn|aux|nul|com[0-9]|lpt[0-9])(\..*)?", re.IGNORECASE)  # names Windows keeps, from memory
_PATIENCE = 10.0  # seconds to wait for another run into the same folder


def write_bundle(
    folder: Path,
    files: Mapping[str, bytes],
    manifest: Mapping[str, object],
    *,
    kept: Mapping[str, bytes] = MappingProxyType({}),
) -> Path:
    """Write files and their manifest into folder; returns the folder.

    manifest: facts to record; the size and SHA-256 of every file are added. kept: files that go in with the set, are
    in no manifest, and so stay for good; one whose name is there already is left as it is. The same input gives the
    same bytes. A
    folder that exists keeps what is not ours and loses what an earlier run wrote; one that does not is made, with the
    folders above it. Raises OutputError, in one
    sentence and with nothing changed, where it cannot be written or would cost somebody a file.
    """
    for name in (*files, *kept):
        _check_name(name)
    if folder.name in ("", ".."):
        folder = Path(os.path.abspath(folder))
    content = dict(files) | {MANIFEST: _manifest(files, manifest)}
    try:
        _check_place(folder)
        if not folder.parent.exists():
            folder.parent.mkdir(parents=True)
        with alone_in(folder):
            _check_losses(folder, content, str(manifest.get("verb", _VERB)))
            more = {name: data for name, data in kept.items() if not os.path.lexists(folder / name)}
            _swap_in(folder, more | content)
    except OSError as error:
        raise OutputError(f"{folder} cannot be written: {error.strerror or error}", _REMEDY) from error
    return folder


def _manifest(files: Mapping[str, bytes], facts: Mapping[str, object]) -> bytes:
    listed = {
        name: {"sha256": hashlib.sha256(content).hexdigest(), "size": len(content)}
        for name, content in sorted(files.items())
    }
    text = json.dumps({"tool": _TOOL, **facts, "files": listed}, indent=2, ensure_ascii=False, allow_nan=False)
    return f"{text}\n".encode()


def _check_name(name: str) -> None:
    if not _NAME.fullmatch(name) or _DEVICES.fullmatch(name) or name.endswith(".") or name == MANIFEST:
        raise OutputError(f'"{name}" cannot be the name of an output file', "use letters, digits, dots, - and _")


def check_folder(folder: Path, names: Collection[str], verb: str) -> None:
    """Raises OutputError where a set of files of these names could not be written, as far as that can be told before.

    verb: whose files they are.
    """
    try:
        _check_place(folder)
        _check_losses(folder, names, verb)
    except OSError as error:
        raise OutputError(f"{folder} cannot be written: {error.strerror or error}", _REMEDY) from error


def _check_place(folder: Path) -> None:
    if folder.is_symlink():
        raise OutputError(f"{folder} is a link to somewhere else", "name the folder itself")
    check_named(folder)
    check_open(folder)
    here = Path.cwd()
    if folder.exists() and (here == folder.resolve() or folder.resolve() in here.parents):
        raise OutputError(
            f"{folder} holds the folder you are working in, which would be pulled from under you",
            "name a folder of its own, for example out",
        )


@contextlib.contextmanager
def alone_in(folder: Path) -> Iterator[None]:
    """No other run writes into the folder meanwhile; what a run that was killed left is finished or undone before."""
    with _only_run(folder.parent):
        _recover(folder)
        yield


@contextlib.contextmanager
def _only_run(parent: Path) -> Iterator[None]:
    """No second run that writes into the same parent folder goes on until this one is done."""
    if sys.platform == "win32":
        yield
        return
    handle = os.open(parent, os.O_RDONLY)
    try:
        _lock(handle, parent)
        yield
    finally:
        os.close(handle)  # unlocks too


def _lock(handle: int, parent: Path) -> None:
    until = time.monotonic() + _PATIENCE
    while sys.platform != "win32":
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            if time.monotonic() > until:
                raise OutputError(
                    f"another run is still writing into {parent}", "wait until it is done, and start again"
                ) from None
            time.sleep(0.05)
        except OSError:  # some network drives know no locks; renaming still keeps every set whole
            return
        else:
            return


def _new(folder: Path) -> Path:
    return folder.with_name(f".{folder.name}.staking-new")


def _old(folder: Path) -> Path:
    return folder.with_name(f".{folder.name}.staking-old")


def _recover(folder: Path) -> None:
    """Finish or undo what a run that was killed left behind."""
    new, old = _new(folder), _old(folder)
    if old.is_dir():
        if folder.is_dir() and not any(folder.iterdir()):
            folder.rmdir()
        if not os.path.lexists(folder):
            os.rename(old, folder)
        elif _ours(folder):
            _empty_old(folder)
        else:
            raise OutputError(
                f"an earlier run was cut short: its files are in {old}, and {folder} was made since by somebody else",
                f"move {folder} elsewhere, then write again",
            )
    _remove_new(new)


def _remove_new(new: Path) -> None:
    """Remove a set that never came into place: plain files, all of them written by us."""
    if not new.is_dir() or new.is_symlink():
        return
    for entry in sorted(new.iterdir()):
        entry.unlink()
    new.rmdir()


def _check_verb(folder: Path, verb: str) -> None:
    """Raises OutputError where the folder holds what another verb wrote, which this one would take away as its own."""
    known = _manifest_of(folder)
    before = verb if known is None else known.get("verb", _VERB)
    if before != verb:
        raise OutputError(
            f"{folder} holds what `staking {before}` wrote, and `staking {verb}` would take it away; nothing was "
            "written",
            f"name a folder of its own, for example {folder / verb}",
        )


def _check_losses(folder: Path, names: Collection[str], verb: str) -> None:
    """Raises OutputError where files of these names would cost somebody a file, or one there cannot be carried over."""
    if not folder.exists():
        return
    _check_verb(folder, verb)
    ours = _ours(folder)
    for name in sorted(entry.name for entry in folder.iterdir()):
        check_movable(folder / name)
        listed = ours.get(name)
        if listed is not None and _fingerprint(folder / name) != listed:
            raise OutputError(
                f"{folder / name} was changed after staking wrote it, and would be lost",
                "move it elsewhere or under another name, then write again",
            )
        if listed is None and name in names:
            raise OutputError(
                f"{folder / name} was not written by staking, and would be lost",
                "name another folder, or move the file elsewhere",
            )


def is_changed(path: Path, content: bytes) -> bool:
    """Whether a file is not what the manifest beside it lists; False where none lists it. content: of the file."""
    try:
        listed = _ours(path.parent).get(path.name)
    except (OSError, OutputError):
        return False
    return listed is not None and hashlib.sha256(content).hexdigest() != listed


def _ours(folder: Path) -> dict[str, str]:
    """Name and SHA-256 of every file the folder's manifest lists, the manifest itself among them; else nothing."""
    files = (_manifest_of(folder) or {}).get("files")
    if not isinstance(files, dict):
        return {}
    try:
        listed = {name: str(facts["sha256"]) for name, facts in files.items() if _NAME.fullmatch(name)}
    except (KeyError, TypeError):
        return {}
    return listed | {MANIFEST: _fingerprint(folder / MANIFEST)}


def _manifest_of(folder: Path) -> dict[str, object] | None:
    """What our manifest in a folder says; None where there is none, or one that is not ours."""
    path = folder / MANIFEST
    if path.is_symlink() or not path.is_file():
        return None
    try:
        known = json.loads(_read(path))
    except ValueError:
        return None
    return known if isinstance(known, dict) and known.get("tool") == _TOOL else None


def _fingerprint(path: Path) -> str:
    """SHA-256 of a plain file; empty for anything else, a link among them."""
    return hashlib.sha256(_read(path)).hexdigest() if stat.S_ISREG(path.lstat().st_mode) else ""


def _read(path: Path) -> bytes:
    """A file of ours. Raises OutputError where it may not be read: whether it was changed cannot be told then."""
    try:
        return path.read_bytes()
    except PermissionError:
        remedy = "give permission, or name another folder"
        raise OutputError(f"{path} may not be read, so whether it was changed cannot be told", remedy) from None


def _swap_in(folder: Path, content: Mapping[str, bytes]) -> None:
    new, old = _new(folder), _old(folder)
    replaces = folder.exists()
    try:
        _write_all(new, content)
        if replaces:
            new.chmod(stat.S_IMODE(folder.stat().st_mode))
            os.rename(folder, old)
        os.rename(new, folder)
    except BaseException:
        _undo(folder)
        raise
    _flush_folder(folder.parent)
    if not replaces:
        return
    try:
        _empty_old(folder)
    except OSError as error:
        raise OutputError(
            f"the new files are in {folder}, but other files are still in {old}: {error.strerror or error}",
            "write again to bring them over",
        ) from error


def _undo(folder: Path) -> None:
    """Back to the old set, as far as the disk allows; what is left then, the next run finishes."""
    with contextlib.suppress(OSError):
        if _old(folder).is_dir() and not os.path.lexists(folder):
            os.rename(_old(folder), folder)
    with contextlib.suppress(OSError):
        _remove_new(_new(folder))


def _write_all(new: Path, content: Mapping[str, bytes]) -> None:
    new.mkdir()
    for name, data in content.items():
        with (new / name).open("xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
    _flush_folder(new)


def _flush_folder(folder: Path) -> None:
    """Make names in a folder outlast a power cut, where the system offers that."""
    if sys.platform == "win32":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _empty_old(folder: Path) -> None:
    """Move what is not ours from the old folder into the new one, then remove the old one."""
    old = _old(folder)
    ours = _ours(old)
    for name in sorted(entry.name for entry in old.iterdir()):
        if name in ours and _fingerprint(old / name) == ours[name]:
            continue
        if os.path.lexists(folder / name):
            raise OutputError(
                f"{old / name} was left by a run that was cut short, and {folder / name} is in its place",
                "move one of the two elsewhere, then write again",
            )
        os.rename(old / name, folder / name)
    _flush_folder(folder)
    for name in sorted(ours, key=lambda listed: listed == MANIFEST):  # last, so that a cut-short run can go on
        (old / name).unlink(missing_ok=True)
    old.rmdir()
