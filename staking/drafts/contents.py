"""What does a drawing hold, in its own units, whatever format it came in?"""

from __future__ import annotations

from dataclasses import dataclass

from staking.survey.points import Point

UNIT_NAMES = ("in", "ft", "ftUS", "mm", "cm", "m")  # what a drawing may count in


@dataclass(frozen=True)
class Stroke:
    """One line as drawn: points in order, the bulge of the way from each to the next.

    closed: it leads back from the last point to the first; there are then as many bulges as points, else one fewer.
    block: the name of the block it was drawn in, empty where it stands on its own.
    """

    points: tuple[Point, ...]
    bulges: tuple[float, ...]
    closed: bool
    layer: str
    what: str
    block: str = ""


@dataclass(frozen=True)
class Unread:
    """Something that could be part of an outline and cannot be read as one."""

    layer: str
    what: str
    why: str


@dataclass(frozen=True)
class Draft:
    """A drawing. unit: one of UNIT_NAMES, empty where the file does not say; said: its words about it.

    hidden: layers that are frozen or switched off. others: what cannot be an outline, texts and the like, by layer.
    """

    form: str
    unit: str
    said: str
    strokes: tuple[Stroke, ...]
    unread: tuple[Unread, ...] = ()
    hidden: frozenset[str] = frozenset()
    others: tuple[tuple[str, str], ...] = ()


class DraftError(Exception):
    """A file that holds no drawing that can be read; remedy says what to do."""

    def __init__(self, message: str, remedy: str) -> None:
        super().__init__(message)
        self.message, self.remedy = message, remedy
