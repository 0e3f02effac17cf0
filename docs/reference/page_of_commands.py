"""What can be typed on the command line? The program's own help, verb by verb."""

from __future__ import annotations

import click
from click.testing import CliRunner
from page_of_site_file import table

from staking.app.cli import main
from staking.app.running import STOPPED, UNREADABLE

HEAD = """# The command line

`staking VERB ...`. `SITE` is a site file, or a folder that holds `site.toml`; left out, it is `site.toml` in the folder
where you are. Findings of severity stop, and mistakes, go to standard error; everything else to standard output."""

STATUSES = (
    ("0", "Done. Notes and warnings were printed."),
    (
        str(STOPPED),
        "A finding says stop. `check` writes nothing at all; `make` writes the checks and withholds the stake files. "
        "`show` prints the layout, stop or not, and answers 0.",
    ),
    (
        str(UNREADABLE),
        "The site file cannot be read or solved, nothing could be written into the folder, or the command was typed "
        "wrong. Nothing was written.",
    ),
)


def commands_page() -> str:
    """The page: statuses, then the help of the program and of each verb."""
    parts = [HEAD, "## Exit statuses", table(("status", "meaning"), STATUSES), "## `staking`", _help()]
    for verb in sorted(main.commands):
        parts.extend((f"## `staking {verb}`", _help(verb)))
    return "\n\n".join(parts)


def _help(*verb: str) -> str:
    """The help as a terminal of 80 columns shows it."""
    shown = CliRunner().invoke(main, [*verb, "--help"], prog_name="staking", color=False)
    if shown.exit_code:
        raise click.ClickException(f"staking {' '.join(verb)} --help answers {shown.exit_code}")
    return f"```text\n{shown.output.rstrip()}\n```"
