"""Verbs of one site file: begin it, check it, make its files, print it, ask for room."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from staking.app.running import (
    DXF_VERSIONS,
    PATH,
    STOPPED,
    guarded,
    measured_layout,
    paper_of,
    print_findings,
    site_argument,
    solved,
    values_layout,
)
from staking.findings import Severity, worst

if TYPE_CHECKING:
    from staking.findings import Finding
    from staking.layout.computed import Layout

DELIMITERS = {"comma": ",", "semicolon": ";", "tab": "\t", "space": " "}


class _Between(click.IntRange):
    """A whole number between two others; what is none is refused in words."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> int:
        """The number. Fails with the numbers that may stand there."""
        try:
            return int(super().convert(value, param, ctx))
        except click.BadParameter:
            self.fail(f'"{value}" is none; write a whole number from {self.min} to {self.max}', param, ctx)


@click.command(short_help="write a commented site file to start from")
@click.argument("folder", type=PATH)
def new(folder: Path) -> None:
    """Write a commented site file into FOLDER, ready to run and to be changed."""
    from staking.sitefile.starter import write_starter

    path = guarded(lambda: write_starter(folder))
    click.echo(f"wrote {path}")
    click.echo(f"next: edit it, then `staking check {folder}` and `staking make {folder} --out {folder / 'out'}`")


@click.command(short_help="read, solve and check; nothing is written")
@site_argument
def check(site: Path) -> None:
    """Read SITE, solve it, and print what is found: status 0, 1 (stop) or 2 (unreadable).

    Nothing is written.
    """
    layout, findings = solved(site)
    from staking.app.screen import margin_lines
    from staking.sheets.grid_and_ground import scale_lines

    print_findings(findings)
    for line in (*margin_lines(layout), *scale_lines(layout)):
        click.echo(line)
    click.echo(_verdict(findings))
    sys.exit(STOPPED if worst(findings) == Severity.STOP else 0)


@click.command(short_help="write every file into a folder")
@site_argument
@click.option("--out", type=PATH, required=True, help="Folder to write, complete or not at all.")
@click.option(
    "--paper",
    type=click.Choice(["letter", "a4"]),
    help="Of the PDFs but the plan; left out: letter in feet, a4 in metres.",
)
@click.option(
    "--dxf", type=click.Choice(DXF_VERSIONS), default="r2000", show_default=True, help="Version of layout.dxf."
)
@click.option(
    "--columns",
    default="name,north,east,elevation,note",
    show_default=True,
    help="Of stakeout.csv, in this order; also: kind.",
)
@click.option(
    "--delimiter", type=click.Choice(list(DELIMITERS)), default="comma", show_default=True, help="Of stakeout.csv."
)
@click.option("--decimals", type=_Between(2, 6), default=4, show_default=True, help="Of stakeout.csv.")
@click.option("--header", is_flag=True, help="Give stakeout.csv a line with the names of its columns.")
@click.option(
    "--despite",
    multiple=True,
    metavar="CODE",
    help="Write stake files although this finding says stop; it is printed on every sheet.",
)
@click.option(
    "--in",
    "system",
    type=click.Choice(["given", "measured", "grid", "ground"]),
    default="given",
    show_default=True,
    help="What all coordinates are in: as in the file; in the measured system of a fit; grid or ground values.",
)
def make(site: Path, out: Path, despite: tuple[str, ...], system: str, **options: Any) -> None:
    """Write every file of SITE into a folder.

    After a stop (status 1) the checks are written and the stake files are withheld, unless every stop is named with
    --despite.
    """
    layout, findings = solved(site)
    if system == "measured":
        layout, findings = measured_layout(layout)
    elif system in ("grid", "ground"):
        layout, findings = values_layout(layout, system)
    _refuse_unknown(despite, findings)
    print_findings(findings)
    from staking.app.older_set import older_set
    from staking.exports.job import export

    asked = _options(layout, options)
    stopped = any(finding.severity == Severity.STOP and finding.code not in despite for finding in findings)
    older = older_set(layout, findings, out, site, withheld=stopped)
    written = guarded(lambda: export(layout, findings, out, options=asked, despite=despite, kept=older.keep))
    for name in (*written.files, "manifest.json"):
        click.echo(f"wrote {out / name}")
    print_findings((older.said,) if older.said else ())
    if written.withheld:
        click.echo(f"stake files withheld: {', '.join(written.withheld)}")
        sys.exit(STOPPED)
    if despite:
        click.echo(f"stake files written despite {', '.join(despite)}; every sheet says so")


@click.command(short_help="print the layout")
@site_argument
def show(site: Path) -> None:
    """Print the layout of SITE: sides, diagonals, ties, margins, and every stake with its coordinates."""
    layout, findings = solved(site)
    from staking.app.screen import show_layout
    from staking.sheets.grid_and_ground import scale_lines

    show_layout(layout)
    for line in scale_lines(layout):
        click.echo(line)
    print_findings(findings)


@click.command(short_help="where can the slab stand, how far can it go?")
@site_argument
@click.option("--json", "as_json", is_flag=True, help="Print the same as JSON.")
@click.option("--out", type=PATH, metavar="FILE", help="An .svg file to draw it in.")
def room(site: Path, *, as_json: bool, out: Path | None) -> None:
    """Where on its lot can the slab of SITE stand, turned as it is, and how far can it still go?

    Status 0: it clears; 1: it does not clear where it is, or fits nowhere; 2: SITE cannot be read.
    """
    from staking.app.room_plan import draw_room
    from staking.app.room_words import room_json, room_lines
    from staking.layout.room import room_of

    layout, _ = solved(site)
    found = room_of(layout)
    click.echo(room_json(layout, found) if as_json else "\n".join(room_lines(layout, found)))
    if out is not None:
        guarded(lambda: draw_room(layout, found, out))
        click.echo(f"wrote {out}", err=as_json)
    sys.exit(0 if found.clears else STOPPED)


@click.command(short_help="print the JSON Schema of the site file")
def schema() -> None:
    """Print the JSON Schema of the site file, for editors that complete and check TOML."""
    import json

    from staking.sitefile.schema import site_schema

    click.echo(json.dumps(site_schema(), indent=2))


def _verdict(findings: tuple[Finding, ...]) -> str:
    gravest = worst(findings)
    if gravest == Severity.STOP:
        return "stop: stake files would be withheld"
    if gravest >= Severity.WARNING:
        return "nothing stops the staking; settle the warnings first"
    return "nothing stops the staking"


def _refuse_unknown(despite: tuple[str, ...], findings: tuple[Finding, ...]) -> None:
    """A code that is no stop of this site is a slip: the stop that was meant would go unnoticed."""
    stops = {finding.code for finding in findings if finding.severity == Severity.STOP}
    for code in despite:
        if code not in stops:
            known = f"its stops: {', '.join(sorted(stops))}" if stops else "nothing says stop"
            raise click.BadParameter(f'"{code}" is no stop of this site; {known}', param_hint="--despite")


def _options(layout: Layout, given: dict[str, Any]) -> Any:
    from staking.exports import Options

    return Options(
        columns=tuple(name.strip() for name in given["columns"].split(",")),
        delimiter=DELIMITERS[given["delimiter"]],
        decimals=given["decimals"],
        header=given["header"],
        dxf_version=given["dxf"],
        paper=paper_of(layout, given),
    )
