"""How does a fit go into a new site file, with everything that stands in the old one kept as it is?"""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

from staking.errors import OutputError
from staking.notation import Notation
from staking.sitefile.declared import Site
from staking.sitefile.fit_declared import FitAsked, Pair, Recorded
from staking.sitefile.text import decode, read_bytes

DECIMALS = 6  # of measured coordinates in the site's unit


def with_fit(site: Site, new: Path, text: str) -> str:
    """The site file's own text, comments and all, with the fit behind it.

    Raises OutputError where the file holds a fit already, or where its point files would not be found from the new
    one's folder.
    """
    if site.declared.fit is not None or site.declared.pairs:
        raise OutputError(
            "the site file holds [fit] or [[pairs]] already", "take them out of a copy, and fit that copy anew"
        )
    if site.sources and Path(site.file).resolve().parent != new.resolve().parent:
        raise OutputError(
            "the site file names point files, which are looked for beside it", "name a new file in the same folder"
        )
    old = decode(read_bytes(Path(site.file)), site.file)
    return f"{old.rstrip()}\n\n{text}"


def fit_text(notation: Notation, asked: FitAsked, pairs: tuple[Pair, ...], recorded: Recorded, *, on: date) -> str:
    """The tables [fit], [fit.recorded] and [[pairs]], lengths in the site's unit. on: the date of the fit."""

    def number(metres: float) -> str:
        return notation.decimal(metres, DECIMALS)

    lines = [
        "# The points as they were measured in another system; written by `staking fit`.",
        "[fit]",
        f"date = {on.isoformat()}",
        f"source = {_text(asked.source)}",
        f"scale = {str(asked.scale).lower()}",
        f"heights = {_text(asked.heights)}",
        f"expected = {number(asked.expected)}",
        "",
        "[fit.recorded]",
        f"turn = {recorded.turn:.9f}",
        f"scale = {recorded.scale:.10f}",
        *([] if (error := recorded.standard_error) is None else [f"standard_error = {number(error)}"]),
        f"method = {_text(recorded.method)}",
        "",
        "[fit.recorded.residuals]  # measured less fitted: north, east",
        *(f"{_text(name)} = [{number(n)}, {number(e)}]" for name, (n, e) in recorded.residuals.items()),
    ]
    for pair in pairs:
        lines += ["", "[[pairs]]", f"point = {_text(pair.point)}"]
        lines += [f"north = {number(pair.north)}", f"east = {number(pair.east)}"]
        lines += [f"elevation = {number(pair.elevation)}"] if pair.elevation is not None else []
        lines += [] if pair.use else ["use = false"]
    return "\n".join(lines) + "\n"


def _text(words: str) -> str:
    """A basic string of TOML; what JSON escapes, TOML escapes alike."""
    return json.dumps(words, ensure_ascii=False)
