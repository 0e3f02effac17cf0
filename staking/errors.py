"""The exceptions of the program; an exception means that it cannot go on.

    StakingError
    |-- TextError (also a ValueError)    a length, bearing or name that cannot be read
    |-- InputError                       files that cannot be used; carries every finding at once
    |   `-- SolveError                   declared things that contradict or leave something open
    |-- OutputError                      a folder or file that must not or cannot be written
    |-- PositionError                    coordinates that cannot be put on the earth
    `-- RuleError                        a declared record that cannot be carried out; becomes a SolveError

A failed check is no exception: it is a Finding.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from difflib import get_close_matches

from staking.findings import Finding


class StakingError(Exception):
    """Anything that the program says no to."""


class TextError(StakingError, ValueError):
    """A text that cannot be read; `remedy` says what to write instead."""

    def __init__(self, message: str, remedy: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.remedy = remedy


class InputError(StakingError):
    """Input that cannot be used; `findings` holds every mistake, in file order."""

    def __init__(self, *findings: Finding) -> None:
        super().__init__("; ".join(finding.message for finding in findings))
        self.findings = findings


class SolveError(InputError):
    """Declarations that contradict one another or leave the place of the slab open."""


class RuleError(StakingError):
    """A declared record cannot be carried out; the caller knows the record's place in the file.

    key: the field of the record that is to blame, empty for the record as a whole.
    lengths [m] take the places of {0}, {1} ... in message, written as the site writes lengths.
    """

    def __init__(
        self,
        message: str,
        *,
        key: str = "",
        remedy: str = "",
        code: str = "cannot-solve",
        lengths: tuple[float, ...] = (),
    ) -> None:
        super().__init__(message)
        self.message = message
        self.key = key
        self.remedy = remedy
        self.code = code
        self.lengths = lengths

    def words(self, write: Callable[[float], str]) -> str:
        """The message with its lengths written by `write`."""
        return self.message.format(*map(write, self.lengths)) if self.lengths else self.message


class OutputError(StakingError):
    """A folder or file that must not, or cannot, be written; nothing was changed."""

    def __init__(self, message: str, remedy: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.remedy = remedy


class PositionError(StakingError):
    """Coordinates or a coordinate system that cannot be put on the earth."""

    def __init__(self, message: str, remedy: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.remedy = remedy


def suggestion(word: str, known: Iterable[str]) -> str:
    """What the writer may have meant: the nearest known names, or all of them where none is near.

    >>> suggestion("setbak", ["setback", "lot"])
    'did you mean "setback"?'
    """
    names = sorted(set(known))
    near = get_close_matches(word.lower(), [name.lower() for name in names], n=1, cutoff=0.6)
    if near:
        meant = next(name for name in names if name.lower() == near[0])
        return f'did you mean "{meant}"?'
    if not names:
        return ""
    shown = ", ".join(f'"{name}"' for name in names[:12])
    return f"known: {shown}{', ...' if len(names) > 12 else ''}"
