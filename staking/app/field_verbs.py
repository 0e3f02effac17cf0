"""Verbs of the field: what was set, by coordinates or by tape, and what a new drawing moves."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from staking.app.running import (
    PATH,
    STOPPED,
    guarded,
    measured_layout,
    print_findings,
    put_on_record,
    record_option,
    report_options,
    site_argument,
    solved,
    write_as_built,
)
from staking.findings import Severity, worst

if TYPE_CHECKING:
    from staking.field.tape_check import Taped
    from staking.findings import Finding
    from staking.layout.computed import Layout


@click.command(short_help="hold measured points against the layout")
@click.argument("site", type=PATH)
@click.argument("measured", type=PATH)
@click.option("--columns", default="", help="Of a list without header, as name,north,east,elevation,note.")
@click.option(
    "--unit", type=click.Choice(["m", "ft", "ftUS"]), help="Of the list; left out: its header's or the site's."
)
@click.option("--decimal", type=click.Choice(["point", "comma"]), help="The sign before decimals; left out: as found.")
@click.option("--limit", metavar="LENGTH", help="How far a point of unknown name may be from the one it is taken for.")
@click.option("--placed", is_flag=True, help="Judge placed concrete; left out: forms, strings and stakes.")
@click.option("--error", metavar="LENGTH", help="Standard error of a measured coordinate.")
@click.option("--error-up", metavar="LENGTH", help="Standard error of a measured height.")
@click.option(
    "--in",
    "system",
    type=click.Choice(["given", "measured"]),
    default="given",
    show_default=True,
    help="What the list is in: as the site file, or the measured system of its fit.",
)
@click.option("--json", "as_json", is_flag=True, help="Print the same as JSON.")
@report_options
def compare(site: Path, measured: Path, *, system: str, as_json: bool, **options: Any) -> None:
    """Hold the points of MEASURED, a list of what was set, against the layout of SITE.

    Point by point off each wall line; then how the whole slab is placed, its shape, and the room to every line by the
    outline as measured. Blunders are named first, with what to do. Status 0: all is within tolerance; 1: something is
    out or in doubt, or a corner was not measured; 2: a file cannot be read. Nothing is written without --out,
    and nothing here approves anything.
    """
    from staking.app.compare_words import compare_json, compare_lines, compared, is_out
    from staking.app.fit_first import not_compared, of_fit, stopped, with_fit

    layout, _ = solved(site)
    fit: tuple[Finding, ...] = ()
    if system == "measured":
        layout, findings = measured_layout(layout)
        fit = of_fit(findings)
    if stopped(fit):
        found = not_compared(layout, measured, fit)
    else:
        found = with_fit(guarded(lambda: compared(layout, measured, options)), fit)
    if as_json:
        click.echo(compare_json(found))
    else:
        print_findings(found.findings)
        for line in compare_lines(found):
            click.echo(line)
    if options["out"] is not None:
        write_as_built(found, measured, options, verb="compare", err=as_json)
    sys.exit(STOPPED if is_out(found) else 0)


@click.command(short_help="what is out by the tape, and what to move?")
@site_argument
@click.argument("readings", type=PATH, required=False)
@click.option(
    "--hold", multiple=True, metavar="CORNERS", help="Corners or a side that must not move: 101,102 or front."
)
@click.option("--blank", is_flag=True, help="Print an empty book with the rows to measure for SITE.")
@click.option("--set", "wanted", metavar="LENGTH", help="What to pull on this tape, today, to set a level distance.")
@click.option("--temperature", metavar="TEXT", help="Of the tape, where a row does not say: 95 F.")
@click.option("--pull", metavar="TEXT", help="On the tape, where a row does not say: 12 lb.")
@click.option("--support", metavar="TEXT", help="ground, ends, or a number of equal spans, where a row does not say.")
@click.option("--rise", metavar="LENGTH", help="With --set: from one end of the tape to the other.")
@click.option("--error", metavar="LENGTH", help="Standard error of a reading; left out: by [instrument], or class II.")
@click.option("--json", "as_json", is_flag=True, help="Print the same as JSON.")
@record_option
@report_options
def tape(site: Path, readings: Path | None, **asked: Any) -> None:
    """Hold taped READINGS (a CSV file with a header: from, to, reading) against SITE.

    Each reading corrected, the corners by all of them, the reading that does not belong, and the shortest instruction
    that cures the form. With --out the corners are held against SITE as `staking compare` does, and reported; that
    needs ties. Status 0: all is within what may differ; 1: something is out or does not belong; 2: a file
    cannot be read.
    """
    layout, _ = solved(site)
    if asked["out"] is not None and (asked["blank"] or asked["wanted"]):
        raise click.UsageError("--out goes with a book of READINGS, not with --blank or --set")
    if asked["blank"] or asked["wanted"]:
        from staking.app.tape_words import blank_lines, set_lines

        wanted = asked["wanted"]
        lines = guarded(lambda: list(set_lines(layout, wanted, asked) if wanted else blank_lines(layout)))
        click.echo("\n".join(lines))
        return
    if readings is None:
        raise click.UsageError("name a book of READINGS, or ask for --blank or --set")
    _held_against(layout, readings, asked)


def _held_against(layout: Layout, readings: Path, asked: dict[str, Any]) -> None:
    """What a book of readings says of a layout, printed, and the status."""
    from staking.app.tape_words import tape_json, tape_lines, taped_of, to_settle, whole_of
    from staking.field.tape_findings import tape_findings

    taped = guarded(lambda: taped_of(layout, readings, asked))
    put_on_record(readings, "tape", layout, asked["record"])
    whole = whole_of(taped)
    by_lengths = tuple(tape_findings(taped))
    told = any(each.code == "tape-out" for each in by_lengths)  # then its moves are told below
    found = (*(each for each in to_settle(whole) if not told or each.severity == Severity.STOP), *by_lengths)
    if not asked["as_json"]:
        print_findings(found)
    click.echo(tape_json(taped) if asked["as_json"] else "\n".join(tape_lines(taped, whole)))
    written = asked["out"] is None or _report_by_tape(taped, readings, asked)
    out = whole is not None and any(line.answer == "out" for line in whole.verdict)
    sys.exit(STOPPED if out or not written or worst(found) >= Severity.STRONG else 0)


def _report_by_tape(taped: Taped, readings: Path, asked: dict[str, Any]) -> bool:
    """The report of the corners by tape; where the readings do not place the slab, why there is none, and False."""
    from staking.app.tape_words import how_taped
    from staking.errors import TextError
    from staking.field.by_tape import compared_by_tape

    try:
        found = compared_by_tape(taped, how_taped(taped, readings, asked))
    except TextError as error:
        click.echo(f"{asked['out']} is not written: {error.message}; {error.remedy}", err=True)
        return False
    write_as_built(found, readings, asked, verb="tape", err=asked["as_json"])
    return True


@click.command(short_help="which stakes moved from one revision to the next?")
@click.argument("old", type=PATH)
@click.argument("new", type=PATH)
@click.option("--out", type=PATH, help="A folder for the sheet, complete or not at all.")
@click.option("--json", "as_json", is_flag=True, help="Print the same as JSON.")
def changes(old: Path, new: Path, *, out: Path | None, as_json: bool) -> None:
    """Which stakes moved from OLD to NEW, how far, which are new or gone, and which must be pulled?

    OLD and NEW: a site file, a folder that holds site.toml, a layout.json, or a folder that `make` wrote. Status 0:
    what stands on the ground can stay, names and all; 1: something is to be pulled, set, named or marked anew, a given
    point changed, or NEW says stop; 2: a file cannot be read, the two cannot be compared, or nothing could be written.
    """
    from staking.app.changes_words import changes_json, changes_lines, write_changes
    from staking.app.revisions import compared, loaded

    found = guarded(lambda: compared(loaded(old), loaded(new)))
    if as_json:
        click.echo(changes_json(found))
    else:
        print_findings(found.findings)
        for line in changes_lines(found):
            click.echo(line)
    if found.new.stops:
        stops, sheet = ", ".join(found.new.stops), "no sheet is written, for " * (out is not None)
        click.echo(f"{sheet}the new revision says stop ({stops}): settle that first", err=True)
    elif out is not None:
        for name in guarded(lambda: write_changes(found, out)):
            click.echo(f"wrote {out / name}", err=as_json)
    sys.exit(STOPPED if found.to_do or found.new.stops else 0)
