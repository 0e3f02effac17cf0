"""What do the reference pages say? They are made from the program itself, so that they cannot tell anything else.

    python docs/reference/generate.py            write the pages
    python docs/reference/generate.py --check    status 1 where a page is not what it would be
"""

from __future__ import annotations

import inspect
import sys
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from types import MappingProxyType

import click
from click.testing import CliRunner
from pages import findings, site_file
from pages.words import table

from staking.app.cli import STOPPED, UNREADABLE, main
from staking.drawing.layers import LAYERS
from staking.exports import EXPORTS, Export
from staking.exports.bundle import MANIFEST
from staking.exports.points_csv import COLUMNS, STAKEOUT_COLUMNS

FOLDER = Path(__file__).parent
MADE = "<!-- Made by docs/reference/generate.py; change the program or that file, not this page. -->"
