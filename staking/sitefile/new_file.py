"""How does a new file get onto the disk whole, or not at all, and nobody's older file lost?"""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterator
from pathlib import Path
from typing import IO

from staking.errors import OutputError

_REMEDY = "name a new file in a folder that you may write to, or make room"


@contextlib.contextmanager
def new_file(path: Path, *, named: Path | None = None) -> Iterator[IO[bytes]]:
    """A file that must not be there yet, open to be written; it is taken away again where not all of it can be.

    named: the file that it is to become, for messages.
    Raises OutputError for one that is there already or cannot be written, and passes on whatever happens inside.
    """
    try:
        file = path.open("xb")
    except FileExistsError:
        raise OutputError(f"{path} is there already", "name a new file") from None
    except (OSError, ValueError) as error:
        raise _unwritten(named or path, error) from None
    try:
        with file:
            yield file
            file.flush()
            os.fsync(file.fileno())
    except BaseException as error:
        with contextlib.suppress(OSError):
            path.unlink()
        if isinstance(error, OSError):
            raise _unwritten(named or path, error) from None
        raise


def _unwritten(path: Path, error: Exception) -> OutputError:
    if isinstance(error, FileNotFoundError):
        return OutputError(f"{path} cannot be written, for there is no folder {path.parent}", "make the folder first")
    reason = error.strerror or str(error) if isinstance(error, OSError) else "it is no file name"
    return OutputError(f"{path} cannot be written: {reason}", _REMEDY)
