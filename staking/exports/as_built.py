"""Which files does a comparison make? One visible line a file, and one function that writes them all or none."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path, PurePath
from typing import TYPE_CHECKING

from staking.errors import PositionError
from staking.exports import Options
from staking.exports.bundle import MANIFEST, check_folder, write_bundle
from staking.exports.job import Written
from staking.exports.layout_json import frame_facts
from staking.exports.measured_log import Log, append, read, taken
from staking.field.compared import Comparison
from staking.version import VERSION

if TYPE_CHECKING:
    from staking.sheets.page import Sheet

VERB = "compare"


@dataclass(frozen=True)
class MadeComparison:
    """What the files are made from; the sheet is put together once, for print and for the screen."""

    comparison: Comparison
    options: Options
    log: Log = field(default_factory=Log)  # of measurement files, beside the report

    @cached_property
    def sheet(self) -> Sheet:
        """The report."""
        from staking.sheets.as_built import as_built_sheet  # noqa: PLC0415 - opened when needed

        return as_built_sheet(self.comparison, self.log.words(self.comparison.layout.site.fingerprint))


@dataclass(frozen=True, slots=True)
class AsBuiltFile:
    """One file. positioned: it needs a place on the earth, and is left out where there is none."""

    name: str
    make: Callable[[MadeComparison], bytes]
    positioned: bool = False


def _pdf(made: MadeComparison) -> bytes:
    from staking.exports.pdf import pdf  # noqa: PLC0415 - opened when needed

    return pdf(made.sheet, made.options.paper)


def _html(made: MadeComparison) -> bytes:
    from staking.exports.html import html  # noqa: PLC0415 - opened when needed

    return html(made.sheet).encode("utf-8")


def _csv(made: MadeComparison) -> bytes:
    from staking.exports.as_built_csv import as_built_csv  # noqa: PLC0415 - opened when needed

    return as_built_csv(made.comparison)


def _geojson(made: MadeComparison) -> bytes:
    from staking.exports.as_built_geojson import as_built_geojson  # noqa: PLC0415 - opened when needed

    return as_built_geojson(made.comparison)


def _dxf(made: MadeComparison) -> bytes:
    from staking.exports.as_built_dxf import as_built_dxf  # noqa: PLC0415 - opened when needed

    return as_built_dxf(made.comparison, version=made.options.dxf_version)


AS_BUILT: tuple[AsBuiltFile, ...] = (
    AsBuiltFile("as_built.pdf", _pdf),
    AsBuiltFile("as_built.html", _html),
    AsBuiltFile("as_built.csv", _csv),
    AsBuiltFile("as_built.geojson", _geojson, positioned=True),
    AsBuiltFile("as_built.dxf", _dxf),
)


def export_comparison(
    comparison: Comparison,
    folder: Path,
    *,
    options: Options | None = None,
    content: bytes | None = None,
    verb: str = VERB,
) -> Written:
    """Write every file of a comparison, complete or not at all.

    The folder must be one of its own. content: of the measured file; it goes into the log of the folder first, so that
    the report can say what it was made from. verb: that took it in. Raises OutputError where the folder cannot be
    written, or holds what another verb wrote.
    """
    check_folder(folder, (*(each.name for each in AS_BUILT), MANIFEST), verb)
    if content is not None:
        append(folder, taken(comparison.how.file, content, verb, comparison.layout.site))
    made = MadeComparison(comparison, options or Options(), read(folder))
    files = {}
    for asked in AS_BUILT:
        try:
            files[asked.name] = asked.make(made)
        except PositionError:
            if not asked.positioned:
                raise
    write_bundle(folder, files, _record(comparison, verb))
    return Written(folder, tuple(files), ())


def _record(comparison: Comparison, verb: str) -> dict[str, object]:
    """What the manifest says beside the files: what was held against what."""
    layout, how = comparison.layout, comparison.how
    return {
        "verb": verb,
        "version": VERSION,
        "site": layout.site.declared.site.name,
        "revision": layout.site.revision,
        **frame_facts(layout),
        "site_file": {"name": PurePath(layout.site.file).name, "sha256": layout.site.fingerprint},
        "measured_file": {"name": PurePath(how.file).name, "sha256": how.fingerprint},
        "measured_by": how.by,
        "measured_on": how.date,
        "verdict": [{"text": each.text, "answer": each.answer} for each in comparison.verdict],
    }
