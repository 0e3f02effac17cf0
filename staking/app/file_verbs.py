"""Verbs that read what others give: lists of points, descriptions of lots, drawings, level books."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from staking.app.running import (
    PATH,
    STOPPED,
    guarded,
    print_findings,
    put_on_record,
    record_option,
    site_file,
    solved,
    write_new,
)
from staking.errors import OutputError
from staking.findings import Severity, worst

if TYPE_CHECKING:
    from staking.layout.computed import Layout


@click.command(short_help="fit the points to those measured in another system")
@click.argument("site", type=PATH)
@click.argument("measured", type=PATH, required=False)
@click.option("--scale", is_flag=True, help="Stretch too; left out, the scale is only shown.")
@click.option("--shift-heights", is_flag=True, help="Shift elevations too; left out, the shift is only shown.")
@click.option("--leave-out", multiple=True, metavar="NAME", help="Show this pair's residual, and do not fit it.")
@click.option("--expected", metavar="LENGTH", help="Standard error of a measured coordinate; left out: 0.02 ft.")
@click.option("--unit", type=click.Choice(["m", "ft", "ftUS"]), help="Of the measured list; left out: the site's.")
@click.option("--columns", default="", help="Of a measured list without header, as name,north,east,elevation.")
@click.option("--write", "new_file", type=PATH, help="A new site file that holds the fit.")
def fit(site: Path, measured: Path | None, *, new_file: Path | None, **asked: Any) -> None:
    """Fit the points of SITE to those MEASURED (a list of points with the same names) in another system.

    Without MEASURED the [[pairs]] of SITE are fitted. Status 0: they fit; 1: something does not belong, or the fit
    cannot be used; 2: a file cannot be read. SITE is never changed; nothing is written without --write.
    """
    from staking.app.fit_words import fit_lines
    from staking.checks.fit import CHECK

    original, layout, unknown = _fitted_layout(site, measured, asked)
    findings = tuple(CHECK.run(layout))
    print_findings(findings)
    for line in fit_lines(layout, unknown):
        click.echo(line)
    bad = worst(findings) >= Severity.STRONG
    if new_file is not None and not bad:
        guarded(lambda: _write_fit(original, layout, new_file))
        click.echo(f"wrote {new_file}; `staking make {new_file} --in measured` writes files in the measured system")
    elif new_file is not None:
        click.echo(f"{new_file} is not written: settle what is said above first", err=True)
    sys.exit(STOPPED if bad else 0)


def _fitted_layout(site: Path, measured: Path | None, asked: dict[str, Any]) -> tuple[Any, Layout, tuple[str, ...]]:
    """The site as it stands in its file, its layout with the fit, and names of the list that it does not know."""
    from staking.app.fit_words import matched
    from staking.layout.solve import solve
    from staking.sitefile.reader import read_site

    original = guarded(lambda: read_site(site_file(site)))
    if measured is None:
        if not original.declared.pairs:
            raise click.UsageError("SITE holds no [[pairs]]: name a list of MEASURED points")
        return original, guarded(lambda: solve(original)), ()
    asked["unit"] = asked["unit"] or ""
    found = guarded(lambda: matched(original, measured, **asked))
    return original, guarded(lambda: solve(found.site)), found.unknown


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
    write_new(new, with_fit(original, new, text))


@click.command(short_help="read a list of points: what is which, and what is odd?")
@click.argument("file", type=PATH)
@click.option("--site", type=PATH, help="Hold the list against the points of this site.")
@click.option("--columns", default="", help="As name,north,east,elevation,note; - for what is passed over.")
@click.option(
    "--unit", type=click.Choice(["m", "ft", "ftUS"]), help="Of the list; left out: its header's or the site's."
)
@click.option("--decimal", type=click.Choice(["point", "comma"]), help="The sign before decimals; left out: as found.")
@click.option("--write", "new_file", type=PATH, help="A new list in the order of points.csv.")
def points(file: Path, *, site: Path | None, columns: str, new_file: Path | None, **asked: str | None) -> None:
    """Read a list of points, FILE, and say what each column was taken for, why, and how sure that is.

    Status 0: nothing says no; 1: a row cannot be used, or points do not belong; 2: FILE cannot be read, or north cannot
    be told from east. FILE is never changed; nothing is written without --write.
    """
    from staking.app.points_words import points_lines, understood, write_list
    from staking.sitefile.reader import read_site

    words = {word: said or "" for word, said in asked.items()}
    known = guarded(lambda: read_site(site_file(site))) if site else None
    found = guarded(lambda: understood(file, known, columns=columns, **words))
    print_findings(found.findings)
    for line in points_lines(found):
        click.echo(line)
    bad = worst(found.findings) >= Severity.STRONG
    if new_file is not None and not bad:
        click.echo(guarded(lambda: write_list(found, file, new_file, known)))
    elif new_file is not None:
        click.echo(f"{new_file} is not written: settle what is said above first", err=True)
    sys.exit(STOPPED if bad else 0)


@click.command(short_help="read the description of a lot in words")
@click.argument("description", type=PATH)
@click.option("--toml", "out", type=PATH, help="Write the calls as [lot] tables into a new file.")
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
    read = read_description(guarded(lambda: words_of(description)), file=file)
    click.echo(as_report(read), nl=False)
    gravest = worst(read.findings)
    if read.complete and not read.refused:
        lines, found = closing(read, file)
        for line in lines:
            click.echo(line)
        print_findings(found)
        gravest = max(gravest, worst(found))
    if out is not None:
        guarded(lambda: write_new(out, as_toml(read)))
        click.echo(f"wrote {out}")
    sys.exit(0 if read.complete and gravest < Severity.STRONG else STOPPED)


@click.command(short_help="what is in a drawing a slab could be taken from?")
@click.argument("file", type=PATH)
@click.option("--unit", type=click.Choice(["in", "ft", "ftUS", "mm", "cm", "m"]), help="Of its numbers.")
@click.option("--join", default="", help="How far apart ends of loose lines may be that meet, for example 1/8 in.")
def drawing(file: Path, unit: str | None, join: str) -> None:
    """Print what is in FILE, a DXF or GeoJSON drawing, and a [slab] to paste into a site file.

    Status 0; 2: FILE cannot be read.
    """
    from staking.app.drawn import drawing_lines

    for line in guarded(lambda: list(drawing_lines(file, unit or "", join))):
        click.echo(line)


@click.command(short_help="reduce a level book and say how it closes")
@click.argument("book", type=PATH)
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
@click.option("--site", type=PATH, help="Hold the marks of this site's form against design.")
@click.option("--within", metavar="LENGTH", help="With --site: how far a mark may be off; left out: 1/2 in.")
@click.option(
    "--level-within",
    multiple=True,
    metavar="TEXT",
    help='With --site: "1/4 in over 10 ft" between any two marks; again for another distance.',
)
@record_option
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
    run = guarded(lambda: run_of(book, options))
    put_on_record(book, "levels", None, options["record"])
    lines = [*level_lines(run), *(guarded(lambda: tuple(peg_lines(pegs, run))) if pegs else ())]
    for line in lines:
        click.echo(line)
    found = tuple(level_findings(run, notation_of(run)))
    print_findings(found)
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

    layout, _ = solved(site)
    found = guarded(lambda: set_of(book, layout, options))
    put_on_record(book, "levels", layout, options["record"])
    run, pegs = found.run, options["pegs"]
    lines = [*set_lines(found), *(guarded(lambda: tuple(peg_lines(pegs, run))) if pegs and run else ())]
    for line in lines:
        click.echo(line)
    print_findings(found.findings)
    sys.exit(STOPPED if worst(found.findings) >= Severity.STRONG or found.out else 0)
