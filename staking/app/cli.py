"""The verbs of the command line: each reads its words, calls the library once, prints, and answers with a status.

Statuses: 0 done, warnings printed; 1 a finding says stop; 2 the input cannot be read or solved, or nothing could be
written. Heavy libraries are imported inside the verb that needs them, so that --help answers at once.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, TypeVar

import click

from staking.errors import InputError, OutputError, TextError
from staking.findings import Severity, as_text, worst
from staking.version import VERSION

if TYPE_CHECKING:
    from staking.field.compared import Comparison
    from staking.findings import Finding
    from staking.layout.computed import Layout

T = TypeVar("T")

STOPPED = 1
UNREADABLE = 2
DXF_VERSIONS = ("r12", "r2000", "r2004", "r2007", "r2010", "r2013", "r2018")
DELIMITERS = {"comma": ",", "semicolon": ";", "tab": "\t", "space": " "}

HELP = """Put a concrete slab in the right place on a lot.

One site file in; stakes, files for the instrument, and a sheet for tape and string out.

\b
staking new my_job            write a commented site file to start from
staking check my_job          is it readable, does the slab clear every line?
staking make my_job --out my_job/out
                              write every file, complete or not at all
staking fit my_job measured.csv
                              fit the points to those measured in another system
staking compare my_job as_set.csv
                              hold what was set, as measured, against what was computed
staking lot deed.txt          read the description of a lot, print its calls and how they close
staking points list.csv       read a list of points: what is which, and what is odd?
staking levels book.csv       reduce a level book, and say how it closes
staking levels forms.csv --site my_job
                              is the form at its heights, and what is to be raised?
staking changes old.toml my_job
                              which stakes moved from one revision to the next?
staking tape my_job tape.csv  what is out by the tape, and what to move
staking show my_job           print sides, diagonals, ties and margins
staking drawing house.dxf     what is in a drawing a slab could be taken from
staking room my_job           where can the slab stand, how far can it still go?

SITE is a site file, or a folder that holds site.toml.
"""


class _Between(click.IntRange):
    """A whole number between two others; what is none is refused in words."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> int:
        """The number. Fails with the numbers that may stand there."""
        try:
            return int(super().convert(value, param, ctx))
        except click.BadParameter:
            self.fail(f'"{value}" is none; write a whole number from {self.min} to {self.max}', param, ctx)


site_argument = click.argument("site", type=click.Path(path_type=Path), default="site.toml")


@click.group(help=HELP, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(VERSION, prog_name="staking")
def main() -> None:
    """Put a concrete slab in the right place on a lot."""


@main.command(short_help="write a commented site file to start from")
@click.argument("folder", type=click.Path(path_type=Path))
def new(folder: Path) -> None:
    """Write a commented site file into FOLDER, ready to run and to be changed."""
    from staking.sitefile.starter import write_starter

    path = _guarded(lambda: write_starter(folder))
    click.echo(f"wrote {path}")
    click.echo(f"next: edit it, then `staking check {folder}` and `staking make {folder} --out {folder / 'out'}`")


@main.command(short_help="read, solve and check; nothing is written")
@site_argument
def check(site: Path) -> None:
    """Read SITE, solve it, and print what is found: status 0, 1 (stop) or 2 (unreadable).

    Nothing is written.
    """
    layout, findings = _solved(site)
    from staking.app.screen import margin_lines
    from staking.sheets.grid_and_ground import scale_lines

    _print_findings(findings)
    for line in (*margin_lines(layout), *scale_lines(layout)):
        click.echo(line)
    click.echo(_verdict(findings))
    sys.exit(STOPPED if worst(findings) == Severity.STOP else 0)


@main.command(short_help="write every file into a folder")
@site_argument
@click.option("--out", type=click.Path(path_type=Path), required=True, help="Folder to write, complete or not at all.")
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
    layout, findings = _solved(site)
    if system == "measured":
        layout, findings = _measured(layout)
    elif system in ("grid", "ground"):
        layout, findings = _in_values(layout, system)
    _refuse_unknown(despite, findings)
    _print_findings(findings)
    from staking.app.older_set import older_set
    from staking.exports.job import export

    asked = _options(layout, options)
    stopped = any(finding.severity == Severity.STOP and finding.code not in despite for finding in findings)
    older = older_set(layout, findings, out, site, withheld=stopped)
    written = _guarded(lambda: export(layout, findings, out, options=asked, despite=despite, kept=older.keep))
    for name in (*written.files, "manifest.json"):
        click.echo(f"wrote {out / name}")
    _print_findings((older.said,) if older.said else ())
    if written.withheld:
        click.echo(f"stake files withheld: {', '.join(written.withheld)}")
        sys.exit(STOPPED)
    if despite:
        click.echo(f"stake files written despite {', '.join(despite)}; every sheet says so")


@main.command(short_help="print the layout")
@site_argument
def show(site: Path) -> None:
    """Print the layout of SITE: sides, diagonals, ties, margins, and every stake with its coordinates."""
    layout, findings = _solved(site)
    from staking.app.screen import show_layout
    from staking.sheets.grid_and_ground import scale_lines

    show_layout(layout)
    for line in scale_lines(layout):
        click.echo(line)
    _print_findings(findings)


@main.command(short_help="fit the points to those measured in another system")
@click.argument("site", type=click.Path(path_type=Path))
@click.argument("measured", type=click.Path(path_type=Path), required=False)
@click.option("--scale", is_flag=True, help="Stretch too; left out, the scale is only shown.")
@click.option("--shift-heights", is_flag=True, help="Shift elevations too; left out, the shift is only shown.")
@click.option("--leave-out", multiple=True, metavar="NAME", help="Show this pair's residual, and do not fit it.")
@click.option("--expected", metavar="LENGTH", help="Standard error of a measured coordinate; left out: 0.02 ft.")
@click.option("--unit", type=click.Choice(["m", "ft", "ftUS"]), help="Of the measured list; left out: the site's.")
@click.option("--columns", default="", help="Of a measured list without header, as name,north,east,elevation.")
@click.option("--write", "new_file", type=click.Path(path_type=Path), help="A new site file that holds the fit.")
def fit(site: Path, measured: Path | None, *, new_file: Path | None, **asked: Any) -> None:
    """Fit the points of SITE to those MEASURED (a list of points with the same names) in another system.

    Without MEASURED the [[pairs]] of SITE are fitted. Status 0: they fit; 1: something does not belong, or the fit
    cannot be used; 2: a file cannot be read. SITE is never changed; nothing is written without --write.
    """
    from staking.app.fit_words import fit_lines
    from staking.checks.fit import CHECK

    original, layout, unknown = _fitted_layout(site, measured, asked)
    findings = tuple(CHECK.run(layout))
    _print_findings(findings)
    for line in fit_lines(layout, unknown):
        click.echo(line)
    bad = worst(findings) >= Severity.STRONG
    if new_file is not None and not bad:
        _guarded(lambda: _write_fit(original, layout, new_file))
        click.echo(f"wrote {new_file}; `staking make {new_file} --in measured` writes files in the measured system")
    elif new_file is not None:
        click.echo(f"{new_file} is not written: settle what is said above first", err=True)
    sys.exit(STOPPED if bad else 0)


def _fitted_layout(site: Path, measured: Path | None, asked: dict[str, Any]) -> tuple[Any, Layout, tuple[str, ...]]:
    """The site as it stands in its file, its layout with the fit, and names of the list that it does not know."""
    from staking.app.fit_words import matched
    from staking.layout.solve import solve
    from staking.sitefile.reader import read_site

    original = _guarded(lambda: read_site(site / "site.toml" if site.is_dir() else site))
    if measured is None:
        if not original.declared.pairs:
            raise click.UsageError("SITE holds no [[pairs]]: name a list of MEASURED points")
        return original, _guarded(lambda: solve(original)), ()
    asked["unit"] = asked["unit"] or ""
    found = _guarded(lambda: matched(original, measured, **asked))
    return original, _guarded(lambda: solve(found.site)), found.unknown


def _write_fit(original: Any, layout: Layout, new: Path) -> None:
    from datetime import date

    from staking.app.fit_words import residuals_of
    from staking.sitefile.fit_declared import Recorded
    from staking.sitefile.fit_writer import fit_text, with_fit

    fitted = layout.fitted
    if fitted is None or fitted.systems is None:
        raise OutputError("there is no fit to write", "settle what is said above first")
    systems = fitted.systems
    recorded = Recorded(
        turn=systems.similarity.turn,
        scale=systems.scale,
        standard_error=systems.standard_error,
        method="least squares, turn and shift" + (" and scale" if fitted.asked.scale else ""),
        residuals={name: (left.north, left.east) for name, left in residuals_of(fitted).items()},
    )
    text = fit_text(layout.notation, fitted.asked, fitted.pairs, recorded, on=date.today())
    _write_new(new, with_fit(original, new, text))


@main.command(short_help="hold measured points against the layout")
@click.argument("site", type=click.Path(path_type=Path))
@click.argument("measured", type=click.Path(path_type=Path))
@click.option("--columns", default="", help="Of a list without header, as name,north,east,elevation,note.")
@click.option(
    "--unit", type=click.Choice(["m", "ft", "ftUS"]), help="Of the list; left out: its header's or the site's."
)
@click.option("--decimal", type=click.Choice(["point", "comma"]), help="The sign before decimals; left out: as found.")
@click.option("--limit", metavar="LENGTH", help="How far a point of unknown name may be from the one it is taken for.")
@click.option("--placed", is_flag=True, help="Judge placed concrete; left out: forms, strings and stakes.")
@click.option("--error", metavar="LENGTH", help="Standard error of a measured coordinate.")
@click.option("--error-up", metavar="LENGTH", help="Standard error of a measured height.")
@click.option("--by", help="Who measured; put on record.")
@click.option("--date", help="When; put on record.")
@click.option("--instrument", help="With what; put on record.")
@click.option("--method", help="How; put on record.")
@click.option(
    "--in",
    "system",
    type=click.Choice(["given", "measured"]),
    default="given",
    show_default=True,
    help="What the list is in: as the site file, or the measured system of its fit.",
)
@click.option("--json", "as_json", is_flag=True, help="Print the same as JSON.")
@click.option("--out", type=click.Path(path_type=Path), help="Folder of its own for the report: all files or none.")
@click.option("--paper", type=click.Choice(["letter", "a4"]), help="Of the report; left out: letter in feet, else a4.")
@click.option("--dxf", type=click.Choice(DXF_VERSIONS), default="r2000", show_default=True, help="Of as_built.dxf.")
def compare(site: Path, measured: Path, *, system: str, as_json: bool, out: Path | None, **options: Any) -> None:
    """Hold the points of MEASURED, a list of what was set, against the layout of SITE.

    Point by point off each wall line; then how the whole slab is placed, its shape, and the room to every line by the
    outline as measured. Blunders are named first, with what to do. Status 0: all is within tolerance; 1: something is
    out or in doubt; 2: a file cannot be read. Nothing is written without --out, and nothing here approves anything.
    """
    from staking.app.compare_words import compare_json, compare_lines, compared, is_out

    layout, _ = _solved(site)
    if system == "measured":
        layout, _ = _measured(layout)
    found = _guarded(lambda: compared(layout, measured, options))
    if as_json:
        click.echo(compare_json(found))
    else:
        _print_findings(found.findings)
        for line in compare_lines(found):
            click.echo(line)
    if out is not None:
        _write_as_built(found, out, options, err=as_json)
    sys.exit(STOPPED if is_out(found) else 0)


def _write_as_built(found: Comparison, out: Path, options: dict[str, Any], *, err: bool) -> None:
    """The report of a comparison; none where nothing could be compared. err: say so on standard error."""
    from staking.exports import Options
    from staking.exports.as_built import export_comparison

    if not found.deviations:
        click.echo(f"{out} is not written: settle what is said above first", err=True)
        return
    asked = Options(paper=_paper(found.layout, options), dxf_version=options["dxf"])
    written = _guarded(lambda: export_comparison(found, out, options=asked))
    for name in (*written.files, "manifest.json"):
        click.echo(f"wrote {out / name}", err=err)


@main.command(short_help="read a list of points: what is which, and what is odd?")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--site", type=click.Path(path_type=Path), help="Hold the list against the points of this site.")
@click.option("--columns", default="", help="As name,north,east,elevation,note; - for what is passed over.")
@click.option(
    "--unit", type=click.Choice(["m", "ft", "ftUS"]), help="Of the list; left out: its header's or the site's."
)
@click.option("--decimal", type=click.Choice(["point", "comma"]), help="The sign before decimals; left out: as found.")
@click.option("--write", "new_file", type=click.Path(path_type=Path), help="A new list in the order of points.csv.")
def points(file: Path, *, site: Path | None, columns: str, new_file: Path | None, **asked: str | None) -> None:
    """Read a list of points, FILE, and say what each column was taken for, why, and how sure that is.

    Status 0: nothing says no; 1: a row cannot be used, or points do not belong; 2: FILE cannot be read, or north cannot
    be told from east. FILE is never changed; nothing is written without --write.
    """
    from staking.app.points_words import points_lines, understood, write_list
    from staking.sitefile.reader import read_site

    words = {word: said or "" for word, said in asked.items()}
    known = _guarded(lambda: read_site(site / "site.toml" if site.is_dir() else site)) if site else None
    found = _guarded(lambda: understood(file, known, columns=columns, **words))
    _print_findings(found.findings)
    for line in points_lines(found):
        click.echo(line)
    bad = worst(found.findings) >= Severity.STRONG
    if new_file is not None and not bad:
        click.echo(_guarded(lambda: write_list(found, file, new_file, known)))
    elif new_file is not None:
        click.echo(f"{new_file} is not written: settle what is said above first", err=True)
    sys.exit(STOPPED if bad else 0)


@main.command(short_help="read the description of a lot in words")
@click.argument("description", type=click.Path(path_type=Path))
@click.option("--toml", "out", type=click.Path(path_type=Path), help="Write the calls as [lot] tables into a new file.")
def lot(description: Path, out: Path | None) -> None:
    """Read a lot's DESCRIPTION in words (a text file) and print its calls.

    Behind each call stand the words it came from; whatever could not be read is listed with its place. Where every
    call is whole, the closure, the area and the likeliest slip follow. Status 0: all was read; 1: something was not,
    or the calls do not close or make no lot; 2: the file cannot be read.
    """
    from staking.app.described import closing, words_of
    from staking.sitefile.descriptions.reading import read_description
    from staking.sitefile.descriptions.report import as_report
    from staking.sitefile.descriptions.toml import as_toml

    file = str(description)
    read = read_description(_guarded(lambda: words_of(description)), file=file)
    click.echo(as_report(read), nl=False)
    gravest = worst(read.findings)
    if read.complete and not read.refused:
        lines, found = closing(read, file)
        for line in lines:
            click.echo(line)
        _print_findings(found)
        gravest = max(gravest, worst(found))
    if out is not None:
        _guarded(lambda: _write_new(out, as_toml(read)))
        click.echo(f"wrote {out}")
    sys.exit(0 if read.complete and gravest < Severity.STRONG else STOPPED)


def _write_new(path: Path, text: str) -> None:
    """A text into a file that must not be there yet."""
    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError:
        raise OutputError(f"{path} is there already", "name a new file") from None
    except OSError as error:
        remedy = "name a new file in a folder that you may write to"
        raise OutputError(f"{path} cannot be written: {error.strerror or error}", remedy) from None


@main.command(short_help="what is in a drawing a slab could be taken from?")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--unit", type=click.Choice(["in", "ft", "ftUS", "mm", "cm", "m"]), help="Of its numbers.")
@click.option("--join", default="", help="How far apart ends of loose lines may be that meet, for example 1/8 in.")
def drawing(file: Path, unit: str | None, join: str) -> None:
    """Print what is in FILE, a DXF or GeoJSON drawing, and a [slab] to paste into a site file.

    Status 0; 2: FILE cannot be read.
    """
    from staking.app.drawn import drawing_lines

    for line in _guarded(lambda: list(drawing_lines(file, unit or "", join))):
        click.echo(line)


@main.command(short_help="reduce a level book and say how it closes")
@click.argument("book", type=click.Path(path_type=Path))
@click.option("--start", metavar="LENGTH", help="Elevation of the first point, where the book does not hold it.")
@click.option("--unit", type=click.Choice(["m", "ft", "ftUS"]), help="Of bare numbers, where the header does not say.")
@click.option("--rod", metavar="LENGTH", help="How long the rod is; left out: as the site says, else 13 ft.")
@click.option("--adjust", type=click.Choice(["none", "set-ups", "distance"]), default="none", show_default=True)
@click.option(
    "--class",
    "grade",
    type=click.Choice(["second order class 1", "second order class 2", "third order", "ordinary"]),
    help="Of the allowed misclosure; it needs distances.",
)
@click.option("--allowed", metavar="LENGTH", help="The allowed misclosure itself.")
@click.option("--pegs", metavar="TEXT", help='A two-peg test: "1.875@50 1.790@50 1.630@10 1.560@110".')
@click.option("--correct", is_flag=True, help="Correct every reading by --pegs; the book must hold all distances.")
@click.option("--site", type=click.Path(path_type=Path), help="Hold the marks of this site's form against design.")
@click.option("--within", metavar="LENGTH", help="With --site: how far a mark may be off; left out: 1/2 in.")
@click.option(
    "--level-within",
    multiple=True,
    metavar="TEXT",
    help='With --site: "1/4 in over 10 ft" between any two marks; again for another distance.',
)
def levels(book: Path, *, pegs: str | None, site: Path | None, **options: Any) -> None:
    """Reduce a level BOOK (a CSV file with a header: point, backsight, intermediate, foresight).

    Heights by the height of instrument and by rise and fall, the sums that check the arithmetic, the misclosure beside
    what is allowed, and the reading that is the likeliest to be wrong. With --site the points named as marks of the
    form are held against their design heights: how far off, how level, what to raise; BOOK may then also be a list
    name,reading from one set-up with the benchmark first, or a list name,elevation. Status 0; 1: something does not
    agree or is out; 2: BOOK cannot be read.
    """
    from staking.app.level_words import level_lines, notation_of, peg_lines, run_of
    from staking.checks.levels import level_findings

    options["pegs"] = pegs
    _refuse_lonely(site, options)
    if site is not None:
        _levels_set(book, site, options)
    run = _guarded(lambda: run_of(book, options))
    lines = [*level_lines(run), *(_guarded(lambda: tuple(peg_lines(pegs, run))) if pegs else ())]
    for line in lines:
        click.echo(line)
    found = tuple(level_findings(run, notation_of(run)))
    _print_findings(found)
    sys.exit(STOPPED if worst(found) >= Severity.STRONG else 0)


def _refuse_lonely(site: Path | None, options: dict[str, Any]) -> None:
    """An option without the other that it needs is a slip."""
    if options["correct"] and not options["pegs"]:
        raise click.UsageError("--correct needs the two-peg test, --pegs")
    if site is None and (options["within"] or options["level_within"]):
        raise click.UsageError("--within and --level-within need --site")


def _levels_set(book: Path, site: Path, options: dict[str, Any]) -> None:
    """Print the form against design, and end."""
    from staking.app.level_words import peg_lines
    from staking.app.levels_set_words import set_lines, set_of

    layout, _ = _solved(site)
    found = _guarded(lambda: set_of(book, layout, options))
    run, pegs = found.run, options["pegs"]
    lines = [*set_lines(found), *(_guarded(lambda: tuple(peg_lines(pegs, run))) if pegs and run else ())]
    for line in lines:
        click.echo(line)
    _print_findings(found.findings)
    sys.exit(STOPPED if worst(found.findings) >= Severity.STRONG or found.out else 0)


@main.command(short_help="which stakes moved from one revision to the next?")
@click.argument("old", type=click.Path(path_type=Path))
@click.argument("new", type=click.Path(path_type=Path))
@click.option("--out", type=click.Path(path_type=Path), help="A folder for the sheet, complete or not at all.")
@click.option("--json", "as_json", is_flag=True, help="Print the same as JSON.")
def changes(old: Path, new: Path, *, out: Path | None, as_json: bool) -> None:
    """Which stakes moved from OLD to NEW, how far, which are new or gone, and which must be pulled?

    OLD and NEW: a site file, a folder that holds site.toml, a layout.json, or a folder that `make` wrote. Status 0:
    what stands on the ground can stay, names and all; 1: something is to be pulled, set, named or marked anew, a given
    point changed, or NEW says stop; 2: a file cannot be read, the two cannot be compared, or nothing could be written.
    """
    from staking.app.changes_words import changes_json, changes_lines, write_changes
    from staking.app.revisions import compared, loaded

    found = _guarded(lambda: compared(loaded(old), loaded(new)))
    if as_json:
        click.echo(changes_json(found))
    else:
        _print_findings(found.findings)
        for line in changes_lines(found):
            click.echo(line)
    if out is not None and found.new.stops:
        stops = ", ".join(found.new.stops)
        click.echo(f"no sheet is written, for the new revision says stop ({stops}): settle that first", err=True)
    elif out is not None:
        for name in _guarded(lambda: write_changes(found, out)):
            click.echo(f"wrote {out / name}", err=as_json)
    sys.exit(STOPPED if found.to_do or found.new.stops else 0)


@main.command(short_help="what is out by the tape, and what to move?")
@site_argument
@click.argument("readings", type=click.Path(path_type=Path), required=False)
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
def tape(site: Path, readings: Path | None, **asked: Any) -> None:
    """Hold taped READINGS (a CSV file with a header: from, to, reading) against SITE.

    Each reading corrected, the corners by all of them, the reading that does not belong, and the shortest instruction
    that cures the form. Status 0: all is within what may differ; 1: something is out or does not belong; 2: a file
    cannot be read.
    """
    layout, _ = _solved(site)
    if asked["blank"] or asked["wanted"]:
        from staking.app.tape_words import blank_lines, set_lines

        wanted = asked["wanted"]
        lines = _guarded(lambda: list(set_lines(layout, wanted, asked) if wanted else blank_lines(layout)))
        click.echo("\n".join(lines))
        return
    if readings is None:
        raise click.UsageError("name a book of READINGS, or ask for --blank or --set")
    _held_against(layout, readings, asked)


def _held_against(layout: Layout, readings: Path, asked: dict[str, Any]) -> None:
    """What a book of readings says of a layout, printed, and the status."""
    from staking.app.tape_words import tape_json, tape_lines, taped_of
    from staking.field.tape_findings import tape_findings

    taped = _guarded(lambda: taped_of(layout, readings, asked))
    found = tuple(tape_findings(taped))
    click.echo(tape_json(taped) if asked["as_json"] else "\n".join(tape_lines(taped)))
    if not asked["as_json"]:
        _print_findings(found)
    sys.exit(STOPPED if worst(found) >= Severity.STRONG else 0)


@main.command(short_help="where can the slab stand, how far can it go?")
@site_argument
@click.option("--json", "as_json", is_flag=True, help="Print the same as JSON.")
@click.option("--out", type=click.Path(path_type=Path, dir_okay=False), help="An .svg file to draw it in.")
def room(site: Path, *, as_json: bool, out: Path | None) -> None:
    """Where on its lot can the slab of SITE stand, turned as it is, and how far can it still go?

    Status 0: it clears; 1: it does not clear where it is, or fits nowhere; 2: SITE cannot be read.
    """
    from staking.app.room_plan import draw_room
    from staking.app.room_words import room_json, room_lines
    from staking.layout.room import room_of

    layout, _ = _solved(site)
    found = room_of(layout)
    click.echo(room_json(layout, found) if as_json else "\n".join(room_lines(layout, found)))
    if out is not None:
        _guarded(lambda: draw_room(layout, found, out))
        click.echo(f"wrote {out}", err=as_json)
    sys.exit(0 if found.clears else STOPPED)


@main.command(short_help="print the JSON Schema of the site file")
def schema() -> None:
    """Print the JSON Schema of the site file, for editors that complete and check TOML."""
    import json

    from staking.sitefile.schema import site_schema

    click.echo(json.dumps(site_schema(), indent=2))


def _solved(site: Path) -> tuple[Layout, tuple[Finding, ...]]:
    """A site read, solved and checked; every mistake printed and status 2 where that cannot be."""
    from staking.checks import check as run_checks
    from staking.layout.solve import solve
    from staking.sitefile.reader import read_site

    layout = _guarded(lambda: solve(read_site(site / "site.toml" if site.is_dir() else site)))
    return layout, run_checks(layout)


def _measured(layout: Layout) -> tuple[Layout, tuple[Finding, ...]]:
    """The layout in the measured system; what is wrong with the fit printed and status 2 where that cannot be."""
    from staking.checks import check as run_checks
    from staking.layout.other_system import in_measured

    if layout.fitted is not None and layout.fitted.systems is None:
        _print_findings(tuple(found for found in run_checks(layout) if found.code == "fit-refused"))
    carried = _guarded(lambda: in_measured(layout))
    return carried, run_checks(carried)


def _in_values(layout: Layout, values: str) -> tuple[Layout, tuple[Finding, ...]]:
    """The layout in grid or ground values."""
    from staking.checks import check as run_checks
    from staking.layout.grid_or_ground import in_values

    carried = _guarded(lambda: in_values(layout, "grid" if values == "grid" else "ground"))
    return carried, run_checks(carried)


def _guarded(call: Callable[[], T]) -> T:
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


def _print_findings(findings: tuple[Finding, ...]) -> None:
    for finding in findings:
        click.echo(as_text(finding), err=finding.severity == Severity.STOP)


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
        paper=_paper(layout, given),
    )


def _paper(layout: Layout, given: dict[str, Any]) -> Literal["letter", "a4"]:
    """The paper asked for, else the usual one where the site's unit is."""
    asked: Literal["letter", "a4"] | None = given["paper"]
    return asked or ("a4" if layout.site.unit.name == "m" else "letter")
