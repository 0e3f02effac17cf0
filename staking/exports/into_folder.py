"""May files be written into a folder? Asked before the first one is, so that nothing is begun that cannot be ended."""

from __future__ import annotations

import os
from pathlib import Path

from staking.errors import OutputError

_PERMISSION = "give permission, or name another folder"


def check_named(folder: Path) -> None:
    """Raises OutputError where a name cannot be that of a folder, or is that of a file, or stands in one."""
    if "\0" in str(folder):
        raise OutputError("the name of a folder cannot hold the character U+0000", "name another folder")
    if folder.exists() and not folder.is_dir():
        raise OutputError(f"{folder} is a file", "name a folder")
    above = next(each for each in (folder.parent, *folder.parent.parents) if os.path.lexists(each))
    if not above.is_dir():
        raise OutputError(f"{above} is not a folder, so {folder.name} cannot be made in it", "name another folder")


def check_open(folder: Path) -> None:
    """Raises OutputError where a folder, or the one that it is to be made in, does not let us in."""
    if folder.exists() and not os.access(folder, os.R_OK | os.W_OK | os.X_OK):
        raise OutputError(f"{folder} may not be written into", _PERMISSION)
    above = next(each for each in (folder.parent, *folder.parent.parents) if each.exists())
    if not os.access(above, os.W_OK | os.X_OK):
        where = "the folder you are in" if above == Path() else above
        raise OutputError(f"{folder} cannot be written, for {where} may not be written into", _PERMISSION)


def check_movable(entry: Path) -> None:
    """Raises OutputError for what is in a folder and could not be carried over when the folder is written anew."""
    if entry.is_dir() and not entry.is_symlink() and not os.access(entry, os.W_OK):
        raise OutputError(
            f"{entry} may not be moved, so the folder around it cannot be written anew",
            f"give permission, or move {entry.name} elsewhere first",
        )
