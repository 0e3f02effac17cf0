"""What every verb does alike: read and solve a site, print what is found, write a new file, end with a status.

Statuses: 0 done, warnings printed; 1 a finding says stop; 2 the input cannot be read or solved, or nothing could be
written.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, TypeVar

import click

from staking.errors import InputError, OutputError, TextError
from staking.findings import Severity, as_text

if TYPE_CHECKING:
    from staking.field.compared import Comparison
    from staking.findings import Finding
    from staking.layout.computed import Layout

T = TypeVar("T")
F = TypeVar("F", bound=Callable[..., Any])

STOPPED = 1
UNREADABLE = 2
DXF_VERSIONS = ("r12", "r2000", "r2004", "r2007", "r2010", "r2013", "r2018")

PATH = click.Path(path_type=Path, readable=False)  # what is wrong with one is said where it is opened

site_argument = click.argument("site", type=PATH, default="site.toml")


def site_file(site: Path) -> Path:
    """The site file that a path means: itself, or the one in the folder that it is."""
    return site / "site.toml" if os.path.isdir(site) else site


def write_new(path: Path, text: str) -> None:
    """A text into a file that must not be there yet."""
    from staking.sitefile.new_file import new_file

    with new_file(path) as file:
        file.write(text.encode("utf-8"))


def solved(site: Path) -> tuple[Layout, tuple[Finding, ...]]:
    """A site read, solved and checked; every mistake printed and status 2 where that cannot be."""
    from staking.checks import check as run_checks
    from staking.layout.solve import solve
    from staking.sitefile.reader import read_site

    layout = guarded(lambda: solve(read_site(site_file(site))))
    return layout, run_checks(layout)


def measured_layout(layout: Layout) -> tuple[Layout, tuple[Finding, ...]]:
    """The layout in the measured system; what is wrong with the fit printed and status 2 where that cannot be."""
    from staking.checks import check as run_checks
    from staking.layout.other_system import in_measured

    if layout.fitted is not None and layout.fitted.systems is None:
        print_findings(tuple(found for found in run_checks(layout) if found.code == "fit-refused"))
    carried = guarded(lambda: in_measured(layout))
    return carried, run_checks(carried)


def values_layout(layout: Layout, values: str) -> tuple[Layout, tuple[Finding, ...]]:
    """The layout in grid or ground values."""
    from staking.checks import check as run_checks
    from staking.layout.grid_or_ground import in_values

    carried = guarded(lambda: in_values(layout, "grid" if values == "grid" else "ground"))
    return carried, run_checks(carried)


def guarded(call: Callable[[], T]) -> T:
    """The call's answer; what it refuses is printed, and the program ends with status 2."""
    try:
        return call()
    except InputError as error:
        for finding in error.findings:
            click.echo(as_text(finding), err=True)
        count = len(error.findings)
        click.echo(f"{count} mistake{'s' if count != 1 else ''}; nothing was written", err=True)
    except (OutputError, TextError) as error:
        click.echo(f"error: {error.message}", err=True)
        if error.remedy:
            click.echo(f"  -> {error.remedy}", err=True)
    sys.exit(UNREADABLE)


def print_findings(findings: tuple[Finding, ...]) -> None:
    """Every finding; those that say stop on standard error."""
    for finding in findings:
        click.echo(as_text(finding), err=finding.severity == Severity.STOP)


def paper_of(layout: Layout, given: dict[str, Any]) -> Literal["letter", "a4"]:
    """The paper asked for, else the usual one where the site's unit is."""
    asked: Literal["letter", "a4"] | None = given["paper"]
    return asked or ("a4" if layout.site.unit.name == "m" else "letter")


record_option = click.option("--record", type=PATH, help="Folder whose log, measured.jsonl, is to name the file.")


def content_of(path: Path) -> bytes:
    """All that is in a file which was read before. Raises InputError where it cannot be read any more."""
    from staking.sitefile.text import opened

    with opened(path) as file:
        return file.read()


def put_on_record(path: Path, verb: str, layout: Layout | None, folder: Path | None) -> None:
    """A measurement file that was read goes into the log of a folder, where one is asked for."""
    from staking.exports.measured_log import LOG, append, taken

    if folder is not None:
        content = guarded(lambda: content_of(path))
        guarded(lambda: append(folder, taken(path.name, content, verb, layout.site if layout else None)))
        click.echo(f"{path} is on record in {folder / LOG}", err=True)


_REPORT = (
    click.option("--by", help="Who measured; put on record."),
    click.option("--date", help="When; put on record."),
    click.option("--instrument", help="With what; put on record."),
    click.option("--method", help="How; put on record."),
    click.option("--out", type=PATH, help="Folder of its own for the report."),
    click.option("--paper", type=click.Choice(["letter", "a4"]), help="Left out: letter for a site in feet."),
    click.option("--dxf", type=click.Choice(DXF_VERSIONS), default="r2000", show_default=True, help="Of as_built.dxf."),
)


def report_options(command: F) -> F:
    """The options of a verb that writes an as-built report."""
    for option in reversed(_REPORT):
        command = option(command)
    return command


def write_as_built(found: Comparison, measured: Path, options: dict[str, Any], *, verb: str, err: bool) -> None:
    """The report of a comparison; none where nothing could be compared. err: say so on standard error."""
    from staking.exports import Options
    from staking.exports.as_built import export_comparison

    out: Path = options["out"]
    if not found.deviations:
        click.echo(f"{out} is not written: settle what is said above first", err=True)
        return
    asked = Options(paper=paper_of(found.layout, options), dxf_version=options["dxf"])
    content = guarded(lambda: content_of(measured))
    written = guarded(lambda: export_comparison(found, out, options=asked, content=content, verb=verb))
    for name in (*written.files, "manifest.json"):
        click.echo(f"wrote {out / name}", err=err)
