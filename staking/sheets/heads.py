"""The head and foot that all sheets share: whose job, which revision, which file it was made from, in which unit."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import PurePath

from staking.findings import Finding, Severity
from staking.layout.computed import Layout
from staking.layout.other_system import ground_words, system_words

FOOT_WORDS = {
    "m": "metres",
    "ft": "feet (international foot, 0.3048 m)",
    "ftUS": "US survey feet (1200/3937 m)",
}


def facts(layout: Layout) -> tuple[tuple[str, str], ...]:
    """Label and value pairs; those the site file leaves empty are left out."""
    about = layout.site.declared.site
    pairs = (
        ("Job", about.name),
        ("Address", about.address),
        ("Lot", about.lot),
        ("Owner", about.owner),
        ("Prepared by", about.prepared_by),
        ("Revision", layout.site.revision),
        ("Date", about.date.isoformat() if about.date else ""),
        ("Lengths", f"{FOOT_WORDS[layout.site.unit.name]}, on the ground, level"),
        ("Coordinates", frame_words(layout)),
        ("Site file", f"{PurePath(layout.site.file).name}, fingerprint {short_fingerprint(layout)}"),
    )
    return tuple((label, value) for label, value in pairs if value)


def frame_words(layout: Layout) -> str:
    """Which coordinates the file holds, in words."""
    words, known = system_words(layout), _known(layout)
    return f"{words}; {known}" if words else known


def _known(layout: Layout) -> str:
    stated = layout.site.declared.coordinates
    if stated is None or not stated.crs:
        map_words = "; the map layout.geojson is approximate" if layout.site.declared.on_earth else ""
        return f"local, assumed{map_words}"
    if stated.values == "ground":
        made = ground_words(layout)
        return f"ground values, system {stated.crs}{f'; {made}' if made else ''}"
    return f"{stated.crs}, grid values, combined factor {layout.frame.factor:.8g}"


def short_fingerprint(layout: Layout) -> str:
    """The first twelve digits of the site file's SHA-256."""
    return layout.site.fingerprint[:12]


def foot(layout: Layout) -> str:
    """What stands at the foot of every page."""
    about = layout.site.declared.site
    return (
        f"{about.name} | revision {layout.site.revision} | site file {short_fingerprint(layout)} | "
        "not a boundary survey"
    )


def overruled(despite: Sequence[str]) -> str:
    """The warning on every page of a sheet that was made although something said stop."""
    return f"MADE DESPITE: {', '.join(despite)}. Read the findings before anything is driven." if despite else ""


def finding_lines(findings: Sequence[Finding], least: Severity) -> tuple[str, ...]:
    """Findings at least so grave, one a line, each with what to do, or where it is the same as in the line above."""
    shown = [finding for finding in findings if finding.severity >= least]
    return tuple(_line(*pair) for pair in zip(shown, [None, *shown], strict=False))


def _line(finding: Finding, before: Finding | None) -> str:
    alike = before is not None and (before.code, before.remedy) == (finding.code, finding.remedy)
    to_do = "As above." if alike and finding.remedy else _sentence(finding.remedy)
    return f"{finding.severity.words.upper()}: {finding.message}. {to_do} [{finding.code}]"


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{'; '.join(text[1:].splitlines()).rstrip('.')}." if text else ""
