"""The verbs of the command line: each reads its words, calls the library once, prints, and answers with a status.

Heavy libraries are imported inside the verb that needs them, so that --help answers at once.
"""

from __future__ import annotations

import click

from staking.app import field_verbs, file_verbs, site_verbs
from staking.version import VERSION

HELP = """Put a concrete slab in the right place on a lot.

One site file in; stakes, files for the instrument, and a sheet for tape and string out.

\b
staking new my_job            write a commented site file to start from
staking check my_job          is it readable, does the slab clear every line?
staking room my_job           where can the slab stand, how far can it still go?
staking make my_job --out my_job/out
                              write every file, complete or not at all
staking show my_job           print sides, diagonals, ties and margins

\b
staking compare my_job as_set.csv
                              what was set, as measured, against what was computed
staking tape my_job tape.csv  what is out by the tape, and what to move
staking levels forms.csv --site my_job
                              is the form at its heights, and what is to be raised?
staking changes old.toml my_job
                              which stakes moved from one revision to the next?

\b
staking lot deed.txt          read the description of a lot, print its calls and how they close
staking points list.csv       read a list of points: what is which, and what is odd?
staking drawing house.dxf     what is in a drawing a slab could be taken from
staking levels book.csv       reduce a level book, and say how it closes
staking fit my_job measured.csv
                              fit the points to those measured in another system

SITE is a site file, or a folder that holds site.toml.
"""


@click.group(help=HELP, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(VERSION, prog_name="staking")
def main() -> None:
    """Put a concrete slab in the right place on a lot."""


VERBS = (
    site_verbs.new,
    site_verbs.check,
    site_verbs.make,
    site_verbs.show,
    site_verbs.room,
    site_verbs.schema,
    file_verbs.fit,
    file_verbs.points,
    file_verbs.lot,
    file_verbs.drawing,
    file_verbs.levels,
    field_verbs.compare,
    field_verbs.tape,
    field_verbs.changes,
)

for verb in VERBS:
    main.add_command(verb)
