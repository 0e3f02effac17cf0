"""What the program has to say about a site: a code, how bad it is, where, and what to do about it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum


class Severity(IntEnum):
    """How bad a finding is, mildest first, so that `max` picks the worst."""

    NOTE = 0
    WARNING = 1
    STRONG = 2
    STOP = 3

    @property
    def words(self) -> str:
        """The severity as people read it."""
        return ("note", "warning", "strong warning", "stop")[self]


@dataclass(frozen=True, slots=True)
class Place:
    """Where in a file something stands. line and column count from 1; 0 where they are not known."""

    file: str
    line: int = 0
    column: int = 0
    key: str = ""
    source: str = ""  # the line itself, as written
    width: int = 1  # how many characters of it are meant

    def __str__(self) -> str:
        """file:line:column, as editors jump to it."""
        parts = [self.file, *(str(n) for n in (self.line, self.column) if n)]
        return ":".join(parts)


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to know. message stands alone on one line; remedy says what to write or do instead."""

    code: str
    severity: Severity
    message: str
    place: Place | None = None
    remedy: str = ""


def worst(findings: tuple[Finding, ...]) -> Severity:
    """The gravest severity among findings; NOTE where there are none."""
    return max((finding.severity for finding in findings), default=Severity.NOTE)


def as_text(finding: Finding) -> str:
    """A finding as printed: place, key, message; then the marked source line; then the remedy.

    >>> print(as_text(Finding("margin-thin", Severity.WARNING, "only 0.3 ft to spare", remedy="move it")))
    warning: only 0.3 ft to spare [margin-thin]
      -> move it
    """
    place = finding.place
    where = f"{place}: " if place and place.file else ""
    key = f"{place.key}: " if place and place.key else ""
    lines = [f"{where}{finding.severity.words}: {key}{finding.message} [{finding.code}]"]
    if place and place.source:
        lines.append(f"  | {place.source}")
        if place.column:
            lines.append("  | " + " " * (place.column - 1) + "^" * max(1, place.width))
    lines.extend(f"  -> {line}" for line in finding.remedy.splitlines())
    return "\n".join(lines)
