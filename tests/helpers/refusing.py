"""A disk that refuses whoever runs the tests: root, who may everything, is told no where the system would say it."""

from __future__ import annotations

import contextlib
import errno
import io
import os
import resource
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

_CHANGES = ("mkdir", "rename", "replace", "unlink", "rmdir")


def _refusal(path: Path) -> PermissionError:
    return PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(path))


class Refusing:
    """Paths that refuse. unread: may not be opened. unwritten: neither opened to be written, nor, if a folder, changed.

    shut: folders that let nobody in, so that not even what is in them can be looked at.
    """

    def __init__(self, patch: pytest.MonkeyPatch) -> None:
        self.unread: set[Path] = set()
        self.unwritten: set[Path] = set()
        self.shut: set[Path] = set()
        for owner, name, how in (
            (os, "open", self._opened),
            (io, "open", self._opened),
            (os, "stat", self._looked),
            (os, "lstat", self._looked),
            (os, "scandir", self._listed),
            (os, "listdir", self._listed),
            *((os, name, self._changed) for name in _CHANGES),
        ):
            patch.setattr(owner, name, self._told(getattr(owner, name), how))
        patch.setattr(os, "access", self._access)

    def _told(self, real: Callable[..., Any], refuse: Callable[..., None]) -> Callable[..., Any]:
        def call(path: Any, *args: Any, **options: Any) -> Any:
            if not isinstance(path, int):
                refuse(Path(os.path.abspath(os.fsdecode(path))), *args, **options)
            return real(path, *args, **options)

        return call

    def _looked(self, path: Path, *_args: Any, **_options: Any) -> None:
        if self.shut & set(path.parents):
            raise _refusal(path)

    def _listed(self, path: Path) -> None:
        self._looked(path)
        if path in self.unread | self.shut:
            raise _refusal(path)

    def _changed(self, path: Path, *_args: Any, **_options: Any) -> None:
        self._looked(path)
        if path.parent in self.unwritten:
            raise _refusal(path)

    def _opened(self, path: Path, mode: Any = "r", *_args: Any, **_options: Any) -> None:
        self._looked(path)
        writes = mode & (os.O_WRONLY | os.O_RDWR) if isinstance(mode, int) else set(mode) & set("wxa+")
        fresh = writes and not os.path.lexists(path)
        if path in (self.unwritten if writes else self.unread) or (fresh and path.parent in self.unwritten):
            raise _refusal(path)

    def _access(self, path: Any, mode: int) -> bool:
        there = Path(os.path.abspath(path))
        read, write = there in self.unread | self.shut, there in self.unwritten | self.shut
        return not (self.shut & set(there.parents) or (mode & os.R_OK and read) or (mode & os.W_OK and write))


@contextlib.contextmanager
def no_room(size: int) -> Iterator[None]:
    """Files cannot grow beyond so many bytes: the system itself refuses, in the middle of a file."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
